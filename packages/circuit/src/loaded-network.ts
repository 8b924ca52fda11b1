/**
 * Newton's method for loads by the hundred: on the nets that are left when those that no load touches are eliminated, with the sparsity of
 * the network itself.
 */

import { type Elimination, entryAt } from './elimination.js';
import type { Unloaded } from './nodal.js';
import type { PortVolts } from './ports.js';

const MOST_STEPS = 60;
const STEP_ENOUGH = 1e-13;
const STEP_TOLERABLE = 1e-9;

/** What is drawn at ports beyond their stand-ins: volt-amperes, amperes, and the siemens of the stand-ins. */
export interface Draws {
  readonly voltAmperes: Float64Array;
  readonly amperes: Float64Array;
  readonly siemens: Float64Array;
}

export interface PortEnds {
  readonly a: number;
  readonly b: number;
}

/** Volts of nets and currents of branches with the stand-ins alone. */
export interface Start {
  readonly netRe: Float64Array;
  readonly netIm: Float64Array;
  readonly branchRe: Float64Array;
  readonly branchIm: Float64Array;
}

/** Places are positions of the plan from `early` on, then those of the branches; each has `width` figures: the real part, and an imaginary one. */
export abstract class LoadedNetwork {
  protected readonly eliminated: number;
  protected readonly nets: number;
  protected readonly places: number;
  /** Per net: its place, -1 at zero volts and where it is eliminated for good. */
  protected readonly placeOf: Int32Array;
  protected readonly starts: Int32Array;
  protected readonly rows: Int32Array;
  /** Eliminated place by place and of its entries two by two: the entry between these. */
  protected readonly fills: Int32Array;
  /** Per port: the places of its ends, -1 at zero volts, and the entry between them, -1 where there is none. */
  protected readonly a: Int32Array;
  protected readonly b: Int32Array;
  protected readonly between: Int32Array;
  protected readonly rhs: Float64Array;
  protected readonly volts: Float64Array;
  private readonly startVolts: Float64Array;
  /** The largest share for which there was an operating point, and its volts. */
  private reached = 0;
  private readonly reachedVolts: Float64Array;

  constructor(
    protected readonly unloaded: Unloaded,
    ends: readonly PortEnds[],
    start: Start,
    private readonly scaleVolts: number,
    private readonly width: 1 | 2,
  ) {
    const { plan, branches } = unloaded;
    const { early } = plan;
    this.eliminated = plan.eliminated - early;
    this.nets = plan.size - early;
    this.places = this.nets + branches.length;
    const { starts, rows, fills } = lateColumns(plan);
    this.starts = starts;
    this.rows = rows;
    this.fills = fills;
    const placeOf = new Int32Array(start.netRe.length).fill(-1);
    this.placeOf = placeOf;
    const startVolts = new Float64Array(width * this.places);
    const put = (place: number, re: number, im: number): void => {
      startVolts[width * place] = re;
      if (width === 2) startVolts[2 * place + 1] = im;
    };
    for (let place = 0; place < this.nets; place++) {
      const net = plan.netAt[early + place]!;
      placeOf[net] = place;
      put(place, start.netRe[net]!, start.netIm[net]!);
    }
    for (let k = 0; k < branches.length; k++) put(this.nets + k, start.branchRe[k]!, start.branchIm[k]!);
    this.startVolts = startVolts;
    this.a = Int32Array.from(ends, ({ a }) => placeOf[a]!);
    this.b = Int32Array.from(ends, ({ b }) => placeOf[b]!);
    this.between = this.a.map((a, p) => Math.max(-1, entryAt(a, this.b[p]!, this.starts, this.rows)));
    this.rhs = new Float64Array(startVolts.length);
    this.volts = new Float64Array(startVolts.length);
    this.reachedVolts = startVolts.slice();
  }

  /** Enters the network and the loads at the present volts; the right-hand side is what is missing from the balance of each place. */
  protected abstract linearise(draws: Draws, share: number, withStandIns?: boolean): void;

  /** Solves for the step, in place of the right-hand side; false where the network with its loads is past the highest of its operating points. */
  protected abstract solve(): boolean;

