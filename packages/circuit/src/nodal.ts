/**
 * Modified nodal equations of one state. Nets that touch nothing but resistive or inductive branches are eliminated one after another: each
 * step only adds, multiplies and divides figures of one sign (what a net has to itself is summed up, never subtracted), so it needs no pivoting
 * and loses no digits. What is left (nets of ideal sources, of fed windings, of capacitors) is solved densely with pivoting.
 */

import { type EliminationFigures, eliminateBlocks } from './block-elimination.js';
import { ComplexLu } from './dense.js';
import type { Elimination } from './elimination.js';
import { eliminateNets, fillsOf } from './net-elimination.js';

/** More unknowns than this (ideal sources by the thousand) are not solved with pivoting: they would take minutes and gigabytes. */
const MOST_UNKNOWNS = 4000;

/** Stand for what there is none of, so that none is made for each state. */
const NOTHING = new Float64Array(0);
const NOTHING_LEFT = new ComplexLu(0);

/** A branch with a current unknown `i`: sum(row x V) - z i = emf, and `i x column` leaves each net. */
export interface Branch {
  readonly nets: readonly number[];
  readonly rowRe: readonly number[];
  readonly rowIm: readonly number[];
  readonly columnRe: readonly number[];
  readonly columnIm: readonly number[];
  readonly zRe: number;
  readonly zIm: number;
}

/** What elimination leaves: see `NodalSystem` for the figures, `Elimination` for their places. */
export interface Reduced {
  readonly plan: Elimination;
  /** Whether no admittance has an imaginary part. */
  readonly isReal: boolean;
  readonly entryRe: Float64Array;
  readonly entryIm: Float64Array;
  readonly inverseRe: Float64Array;
  readonly inverseIm: Float64Array;
}

/** The network where only what is late or pinned is left of it: figures by position from `plan.early` on, entries from there on too. */
export interface Unloaded {
  readonly plan: Elimination;
  readonly branches: readonly Branch[];
  readonly entryRe: Float64Array;
  readonly entryIm: Float64Array;
  readonly groundRe: Float64Array;
  readonly groundIm: Float64Array;
  readonly injectedRe: Float64Array;
  readonly injectedIm: Float64Array;
  readonly emfRe: Float64Array;
  readonly emfIm: Float64Array;
}

export class NodalSystem implements EliminationFigures {
  /** What is left after the early nets, where others are late. */
  private left: Pick<Unloaded, 'entryRe' | 'entryIm' | 'groundRe' | 'groundIm'> | undefined;
  /** Per entry of the plan: an admittance, and of eliminated nets in the end its share of the net's own. Imaginary parts only where there are any. */
  readonly entryRe: Float64Array;
  readonly entryIm: Float64Array;
  /** Per position: admittance to zero volts, and of eliminated nets in the end one over the sum of their admittances. */
  readonly groundRe: Float64Array;
  readonly groundIm: Float64Array;
  private lu = NOTHING_LEFT;
  /** Per position with two neighbours: the entry between these; empty where that is not known yet. */
  private readonly fills: Int32Array;

  constructor(
    private readonly plan: Elimination,
    private readonly nets: number,
    private readonly branches: readonly Branch[],
    readonly isReal: boolean,
  ) {
    const { rows, size } = plan;
    this.fills = fillsOf(plan);
    this.entryRe = new Float64Array(rows.length);
    this.groundRe = new Float64Array(size);
    this.entryIm = isReal ? NOTHING : new Float64Array(rows.length);
    this.groundIm = isReal ? NOTHING : new Float64Array(size);
  }

  /** How many unknowns are solved with pivoting. */
  get unknowns(): number {
    return this.plan.size - this.plan.eliminated + this.branches.length;
  }

  /** Adds an admittance where the plan has it; not `NOWHERE`, and with an imaginary part only where there are some. */
  enter(entry: number, re: number, im: number): void {
    if (entry >= 0) {
      this.entryRe[entry]! += re;
      if (im !== 0) this.entryIm[entry]! += im;
    } else {
      this.groundRe[-1 - entry]! += re;
      if (im !== 0) this.groundIm[-1 - entry]! += im;
    }
  }

  /** Factors; the net at which the equations have no single answer, or -1. */
  factor(): number {
    this.reduce();
    return this.factorRest();
  }

  /** Eliminates all nets but the pinned ones: what is left are admittances among these. */
  private reduce(): void {
    const { early, eliminated, starts } = this.plan;
    this.eliminate(0, early);
    if (this.plan.hasLate) {
      const first = starts[early]!;
      this.left = {
        entryRe: this.entryRe.slice(first),
        entryIm: imaginary(this.entryIm, this.entryRe).slice(first),
        groundRe: this.groundRe.slice(early),
        groundIm: imaginary(this.groundIm, this.groundRe).slice(early),
      };
    }
    this.eliminate(early, eliminated);
  }

