/** The house with one hypothesis in it and some contacts held, solved: volts, amps and what they lean on. */

import { type BranchEdit, EditableNetwork, type EditedNetwork, magnitude } from '@ohmstead/circuit';
import type { House, HouseBranch } from './house.js';
import type { Nuisance } from './nuisances.js';
import { sound } from './practice.js';

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
  /** Bypass kits that never let go. */
  readonly latched?: ReadonlySet<number>;
}

export const SOUND: Variant = { share: 1, changes: [] };

/** What loads draw bends volts too much for one straight line: they are gone through in so many steps. */
const DRAWS = [1 / 6, 1 / 2, 5 / 6] as const;
/** Half a step, and a little, for several loads in different ones. */
const DRAW_HALF = 0.22;
const SOUND_AT: ReadonlyMap<number, Variant> = new Map(
  DRAWS.map((draw) => [draw, { share: 1 / DRAWS.length, changes: [], draw }]),
);

/** A variant as one for each step of what the loads draw, where the house has loads of which that is not known. */
export function withDraws(house: House, variants: readonly Variant[]): readonly Variant[] {
  const isOpen = house.loads.some((branch) => {
    const { idle = 0, peak = 0 } = house.branches[branch]!.element?.draws ?? {};
    return !isSounder(house, branch) && peak > 1.1 * idle;
  });
  if (!isOpen) return variants;
  return variants.flatMap((variant) =>
    DRAWS.map((draw) =>
      variant === SOUND ? SOUND_AT.get(draw)! : { ...variant, share: variant.share / DRAWS.length, draw },
    ),
  );
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

/** Currents that stand in for a whole half-width of what is not known for sure: by nuisance (-1 is the hypothesis's own spread), branch, amps. */
export interface Pushes {
  readonly nuisances: readonly number[];
  readonly branches: readonly number[];
  readonly re: readonly number[];
  readonly im: readonly number[];
}

export interface Operating {
  readonly network: EditedNetwork;
  /** Loads that run. */
  readonly running: ReadonlySet<number>;
  readonly pushes: Pushes;
  /** Volts by which figures may be off because a load may as well hold as let go; none where all is clear. */
  readonly doubt: number;
}

const MOST_ROUNDS = 25;
const SETTLED = 1e-3;
const UNSETTLED = 0.02;
/** A load that holds with less than this share of the volts it would have without drawing, or this near its least, may as well let go. */
const HELD_FROM = 0.6;
const CLEAR_OF_LEAST = 1.15;
/** Half the width of what is then possible, as a share of those volts. */
const DOUBT = 0.5;
const NO_AMPS = 1e-7;

/** Siemens of ohms and reactance, as a branch of the network has them. */
function figuresOf(ohms: number, reactance: number, emf: { re: number; im: number }): Omit<BranchEdit, 'branch'> {
  const square = ohms * ohms + reactance * reactance;
  return { re: ohms / square, im: -reactance / square, emfRe: emf.re, emfIm: emf.im };
}

export class Operation {
  readonly network: EditableNetwork;
  /** As an ohm-meter has it, with what it can't tell left out, and with that let everything through. */
  readonly #dcMost: EditableNetwork;
  readonly #dcLeast: EditableNetwork;
  readonly #kept = new Map<Variant, Map<string, Operating>>();

  constructor(
    readonly house: House,
    readonly nuisances: readonly Nuisance[],
  ) {
    const { nodes, branches } = house;
    const live = (branch: HouseBranch) => ({
      a: branch.a,
      b: branch.b,
      ...figuresOf(branch.ohms, branch.reactance, branch.emf),
    });
    const dead = (unknown: number) => (branch: HouseBranch) => ({
      a: branch.a,
      b: branch.b,
      ...figuresOf(branch.dc === 'unknown' ? unknown : branch.dc, 0, { re: 0, im: 0 }),
    });
    this.network = new EditableNetwork(nodes.length, branches.map(live));
    this.#dcMost = new EditableNetwork(nodes.length, branches.map(dead(sound.open)));
    this.#dcLeast = new EditableNetwork(nodes.length, branches.map(dead(1)));
  }

  live(variant: Variant, { pressed, bridged, key }: Live): Operating {
    let states = this.#kept.get(variant);
    if (states === undefined) {
      states = new Map();
      this.#kept.set(variant, states);
    }
    let known = states.get(key);
    if (known === undefined) {
      known = this.#isAsSound(variant, pressed)
        ? this.live(SOUND_AT.get(variant.draw ?? Number.NaN) ?? SOUND, { pressed, bridged, key })
        : this.#operate(variant, pressed, bridged);
      states.set(key, known);
    }
    return known;
  }

  /** Whether a variant is about nothing but contacts that are as they should be in this state. */
  #isAsSound(variant: Variant, pressed: readonly string[]): boolean {
    if (
      variant === SOUND ||
      SOUND_AT.get(variant.draw ?? Number.NaN) === variant ||
      variant.changes.length > 0 ||
      variant.ringsWired !== undefined ||
      variant.latched !== undefined
    )
      return false;
    const isMade = (branch: number): boolean => {
      const { contact } = this.house.branches[branch]!;
      return pressed.includes(contact!.name) === contact!.madeWhenActuated;
    };
    for (const branch of variant.made?.keys() ?? []) if (isMade(branch)) return false;
    for (const branch of variant.unmade?.keys() ?? []) if (!isMade(branch)) return false;
    return true;
  }

  /** Ohms from a to b with the supplies' leads lifted: with what a meter can't tell left out, and let through. */
  ohms(
    variant: Variant,
    a: number,
    b: number,
  ): { readonly most: number; readonly least: number; readonly own: number } {
    const edits = this.#edits(variant, [], []).flatMap((edit): BranchEdit[] => {
      const { kind, dc, ohms, reactance } = this.house.branches[edit.branch]!;
      if (kind === 'winding') return [];
      const isOpen = Math.hypot(edit.re, edit.im) < 2 / sound.open;
      const isUsual = kind === 'coil' || kind === 'load' || kind === 'lamp';
      if (!isUsual || isOpen) return [{ ...edit, im: 0, emfRe: 0, emfIm: 0 }];
      // What it is for DC goes down with what it is for AC, by the same factor.
      const factor = 1 / (Math.hypot(edit.re, edit.im) * Math.hypot(ohms, reactance));
      return dc === 'unknown' ? [] : [{ branch: edit.branch, ...figuresOf(dc * factor, 0, { re: 0, im: 0 }) }];
    });
    const most = this.#dcMost.edited(edits);
    const least = this.#dcLeast.edited(edits);
    const branches = variant.spread?.branches ?? [];
    const volts = new Float64Array(branches.length);
    most.across(a, b, branches, volts, new Float64Array(branches.length));
    let own = 0;
    branches.forEach((branch, k) => {
      own += volts[k]! * volts[k]! * most.figures(branch).re * variant.spread!.share;
    });
    return { most: Math.max(most.ohms(a, b).re, 0), least: Math.max(least.ohms(a, b).re, 0), own };
  }

  #edits(variant: Variant, pressed: readonly string[], bridged: readonly string[]): BranchEdit[] {
    const { house } = this;
    const edits = new Map<number, BranchEdit>();
    const put = (branch: number, ohms: number, reactance = 0, emf = 1): void => {
      const was = house.branches[branch]!.emf;
      edits.set(branch, { branch, ...figuresOf(ohms, reactance, { re: was.re * emf, im: was.im * emf }) });
    };
    for (const branch of house.contacts) {
      const { contact, element } = house.branches[branch]!;
      const isThere = variant.ringsWired?.get(element!.part) ?? element!.present;
      const made = isThere && pressed.includes(contact!.name) === contact!.madeWhenActuated;
      const ohms = made ? (variant.made?.get(branch) ?? sound.contact) : variant.unmade?.get(branch);
      if (ohms !== undefined && (made || isThere)) put(branch, ohms);
    }
    for (const name of bridged) {
      const branch = house.bridges.get(name);
      if (branch !== undefined) put(branch, sound.bridge);
    }
    for (const { branch, ohms, reactance, emf } of variant.changes) put(branch, ohms, reactance, emf);
    return [...edits.values()];
  }

  #operate(variant: Variant, pressed: readonly string[], bridged: readonly string[]): Operating {
    const { house } = this;
    const edits = this.#edits(variant, pressed, bridged);
    const changed = new Set(variant.changes.map(({ branch }) => branch));
    const loads = house.loads.filter((branch) => !changed.has(branch));
    const running = new Set<number>();
    const isActed = pressed.length + bridged.length > 0;
    const solve = (more: readonly BranchEdit[]): EditedNetwork => this.network.edited([...edits, ...more]);
    let network = solve([]);
    const across = (branch: number): number => {
      const { a, b } = house.branches[branch]!;
      return magnitude(network.volts(a, b));
    };
    const volts = new Map<number, number>();
    for (const branch of loads) {
      const size = across(branch);
      if (size < lowestVolts(house.branches[branch]!)) continue;
      running.add(branch);
      volts.set(branch, size);
    }
    const unloaded = new Map(volts);
    let moved = Number.POSITIVE_INFINITY;
    for (let round = 0; running.size > 0 && round < MOST_ROUNDS; round++) {
      network = solve(
        [...running].map((branch) => this.#asImpedance(branch, volts.get(branch)!, isActed, variant.draw)),
      );
      moved = 0;
      for (const branch of [...running]) {
        const size = across(branch);
        moved = Math.max(moved, Math.abs(size - volts.get(branch)!) / Math.max(size, 1e-9));
        volts.set(branch, size);
        if (size < lowestVolts(house.branches[branch]!)) running.delete(branch);
      }
      if (moved < SETTLED) break;
    }
    // Loads that find no rest ask more than there is: they let go.
    if (moved >= UNSETTLED) running.clear();
    // A load that let go is still in the last solution.
    network = solve([...running].map((branch) => this.#asImpedance(branch, volts.get(branch)!, isActed, variant.draw)));
    const doubted = Math.max(
      0,
      ...[...unloaded].map(([branch, open]) => {
        const held = running.has(branch) ? volts.get(branch)! : 0;
        return held < HELD_FROM * open || held < CLEAR_OF_LEAST * lowestVolts(house.branches[branch]!) ? open : 0;
      }),
    );
    const latched = this.#withLetGo(variant, network);
    if (latched.length > 0) {
      network = solve([
        ...latched,
        ...[...running].map((branch) => this.#asImpedance(branch, volts.get(branch)!, isActed, variant.draw)),
      ]);
    }
    return { network, running, pushes: this.#pushes(variant, network), doubt: DOUBT * doubted };
  }

  /** A load at the volts it has, as the ohms that draw the same; a chime's peak follows its button. */
  #asImpedance(branch: number, volts: number, isPressed: boolean, share?: number): BranchEdit {
    const { element } = this.house.branches[branch]!;
    const draw = drawOf(this.house, branch, isPressed, share);
    const siemens = element?.draws?.unit === 'A' ? draw / volts : draw / (volts * volts);
    return { branch, re: siemens, im: 0, emfRe: 0, emfIm: 0 };
  }

  #withLetGo(variant: Variant, network: EditedNetwork): readonly BranchEdit[] {
    return this.house.bypasses.flatMap((branch): BranchEdit[] => {
      const { element } = this.house.branches[branch]!;
      const limit = element?.element.kind === 'bypass' ? element.element.opensAbove : undefined;
      if (limit === undefined || variant.latched?.has(branch)) return [];
      if (magnitude(network.amps(branch)) <= limit) return [];
      return [{ branch, ...figuresOf(sound.open, 0, { re: 0, im: 0 }) }];
    });
  }

  /** Half a step of what a load draws, as a share; undefined where it is not gone through in steps. */
  #drawSpread({ draw }: Variant, branch: number): number | undefined {
    const { kind, element } = this.house.branches[branch]!;
    if (draw === undefined || kind !== 'load' || isSounder(this.house, branch)) return undefined;
    const { idle = 0, peak = 0 } = element?.draws ?? {};
    const middle = idle + (peak - idle) * draw;
    return middle > 0 ? Math.max(((peak - idle) * DRAW_HALF) / middle, 0.1) : undefined;
  }

  #pushes(variant: Variant, network: EditedNetwork): Pushes {
    const pushes = { nuisances: [] as number[], branches: [] as number[], re: [] as number[], im: [] as number[] };
    const put = (nuisance: number, branch: number, ohms: number, emf: number): void => {
      const push = pushOf(network, branch, ohms, emf);
      if (push === undefined) return;
      pushes.nuisances.push(nuisance);
      pushes.branches.push(branch);
      pushes.re.push(push.re);
      pushes.im.push(push.im);
    };
    this.nuisances.forEach(({ effects }, nuisance) => {
      for (const { branch, ohms = 0, emf = 0 } of effects)
        put(nuisance, branch, this.#drawSpread(variant, branch) ?? ohms, emf);
    });
    for (const branch of variant.spread?.branches ?? []) put(-1, branch, variant.spread!.share, 0);
    return pushes;
  }
}

/** The current that stands in for more ohms or more EMF in a branch. */
function pushOf(
  network: EditedNetwork,
  branch: number,
  ohms: number,
  emf: number,
): { re: number; im: number } | undefined {
  const amps = network.amps(branch);
  const { re, im, emfRe, emfIm } = network.figures(branch);
  const pushRe = amps.re * ohms + (re * emfRe - im * emfIm) * emf;
  const pushIm = amps.im * ohms + (re * emfIm + im * emfRe) * emf;
  return Math.abs(pushRe) + Math.abs(pushIm) < NO_AMPS ? undefined : { re: pushRe, im: pushIm };
}

function lowestVolts({ element }: HouseBranch): number {
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
