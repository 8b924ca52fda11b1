/** Elimination of nets one by one: those with few neighbours, which in cables are nearly all. */

import type { EliminationFigures } from './block-elimination.js';
import type { Elimination } from './elimination.js';

const NO_FILLS = new Int32Array(0);

/** Eliminates the nets at some positions; `fills` is what `fillsOf` says of the plan. */
export function eliminateNets(
  plan: Elimination,
  figures: EliminationFigures,
  fills: Int32Array,
  isReal: boolean,
  from: number,
  to: number,
): void {
  if (isReal) eliminateReal(plan, figures, fills, from, to);
  else eliminateComplex(plan, figures, fills, from, to);
}

/** Each net in turn becomes admittances among its neighbours: a star becomes a mesh. Most have two of them: these go first. */
function eliminateComplex(
  plan: Elimination,
  figures: EliminationFigures,
  fills: Int32Array,
  from: number,
  to: number,
): void {
  const { entryRe, entryIm, groundRe, groundIm } = figures;
  const { starts, rows } = plan;
  for (let position = from, start = starts[from]!; position < to; position++) {
    const first = start;
    const end = starts[position + 1]!;
    start = end;
    const gr = groundRe[position]!;
    const gi = groundIm[position]!;
    const hasGround = gr !== 0 || gi !== 0;
    if (end - first === 2) {
      const yr = entryRe[first]!;
      const yi = entryIm[first]!;
      const zr = entryRe[first + 1]!;
      const zi = entryIm[first + 1]!;
      const sumRe = gr + yr + zr;
      const sumIm = gi + yi + zi;
      const square = sumRe * sumRe + sumIm * sumIm;
      const inverse = square > 0 ? 1 / square : 0;
      const ir = sumRe * inverse;
      const ii = -sumIm * inverse;
      groundRe[position] = ir;
      groundIm[position] = ii;
      if (inverse === 0) continue;
      const shareRe = yr * ir - yi * ii;
      const shareIm = yr * ii + yi * ir;
      const otherRe = zr * ir - zi * ii;
      const otherIm = zr * ii + zi * ir;
      if (hasGround) {
        groundRe[rows[first]!]! += shareRe * gr - shareIm * gi;
        groundIm[rows[first]!]! += shareRe * gi + shareIm * gr;
        groundRe[rows[first + 1]!]! += otherRe * gr - otherIm * gi;
        groundIm[rows[first + 1]!]! += otherRe * gi + otherIm * gr;
      }
      const fill = fills.length > 0 ? fills[position]! : fillAt(first, starts, rows);
      entryRe[fill]! += shareRe * zr - shareIm * zi;
      entryIm[fill]! += shareRe * zi + shareIm * zr;
      entryRe[first] = shareRe;
      entryIm[first] = shareIm;
      entryRe[first + 1] = otherRe;
      entryIm[first + 1] = otherIm;
      continue;
    }
    let sumRe = gr;
    let sumIm = gi;
    for (let k = first; k < end; k++) {
      sumRe += entryRe[k]!;
      sumIm += entryIm[k]!;
    }
    const square = sumRe * sumRe + sumIm * sumIm;
    const inverse = square > 0 ? 1 / square : 0;
    const ir = sumRe * inverse;
    const ii = -sumIm * inverse;
    groundRe[position] = ir;
    groundIm[position] = ii;
    if (inverse === 0) continue;
    const isDeadEnd = end - first === 1 && !hasGround;
    for (let k = first; k < end; k++) {
      const yr = entryRe[k]!;
      const yi = entryIm[k]!;
      const shareRe = isDeadEnd ? 1 : yr * ir - yi * ii;
      const shareIm = isDeadEnd ? 0 : yr * ii + yi * ir;
      const row = rows[k]!;
      if (hasGround) {
        groundRe[row]! += shareRe * gr - shareIm * gi;
        groundIm[row]! += shareRe * gi + shareIm * gr;
      }
      for (let m = k + 1, at = starts[row]!; m < end; m++, at++) {
        while (rows[at] !== rows[m]) at++;
        entryRe[at]! += shareRe * entryRe[m]! - shareIm * entryIm[m]!;
        entryIm[at]! += shareRe * entryIm[m]! + shareIm * entryRe[m]!;
      }
      entryRe[k] = shareRe;
      entryIm[k] = shareIm;
    }
  }
}

/** The same where nothing but resistance is in the network. */
function eliminateReal(
  plan: Elimination,
  figures: EliminationFigures,
  fills: Int32Array,
  from: number,
  to: number,
): void {
  const { entryRe, groundRe } = figures;
  const { starts, rows } = plan;
  for (let position = from, start = starts[from]!; position < to; position++) {
    const first = start;
    const end = starts[position + 1]!;
    start = end;
    const ground = groundRe[position]!;
    if (end - first === 2) {
      const one = entryRe[first]!;
      const other = entryRe[first + 1]!;
      const sum = ground + one + other;
      const inverse = sum > 0 ? 1 / sum : 0;
      groundRe[position] = inverse;
      if (inverse === 0) continue;
      const share = one * inverse;
      const otherShare = other * inverse;
      if (ground !== 0) {
        groundRe[rows[first]!]! += share * ground;
        groundRe[rows[first + 1]!]! += otherShare * ground;
      }
      entryRe[fills.length > 0 ? fills[position]! : fillAt(first, starts, rows)]! += share * other;
      entryRe[first] = share;
      entryRe[first + 1] = otherShare;
      continue;
    }
    let sum = ground;
    for (let k = first; k < end; k++) sum += entryRe[k]!;
    const inverse = sum > 0 ? 1 / sum : 0;
    groundRe[position] = inverse;
    if (inverse === 0) continue;
    const isDeadEnd = end - first === 1 && ground === 0;
    for (let k = first; k < end; k++) {
      const share = isDeadEnd ? 1 : entryRe[k]! * inverse;
      const row = rows[k]!;
      if (ground !== 0) groundRe[row]! += share * ground;
      for (let m = k + 1, at = starts[row]!; m < end; m++, at++) {
        while (rows[at] !== rows[m]) at++;
        entryRe[at]! += share * entryRe[m]!;
      }
      entryRe[k] = share;
    }
  }
}

/** The entry between the two nets of a column that starts at `first`. */
function fillAt(first: number, starts: Int32Array, rows: Int32Array): number {
  const row = rows[first + 1]!;
  let at = starts[rows[first]!]!;
  while (rows[at] !== row) at++;
  return at;
}

/** Per plan that has been used: nothing at first, then per position with two neighbours the entry between these. */
const fillsKept = new WeakMap<Elimination, Int32Array>();

/** Of fewer nets than this they are looked up each time. */
const KEPT_FROM = 100;

/** Looked up once and for all where a plan is used again. */
export function fillsOf(plan: Elimination): Int32Array {
  if (plan.eliminated < KEPT_FROM) return NO_FILLS;
  const kept = fillsKept.get(plan);
  if (kept === undefined) {
    fillsKept.set(plan, NO_FILLS);
    return NO_FILLS;
  }
  if (kept.length > 0) return kept;
  const { eliminated, starts, rows } = plan;
  const fills = new Int32Array(eliminated);
  for (let position = 0; position < eliminated; position++) {
    const first = starts[position]!;
    if (starts[position + 1]! - first === 2) fills[position] = fillAt(first, starts, rows);
  }
  fillsKept.set(plan, fills);
  return fills;
}