  /** What is left of the network without its branches. */
  reduced(): Reduced {
    this.reduce();
    const { plan, entryRe, groundRe } = this;
    return {
      plan,
      isReal: this.isReal,
      entryRe,
      entryIm: imaginary(this.entryIm, entryRe),
      inverseRe: groundRe,
      inverseIm: imaginary(this.groundIm, groundRe),
    };
  }

  private eliminate(from: number, to: number): void {
    const { plan, fills, isReal } = this;
    const blocks = Math.min(to, Math.max(from, plan.blocksFrom));
    eliminateNets(plan, this, fills, isReal, from, blocks);
    eliminateBlocks(plan, this, isReal, blocks, to);
  }

  /** The network before what is late or pinned is eliminated; `undefined` where nothing is late. */
  unloaded(re: Float64Array, im: Float64Array, emfRe: Float64Array, emfIm: Float64Array): Unloaded | undefined {
    if (this.left === undefined) return undefined;
    const { plan, branches } = this;
    const injectedRe = new Float64Array(plan.size);
    const injectedIm = new Float64Array(plan.size);
    this.passOn(re, im, injectedRe, injectedIm, plan.early);
    const { early } = plan;
    return {
      plan,
      branches,
      ...this.left,
      injectedRe: injectedRe.subarray(early),
      injectedIm: injectedIm.subarray(early),
      emfRe,
      emfIm,
    };
  }

  private factorRest(): number {
    const { eliminated, size, netAt, starts, rows } = this.plan;
    const { groundRe, entryRe } = this;
    const groundIm = imaginary(this.groundIm, groundRe);
    const entryIm = imaginary(this.entryIm, entryRe);
    const rest = size - eliminated;
    if (rest + this.branches.length > MOST_UNKNOWNS) return netAt[eliminated] ?? this.branches[0]!.nets[0]!;
    if (rest + this.branches.length === 0) return -1;
    const lu = new ComplexLu(rest + this.branches.length);
    const restOf = new Int32Array(this.nets).fill(-1);
    for (let position = eliminated; position < size; position++) {
      const row = position - eliminated;
      restOf[netAt[position]!] = row;
      lu.add(row, row, groundRe[position]!, groundIm[position]!);
      for (let k = starts[position]!; k < starts[position + 1]!; k++) {
        const column = rows[k]! - eliminated;
        const re = entryRe[k]!;
        const im = entryIm[k]!;
        lu.add(row, row, re, im);
        lu.add(column, column, re, im);
        lu.add(row, column, -re, -im);
        lu.add(column, row, -re, -im);
      }
    }
    this.branches.forEach((branch, b) => {
      const own = rest + b;
      for (let k = 0; k < branch.nets.length; k++) {
        const at = restOf[branch.nets[k]!]!;
        if (at < 0) continue;
        lu.add(own, at, branch.rowRe[k]!, branch.rowIm[k]!);
        lu.add(at, own, branch.columnRe[k]!, branch.columnIm[k]!);
      }
      lu.add(own, own, -branch.zRe, -branch.zIm);
    });
    this.lu = lu;
    const stuck = lu.factor();
    if (stuck < 0) return -1;
    return stuck < rest ? netAt[eliminated + stuck]! : this.branches[stuck - rest]!.nets[0]!;
  }

  /**
   * Currents injected into the nets become their volts, in place; the EMFs of the branches become their currents. Imaginary parts
   * where there are none (`hasImaginary` false) are neither read nor written, but for those of branches.
   */
  solve(re: Float64Array, im: Float64Array, branchRe: Float64Array, branchIm: Float64Array, hasImaginary = true): void {
    const { eliminated, size, netAt } = this.plan;
    const vr = new Float64Array(size);
    const vi = hasImaginary || this.lu.size > 0 ? new Float64Array(size) : NOTHING;
    this.passOn(re, hasImaginary ? im : NOTHING, vr, vi, eliminated);
    if (this.lu.size > 0) this.solveRest(vr, vi, branchRe, branchIm);
    re.fill(0);
    if (hasImaginary) im.fill(0);
    for (let position = eliminated; position < size; position++) {
      re[netAt[position]!] = vr[position]!;
      if (hasImaginary) im[netAt[position]!] = vi[position]!;
    }
    if (!this.isReal) this.carryBackComplex(vr, vi, re, im);
    else {
      this.carryBackReal(vr, re);
      if (hasImaginary) this.carryBackReal(vi, im);
    }
  }