  /** Volts at the ports for a share of the draws, coming down from the unloaded volts; `undefined` where there is no operating point. */
  operatingVolts(draws: Draws, share: number): PortVolts | undefined {
    const { volts, rhs, width } = this;
    if (this.reached > 0 && share > this.reached) volts.set(this.reachedVolts);
    else if (!this.startFor(draws, share)) return undefined;
    let last = Number.POSITIVE_INFINITY;
    for (let step = 0; step < MOST_STEPS; step++) {
      this.linearise(draws, share);
      if (!this.solve()) return undefined;
      let largest = 0;
      for (let k = 0; k < width * this.nets; k++) largest = Math.max(largest, Math.abs(rhs[k]!));
      if (this.turnsOver()) return undefined;
      for (let k = 0; k < volts.length; k++) volts[k]! += rhs[k]!;
      const stands = largest <= STEP_TOLERABLE * this.scaleVolts && largest > last / 2;
      if (largest <= STEP_ENOUGH * this.scaleVolts || stands) return this.reach(share);
      last = largest;
    }
    return undefined;
  }

  /** Whether the step takes the volts of a port to the other side of none. */
  private turnsOver(): boolean {
    const { volts, rhs, a, b, width } = this;
    for (let p = 0; p < a.length; p++) {
      const x = width * a[p]!;
      const y = width * b[p]!;
      let turned = 0;
      for (let part = 0; part < width; part++) {
        const before = (x < 0 ? 0 : volts[x + part]!) - (y < 0 ? 0 : volts[y + part]!);
        const step = (x < 0 ? 0 : rhs[x + part]!) - (y < 0 ? 0 : rhs[y + part]!);
        turned += before * (before + step);
      }
      if (!(turned > 0)) return true;
    }
    return false;
  }

  private startFor(draws: Draws, share: number): boolean {
    const { volts, rhs } = this;
    volts.set(this.startVolts);
    if (share === 1) return true;
    // The stand-ins of all of the draw would start below the operating point of a part of it.
    this.linearise(draws, share, true);
    if (!this.solve()) return false;
    for (let k = 0; k < volts.length; k++) volts[k]! += rhs[k]!;
    return true;
  }

  private reach(share: number): PortVolts {
    const { volts } = this;
    if (share > this.reached) {
      this.reached = share;
      this.reachedVolts.set(volts);
    }
    const re = new Float64Array(this.a.length);
    const im = new Float64Array(this.a.length);
    for (let p = 0; p < re.length; p++) {
      re[p] = this.across(volts, p, 0);
      if (this.width === 2) im[p] = this.across(volts, p, 1);
    }
    return { re, im };
  }

  /** The real (0) or imaginary (1) part of a column of places, across a port. */
  protected across(column: Float64Array, p: number, part: 0 | 1): number {
    const a = this.a[p]!;
    const b = this.b[p]!;
    const { width } = this;
    return (a < 0 ? 0 : column[width * a + part]!) - (b < 0 ? 0 : column[width * b + part]!);
  }
}

interface LateColumns {
  readonly starts: Int32Array;
  readonly rows: Int32Array;
  readonly fills: Int32Array;
}

const columnsKept = new WeakMap<Elimination, LateColumns>();

/** The columns of a plan from the first of the late nets on, as places; looked for once for a plan. */
function lateColumns(plan: Elimination): LateColumns {
  const kept = columnsKept.get(plan);
  if (kept !== undefined) return kept;
  const { early, eliminated } = plan;
  const first = plan.starts[early]!;
  const starts = plan.starts.subarray(early).map((start) => start - first);
  const rows = plan.rows.subarray(first).map((row) => row - early);
  const fills: number[] = [];
  for (let place = 0; place < eliminated - early; place++) {
    const end = starts[place + 1]!;
    for (let k = starts[place]!; k < end; k++) {
      for (let m = k + 1, at = starts[rows[k]!]!; m < end; m++, at++) {
        while (rows[at] !== rows[m]) at++;
        fills.push(at);
      }
    }
  }
  const columns = { starts, rows, fills: Int32Array.from(fills) };
  columnsKept.set(plan, columns);
  return columns;
}
