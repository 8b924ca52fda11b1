/**
 * Elimination of nets whose columns stand in blocks: the columns of a block have the same rows, so what it passes on is one product of two dense
 * lists, worked out in small squares; where in later columns it belongs is found out once for all that have the same rows themselves.
 */

import type { Elimination } from './elimination.js';

/** Wider blocks are worked on piece by piece: each is short enough to be gone through column by column itself, and stays near at hand. */
const WIDEST = 16;

/** As `NodalSystem` has them: of what is eliminated shares and inverses in the end; of imaginary parts none where there are none. */
export interface EliminationFigures {
  readonly entryRe: Float64Array;
  readonly entryIm: Float64Array;
  readonly groundRe: Float64Array;
  readonly groundIm: Float64Array;
}

/** Eliminates the nets at some positions, all of them in blocks. */
export function eliminateBlocks(
  plan: Elimination,
  figures: EliminationFigures,
  isReal: boolean,
  from: number,
  to: number,
): void {
  if (from >= to) return;
  const elimination = isReal ? new RealBlocks(plan, figures, from, to) : new ComplexBlocks(plan, figures, from, to);
  for (let first = from; first < to; ) {
    const end = endOfBlock(plan, first, to);
    elimination.eliminate(first, end);
    first = end;
  }
}

/** Where columns from `first` on stop having the same rows. */
function endOfBlock({ starts, rows }: Elimination, first: number, to: number): number {
  const most = Math.min(to, first + WIDEST);
  let end = first + 1;
  for (let length = starts[end]! - starts[first]! - 1; end < most; end++, length--) {
    if (rows[starts[end - 1]!] !== end || starts[end + 1]! - starts[end]! !== length) break;
  }
  return end;
}

abstract class Blocks {
  /** The rows behind the block: where they are listed, and how many. */
  protected last = 0;
  protected count = 0;
  /** The columns of the block in which anything flows: how many, and where each would have its figure of the row at hand. */
  protected columns = 0;
  protected readonly at = new Int32Array(WIDEST);
  /** Per column: the sum of all it has, and what it has to zero volts. */
  protected readonly sumRe = new Float64Array(WIDEST);
  protected readonly sumIm = new Float64Array(WIDEST);
  protected readonly toGroundRe = new Float64Array(WIDEST);
  protected readonly toGroundIm = new Float64Array(WIDEST);
  /** Row by row the shares of its columns, and what these are multiplied by. */
  protected readonly shares: Float64Array;
  protected readonly factors: Float64Array;
  /** Per row behind the block: which entry it is in the column looked at last, and how long that is; -1 where that tells nothing of others. */
  protected readonly places: Int32Array;
  private length = -1;

  constructor(
    protected readonly plan: Elimination,
    protected readonly figures: EliminationFigures,
    from: number,
    to: number,
    width: number,
  ) {
    let longest = 0;
    for (let k = from; k < to; k++) longest = Math.max(longest, plan.starts[k + 1]! - plan.starts[k]!);
    this.shares = new Float64Array(width * WIDEST * longest);
    this.factors = new Float64Array(width * width * WIDEST * longest);
    this.places = new Int32Array(longest);
  }

  eliminate(first: number, end: number): void {
    const { starts } = this.plan;
    this.columns = 0;
    for (let position = first; position < end; position++) this.eliminateColumn(position);
    this.last = starts[end - 1]!;
    this.count = starts[end]! - this.last;
    for (let j = 0; j < this.columns; j++) this.at[j]! += end - 1;
    this.length = -1;
    this.passOn();
  }

  /** Takes what the columns before it in its block pass on to a net, and makes its figures shares. */
  protected abstract eliminateColumn(position: number): void;

  /** Passes on what the block has to the columns of the rows behind it. */
  protected abstract passOn(): void;

  /** Whether `places` holds for the column of row k too. */
  protected isPlaced(k: number): boolean {
    const { starts, rows } = this.plan;
    const row = rows[this.last + k]!;
    return starts[row + 1]! - starts[row]! === this.length - this.places[k]! - 1;
  }

  /** What to add to `places` of the rows behind row k for their entries in its column. */
  protected startOf(k: number): number {
    const { starts, rows, eliminated } = this.plan;
    const { places, last, count } = this;
    const row = rows[last + k]!;
    const start = starts[row]!;
    if (this.isPlaced(k)) return start - places[k]! - 1;
    for (let m = k + 1, place = start; m < count; m++, place++) {
      const wanted = rows[last + m]!;
      while (rows[place] !== wanted) place++;
      places[m] = place - start;
    }
    // All that a net is joined to when it is eliminated is joined to one another, but not what one that stays is joined to.
    this.length = row < eliminated ? starts[row + 1]! - start : -1;
    return start;
  }
}

