/** How much of a box its conductors and devices take up, by the counting rules of the National Electrical Code, 314.16(B). */

import { areaOf } from '../judging/units.js';
import type { ConductorSize } from '../model.js';
import { boxAllowances, lineLimitTable } from '../regions/line-limits.js';

/** What a box holds, as the counting rules have it. Conductors wholly inside and pigtails are not in it. */
export interface BoxContents {
  /** One for each conductor that enters, grounds aside. */
  readonly conductors: readonly ConductorSize[];
  readonly grounds: readonly ConductorSize[];
  /** Of each device on a yoke, the largest conductor connected to it. */
  readonly yokes: readonly ConductorSize[];
  readonly clamps: boolean;
}

export interface FillTerm {
  readonly what: 'conductors' | 'grounds' | 'devices' | 'clamps';
  /** Allowances: 4, 1, 2, 0.25. */
  readonly count: number;
  readonly size: ConductorSize;
  readonly cubicInches: number;
}

export interface BoxFill {
  readonly terms: readonly FillTerm[];
  readonly cubicInches: number;
}

/** Undefined where a conductor is thicker than the table goes. */
export function boxFill(contents: BoxContents): BoxFill | undefined {
  const all = [...contents.conductors, ...contents.grounds, ...contents.yokes];
  if (all.some((size) => allowanceOf(size) === undefined)) return undefined;
  const terms: FillTerm[] = [];
  const put = (what: FillTerm['what'], count: number, size: ConductorSize): void => {
    terms.push({ what, count, size, cubicInches: count * allowanceOf(size)! });
  };
  for (const [size, count] of counted(contents.conductors)) put('conductors', count, size);
  const ground = largest(contents.grounds);
  if (ground !== undefined) put('grounds', groundAllowances(contents.grounds.length), ground);
  for (const [size, count] of counted(contents.yokes)) {
    put('devices', count * lineLimitTable.yokeAllowances.by['north-america'].value, size);
  }
  const inBox = largest([...contents.conductors, ...contents.grounds]);
  if (contents.clamps && inBox !== undefined) {
    put('clamps', lineLimitTable.clampAllowances.by['north-america'].value, inBox);
  }
  return { terms, cubicInches: terms.reduce((sum, term) => sum + term.cubicInches, 0) };
}

/** One for up to four, and a quarter for each beyond. */
function groundAllowances(count: number): number {
  const once = lineLimitTable.groundsCountedOnce.by['north-america'].value;
  return 1 + Math.max(0, count - once) * lineLimitTable.furtherGround.by['north-america'].value;
}

/** By the table's row of the same thickness or the next thicker one; conductors thinner than it count as its thinnest. */
function allowanceOf(size: ConductorSize): number | undefined {
  const area = areaOf(size);
  return boxAllowances.find(({ awg }) => areaOf({ kind: 'awg', awg }) >= area * 0.999)?.cubicInches;
}

function largest(sizes: readonly ConductorSize[]): ConductorSize | undefined {
  return sizes.reduce<ConductorSize | undefined>(
    (most, size) => (most === undefined || areaOf(size) > areaOf(most) ? size : most),
    undefined,
  );
}

/** Thickest first. */
function counted(sizes: readonly ConductorSize[]): readonly (readonly [ConductorSize, number])[] {
  const bySize = new Map<number, [ConductorSize, number]>();
  for (const size of sizes) {
    const known = bySize.get(areaOf(size));
    if (known) known[1]++;
    else bySize.set(areaOf(size), [size, 1]);
  }
  return [...bySize].sort(([one], [other]) => other - one).map(([, row]) => row);
}