  /** What is injected, by position: that into the first nets is passed on to those that are left when these are eliminated. */
  private passOn(re: Float64Array, im: Float64Array, vr: Float64Array, vi: Float64Array, until: number): void {
    if (!this.isReal) {
      this.passOnComplex(re, im, vr, vi, until);
      return;
    }
    this.passOnReal(re, vr, until);
    if (im.length > 0) this.passOnReal(im, vi, until);
  }

  private passOnComplex(re: Float64Array, im: Float64Array, vr: Float64Array, vi: Float64Array, until: number): void {
    const { entryRe, entryIm } = this;
    const { starts, rows, netAt, size } = this.plan;
    for (let position = 0; position < until; position++) {
      const net = netAt[position]!;
      const jr = vr[position]! + re[net]!;
      const ji = vi[position]! + im[net]!;
      vr[position] = jr;
      vi[position] = ji;
      if (jr === 0 && ji === 0) continue;
      for (let k = starts[position]!; k < starts[position + 1]!; k++) {
        const row = rows[k]!;
        vr[row]! += entryRe[k]! * jr - entryIm[k]! * ji;
        vi[row]! += entryRe[k]! * ji + entryIm[k]! * jr;
      }
    }
    for (let position = until; position < size; position++) {
      vr[position]! += re[netAt[position]!]!;
      vi[position]! += im[netAt[position]!]!;
    }
  }

  private passOnReal(injected: Float64Array, v: Float64Array, until: number): void {
    const { entryRe } = this;
    const { starts, rows, netAt, size } = this.plan;
    for (let position = 0; position < until; position++) {
      const j = v[position]! + injected[netAt[position]!]!;
      v[position] = j;
      if (j === 0) continue;
      for (let k = starts[position]!; k < starts[position + 1]!; k++) v[rows[k]!]! += entryRe[k]! * j;
    }
    for (let position = until; position < size; position++) v[position]! += injected[netAt[position]!]!;
  }

  /** Volts of the eliminated nets from those of the nets that are left, by position and by net. */
  private carryBackComplex(vr: Float64Array, vi: Float64Array, re: Float64Array, im: Float64Array): void {
    const { entryRe, entryIm, groundRe, groundIm } = this;
    const { eliminated, starts, rows, netAt } = this.plan;
    for (let position = eliminated - 1, end = starts[eliminated]!; position >= 0; position--) {
      const start = starts[position]!;
      const jr = vr[position]!;
      const ji = vi[position]!;
      let sumRe = jr * groundRe[position]! - ji * groundIm[position]!;
      let sumIm = jr * groundIm[position]! + ji * groundRe[position]!;
      for (let k = start; k < end; k++) {
        const row = rows[k]!;
        sumRe += entryRe[k]! * vr[row]! - entryIm[k]! * vi[row]!;
        sumIm += entryRe[k]! * vi[row]! + entryIm[k]! * vr[row]!;
      }
      end = start;
      vr[position] = sumRe;
      vi[position] = sumIm;
      re[netAt[position]!] = sumRe;
      im[netAt[position]!] = sumIm;
    }
  }

  private carryBackReal(v: Float64Array, volts: Float64Array): void {
    const { entryRe, groundRe } = this;
    const { eliminated, starts, rows, netAt } = this.plan;
    for (let position = eliminated - 1, end = starts[eliminated]!; position >= 0; position--) {
      const start = starts[position]!;
      let sum = v[position]! * groundRe[position]!;
      for (let k = start; k < end; k++) sum += entryRe[k]! * v[rows[k]!]!;
      end = start;
      v[position] = sum;
      volts[netAt[position]!] = sum;
    }
  }

  /** What is left is solved with pivoting, and the branches with it. */
  private solveRest(vr: Float64Array, vi: Float64Array, branchRe: Float64Array, branchIm: Float64Array): void {
    const { lu } = this;
    const { eliminated, size } = this.plan;
    const rest = size - eliminated;
    const br = new Float64Array(lu.size);
    const bi = new Float64Array(lu.size);
    br.set(vr.subarray(eliminated));
    bi.set(vi.subarray(eliminated));
    br.set(branchRe.subarray(0, this.branches.length), rest);
    bi.set(branchIm.subarray(0, this.branches.length), rest);
    lu.solve(br, bi);
    vr.set(br.subarray(0, rest), eliminated);
    vi.set(bi.subarray(0, rest), eliminated);
    branchRe.set(br.subarray(rest));
    branchIm.set(bi.subarray(rest));
  }
}

/** Imaginary parts beside real ones: none are kept where there are none. */
function imaginary(im: Float64Array, re: Float64Array): Float64Array {
  return im.length === re.length ? im : new Float64Array(re.length);
}
