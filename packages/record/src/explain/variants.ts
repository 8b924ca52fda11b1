/** One hypothesis's ways to be, and the states that a house is in. */

import { keptWith } from '../analyse/lazily.js';
import type { House, HouseBranch } from './house.js';

/** A branch at other figures, in all states. */
export interface Change {
  readonly branch: number;
  readonly ohms: number;
  readonly reactance?: number;
  /** Factor on its EMF. */
  readonly emf?: number;
}

/** One way a hypothesis may be: a step of its severity. `share` is its weight within the hypothesis. */
export interface Variant {
  readonly share: number;
  readonly changes: readonly Change[];
  /** Ohms of contacts when made and when not, where these are not as they should be. */
  readonly made?: ReadonlyMap<number, number>;
  readonly unmade?: ReadonlyMap<number, number>;
  /** Half the step's width, as a share of ohms, of the branches that it is about. */
  readonly spread?: { readonly branches: readonly number[]; readonly share: number };
  /** Branches of coils that do nothing whatever their volts. */
  readonly stuck?: ReadonlySet<number>;
  /** Parts whose ring contact is there, or not, against what is recorded. */
  readonly ringsWired?: ReadonlyMap<string, boolean>;
  /** Nothing feeds the supply: healthy mains speak against it. */
  readonly off?: true;
  /** Where between their least and most the loads draw, 0..1; halfway, and anywhere between, when absent. */
  readonly draw?: number;
  /** Diodes the wrong way round. */
  readonly reversed?: ReadonlySet<number>;
  /** Bypass kits that never let go. */
  readonly latched?: ReadonlySet<number>;
  /** The same one with its draw left open. */
  readonly undrawn?: Variant;
  /** One that is the same in series with it: nothing tells them apart but a probe on these nodes between. */
  readonly alike?: { readonly variant: Variant; readonly between: readonly number[] };
}

export const SOUND: Variant = { share: 1, changes: [] };

/** What loads draw bends volts too much for one straight line: they are gone through in so many steps. */
const DRAWS = [1 / 6, 1 / 2, 5 / 6] as const;
/** Half a step, and a little, for several loads in different ones. */
const DRAW_HALF = 0.22;
const SOUND_AT: ReadonlyMap<number, Variant> = new Map(
  DRAWS.map((draw) => [draw, { share: 1 / DRAWS.length, changes: [], draw, undrawn: SOUND }]),
);

/** A sound house at the same step of what loads draw. */
export function soundAt({ draw }: Variant): Variant {
  return draw === undefined ? SOUND : (SOUND_AT.get(draw) ?? SOUND);
}

/** Half a step of what a load draws, as a share; undefined where it is not gone through in steps. */
export function spreadOfDraw(house: House, branch: number, draw: number): number | undefined {
  const { kind, element } = house.branches[branch]!;
  if (kind !== 'load' || isSounder(house, branch)) return undefined;
  const { idle = 0, peak = 0 } = element?.draws ?? {};
  const middle = idle + (peak - idle) * draw;
  return middle > 0 ? Math.max(((peak - idle) * DRAW_HALF) / middle, 0.1) : undefined;
}

/** A variant as one for each step of what the loads draw, where the house has loads of which that is not known. */
export function withDraws(house: House, variants: readonly Variant[]): readonly Variant[] {
  if (!house.loads.some((branch) => isOpenLoad(house, branch))) return variants;
  return variants.flatMap((variant) => (variant === SOUND ? [...SOUND_AT.values()] : drawn(variant)));
}

const drawn = keptWith((variant: Variant): readonly Variant[] => {
  const alike = variant.alike && { ...variant.alike, each: drawn(variant.alike.variant) };
  return DRAWS.map((draw, k): Variant => {
    const one = { ...variant, share: variant.share / DRAWS.length, draw, undrawn: variant };
    return alike ? { ...one, alike: { variant: alike.each[k]!, between: alike.between } } : one;
  });
});

/** What it draws is not known beforehand. */
export function isOpenLoad(house: House, branch: number): boolean {
  const { idle = 0, peak = 0 } = house.branches[branch]!.element?.draws ?? {};
  return !isSounder(house, branch) && peak > 1.1 * idle;
}

export interface Live {
  readonly pressed: readonly string[];
  readonly bridged: readonly string[];
  readonly key: string;
}

export function liveAs(pressed: readonly string[], bridged: readonly string[] = []): Live {
  return { pressed, bridged, key: `${[...pressed].sort().join('\n')}\t${[...bridged].sort().join('\n')}` };
}

export const IDLE: Live = liveAs([]);

/** Below these volts a load lets go. */
export function lowestVolts({ element }: HouseBranch): number {
  return Math.max(element?.staysOnFrom ?? 0, 0.5);
}

/** What a load draws: a sounder at rest or at its peak; anything else somewhere between its draws. */
export function drawOf(house: House, branch: number, isPressed: boolean, share = 0.5): number {
  const { element } = house.branches[branch]!;
  const { idle = 0, peak = 0 } = element?.draws ?? {};
  if (isSounder(house, branch)) return isPressed ? peak : idle;
  return idle + (peak - idle) * share;
}

export function isSounder(house: House, branch: number): boolean {
  const { element } = house.branches[branch]!;
  return house.analysis.parts.get(element?.part ?? '')?.role === 'chime';
}