class RealBlocks extends Blocks {
  constructor(plan: Elimination, figures: EliminationFigures, from: number, to: number) {
    super(plan, figures, from, to, 1);
  }

  protected eliminateColumn(position: number): void {
    const { at, sumRe, toGroundRe, columns } = this;
    const { entryRe, groundRe } = this.figures;
    const start = this.plan.starts[position]!;
    const length = this.plan.starts[position + 1]! - start;
    let ground = groundRe[position]!;
    for (let j = 0; j < columns; j++) {
      const own = at[j]! + position;
      const share = entryRe[own - 1]!;
      const factor = share * sumRe[j]!;
      ground += share * toGroundRe[j]!;
      for (let i = 0; i < length; i++) entryRe[start + i]! += factor * entryRe[own + i]!;
    }
    let sum = ground;
    for (let i = start; i < start + length; i++) sum += entryRe[i]!;
    const inverse = sum > 0 ? 1 / sum : 0;
    groundRe[position] = inverse;
    if (inverse === 0) return;
    const isDeadEnd = length === 1 && ground === 0;
    for (let i = start; i < start + length; i++) entryRe[i] = isDeadEnd ? 1 : entryRe[i]! * inverse;
    at[columns] = start - position;
    sumRe[columns] = sum;
    toGroundRe[columns] = ground;
    this.columns++;
  }

  protected passOn(): void {
    const { last, count, columns, at, shares, factors, places, sumRe, toGroundRe } = this;
    const { rows } = this.plan;
    const { entryRe, groundRe } = this.figures;
    for (let j = 0; j < columns; j++) {
      const sum = sumRe[j]!;
      const ground = toGroundRe[j]!;
      for (let k = 0, own = at[j]!, to = j; k < count; k++, own++, to += columns) {
        const share = entryRe[own]!;
        shares[to] = share;
        factors[to] = share * sum;
        groundRe[rows[last + k]!]! += share * ground;
      }
    }
    for (let k = 0; k + 1 < count; k++) {
      const start = this.startOf(k);
      const own = k * columns;
      if (k + 2 < count && this.isPlaced(k + 1)) {
        addProduct(entryRe, start, places, shares, factors, own, columns, k + 1, k + 2);
        const next = this.startOf(k + 1);
        addProducts(entryRe, entryRe, start, next, places, shares, factors, own, columns, k + 2, count);
        k++;
      } else addProduct(entryRe, start, places, shares, factors, own, columns, k + 1, count);
    }
  }
}

class ComplexBlocks extends Blocks {
  constructor(plan: Elimination, figures: EliminationFigures, from: number, to: number) {
    super(plan, figures, from, to, 2);
  }

  protected eliminateColumn(position: number): void {
    const { at, sumRe, sumIm, toGroundRe, toGroundIm, columns } = this;
    const { entryRe, entryIm, groundRe, groundIm } = this.figures;
    const start = this.plan.starts[position]!;
    const length = this.plan.starts[position + 1]! - start;
    let gr = groundRe[position]!;
    let gi = groundIm[position]!;
    for (let j = 0; j < columns; j++) {
      const own = at[j]! + position;
      const shareRe = entryRe[own - 1]!;
      const shareIm = entryIm[own - 1]!;
      const fr = shareRe * sumRe[j]! - shareIm * sumIm[j]!;
      const fi = shareRe * sumIm[j]! + shareIm * sumRe[j]!;
      gr += shareRe * toGroundRe[j]! - shareIm * toGroundIm[j]!;
      gi += shareRe * toGroundIm[j]! + shareIm * toGroundRe[j]!;
      for (let i = 0; i < length; i++) {
        const yr = entryRe[own + i]!;
        const yi = entryIm[own + i]!;
        entryRe[start + i]! += fr * yr - fi * yi;
        entryIm[start + i]! += fr * yi + fi * yr;
      }
    }
    let re = gr;
    let im = gi;
    for (let i = start; i < start + length; i++) {
      re += entryRe[i]!;
      im += entryIm[i]!;
    }
    const square = re * re + im * im;
    const inverse = square > 0 ? 1 / square : 0;
    const ir = re * inverse;
    const ii = -im * inverse;
    groundRe[position] = ir;
    groundIm[position] = ii;
    if (inverse === 0) return;
    const isDeadEnd = length === 1 && gr === 0 && gi === 0;
    for (let i = start; i < start + length; i++) {
      const yr = entryRe[i]!;
      const yi = entryIm[i]!;
      entryRe[i] = isDeadEnd ? 1 : yr * ir - yi * ii;
      entryIm[i] = isDeadEnd ? 0 : yr * ii + yi * ir;
    }
    at[columns] = start - position;
    sumRe[columns] = re;
    sumIm[columns] = im;
    toGroundRe[columns] = gr;
    toGroundIm[columns] = gi;
    this.columns++;
  }

