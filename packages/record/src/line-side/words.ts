/** What every finding of the line side ends in, and small words it needs. */

import { amps, sizeWords } from '../judging/units.js';
import { quote } from '../judging/words.js';
import type { ConductorSize } from '../model.js';
import { regionOf } from '../regions/regions.js';
import type { Branch } from './line-side.js';

/** The line side is never worked on by what a program says. */
export const DEFERS =
  'Isolate the circuit and prove it dead before opening anything; local code and a licensed electrician decide.';

/** "`kitchen-circuit` (circuit 7, 15 A)". */
export function branchWords({ part }: Branch): string {
  const { circuit, breakerAmps } = part.facts;
  const known = [
    ...(circuit === undefined ? [] : [`circuit ${circuit}`]),
    ...(breakerAmps === undefined ? [] : [amps(breakerAmps)]),
  ];
  return known.length === 0 ? quote(part.name) : `${quote(part.name)} (${known.join(', ')})`;
}

const CUBIC_CM_PER_INCH = 2.54 ** 3;

export function inCubicInches(cubicCentimetres: number): number {
  return cubicCentimetres / CUBIC_CM_PER_INCH;
}

/** "15.5". */
export function cubicInches(value: number): string {
  return String(Number(value.toFixed(2)));
}

/** "4 x 14 AWG". */
export function timesSize(count: number, size: ConductorSize): string {
  return `${Number(count.toFixed(2))} x ${sizeWords(size)}`;
}

/** A distance between two runs: "1 in", "25 mm". */
export function spacingWords(metres: number, profile: string): string {
  return regionOf(profile).mains.lengths === 'feet'
    ? `${Number((metres / 0.0254).toFixed(1))} in`
    : `${Math.round(metres * 1000)} mm`;
}