  /** A product of complex lists is one of real lists twice as long for its real part, and another for its imaginary one. */
  protected passOn(): void {
    const { last, count, columns, at, shares, factors, places, sumRe, sumIm, toGroundRe, toGroundIm } = this;
    const { rows } = this.plan;
    const { entryRe, entryIm, groundRe, groundIm } = this.figures;
    const width = 2 * columns;
    for (let j = 0; j < columns; j++) {
      const tr = sumRe[j]!;
      const ti = sumIm[j]!;
      const gr = toGroundRe[j]!;
      const gi = toGroundIm[j]!;
      for (let k = 0, own = at[j]!, to = j; k < count; k++, own++, to += width) {
        const sr = entryRe[own]!;
        const si = entryIm[own]!;
        const fr = sr * tr - si * ti;
        const fi = sr * ti + si * tr;
        shares[to] = sr;
        shares[to + columns] = si;
        factors[2 * to - j] = fr;
        factors[2 * to - j + columns] = -fi;
        factors[2 * to - j + width] = fi;
        factors[2 * to - j + width + columns] = fr;
        const row = rows[last + k]!;
        groundRe[row]! += sr * gr - si * gi;
        groundIm[row]! += sr * gi + si * gr;
      }
    }
    for (let k = 0; k + 1 < count; k++) {
      const start = this.startOf(k);
      addProducts(entryRe, entryIm, start, start, places, shares, factors, 2 * k * width, width, k + 1, count);
    }
  }
}

/**
 * Adds, for some rows, the products of their shares and of the factors from `own` on to entries of one list, and those of their shares and of the
 * factors that follow these to entries of another; `width` is how many of each belong to a row.
 */
function addProducts(
  one: Float64Array,
  other: Float64Array,
  oneStart: number,
  otherStart: number,
  places: Int32Array,
  shares: Float64Array,
  factors: Float64Array,
  own: number,
  width: number,
  from: number,
  to: number,
): void {
  const end = own + width;
  let i = from;
  for (; i + 3 < to; i += 4) {
    let p0 = i * width;
    let p1 = p0 + width;
    let p2 = p1 + width;
    let p3 = p2 + width;
    let x0 = 0;
    let x1 = 0;
    let x2 = 0;
    let x3 = 0;
    let y0 = 0;
    let y1 = 0;
    let y2 = 0;
    let y3 = 0;
    for (let q = own; q < end; q++) {
      const f = factors[q]!;
      const g = factors[q + width]!;
      const s0 = shares[p0++]!;
      const s1 = shares[p1++]!;
      const s2 = shares[p2++]!;
      const s3 = shares[p3++]!;
      x0 += f * s0;
      x1 += f * s1;
      x2 += f * s2;
      x3 += f * s3;
      y0 += g * s0;
      y1 += g * s1;
      y2 += g * s2;
      y3 += g * s3;
    }
    one[oneStart + places[i]!]! += x0;
    one[oneStart + places[i + 1]!]! += x1;
    one[oneStart + places[i + 2]!]! += x2;
    one[oneStart + places[i + 3]!]! += x3;
    other[otherStart + places[i]!]! += y0;
    other[otherStart + places[i + 1]!]! += y1;
    other[otherStart + places[i + 2]!]! += y2;
    other[otherStart + places[i + 3]!]! += y3;
  }
  addProduct(one, oneStart, places, shares, factors, own, width, i, to);
  addProduct(other, otherStart, places, shares, factors, end, width, i, to);
}

/** The same for one list. */
function addProduct(
  list: Float64Array,
  start: number,
  places: Int32Array,
  shares: Float64Array,
  factors: Float64Array,
  own: number,
  width: number,
  from: number,
  to: number,
): void {
  for (let i = from; i < to; i++) {
    let sum = 0;
    for (let q = own, p = i * width; q < own + width; q++, p++) sum += factors[q]! * shares[p]!;
    list[start + places[i]!]! += sum;
  }
}
