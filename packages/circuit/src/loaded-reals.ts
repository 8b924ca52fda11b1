/** Newton's method for loads by the hundred where nothing has a phase: every figure is one real number, and the matrix is symmetric. */

import { solveReal } from './dense.js';
import { type Draws, LoadedNetwork, type PortEnds, type Start } from './loaded-network.js';
import type { Unloaded } from './nodal.js';

export class LoadedReals extends LoadedNetwork {
  /** Of a place itself, of an entry, and the share of an entry in what its earlier place has. */
  private readonly own: Float64Array;
  private readonly entries: Float64Array;

  constructor(unloaded: Unloaded, ends: readonly PortEnds[], start: Start, scaleVolts: number) {
    super(unloaded, ends, start, scaleVolts, 1);
    this.own = new Float64Array(this.nets);
    this.entries = new Float64Array(this.rows.length);
  }

  protected linearise(draws: Draws, share: number, withStandIns = false): void {
    const { own, entries, rhs, volts, starts, rows, nets, a, b, between } = this;
    const { entryRe, groundRe, injectedRe, emfRe, branches } = this.unloaded;
    for (let place = 0; place < nets; place++) {
      own[place] = groundRe[place]!;
      rhs[place] = injectedRe[place]! - groundRe[place]! * volts[place]!;
    }
    for (let place = 0; place < nets; place++) {
      for (let k = starts[place]!; k < starts[place + 1]!; k++) {
        const row = rows[k]!;
        const g = entryRe[k]!;
        const through = g * (volts[place]! - volts[row]!);
        own[place]! += g;
        own[row]! += g;
        entries[k] = -g;
        rhs[place]! -= through;
        rhs[row]! += through;
      }
    }
    for (let p = 0; p < a.length; p++) {
      const x = a[p]!;
      const y = b[p]!;
      const across = this.across(volts, p, 0);
      const power = (share * draws.voltAmperes[p]!) / (across * across);
      const current = (share * draws.amperes[p]!) / Math.abs(across);
      const along = (withStandIns ? share * draws.siemens[p]! : power + current) - draws.siemens[p]!;
      const slope = withStandIns ? along : -power - draws.siemens[p]!;
      if (x >= 0) {
        own[x]! += slope;
        rhs[x]! -= along * across;
      }
      if (y >= 0) {
        own[y]! += slope;
        rhs[y]! += along * across;
      }
      if (x >= 0 && y >= 0) entries[between[p]!]! -= slope;
    }
    branches.forEach((branch, k) => {
      const current = volts[nets + k]!;
      let missing = emfRe[k]! + branch.zRe * current;
      branch.nets.forEach((net, end) => {
        const place = this.placeOf[net]!;
        if (place < 0) return;
        missing -= branch.rowRe[end]! * volts[place]!;
        rhs[place]! -= branch.columnRe[end]! * current;
      });
      rhs[nets + k] = missing;
    });
  }

  protected solve(): boolean {
    const { own, entries, rhs, starts, rows, eliminated, fills } = this;
    let fill = 0;
    for (let place = 0; place < eliminated; place++) {
      const pivot = own[place]!;
      if (!(pivot > 0)) return false;
      const end = starts[place + 1]!;
      for (let k = starts[place]!; k < end; k++) {
        const row = rows[k]!;
        const share = entries[k]! / pivot;
        rhs[row]! -= share * rhs[place]!;
        own[row]! -= share * entries[k]!;
        for (let m = k + 1; m < end; m++) entries[fills[fill++]!]! -= share * entries[m]!;
      }
    }
    if (!this.solveRest()) return false;
    for (let place = eliminated - 1; place >= 0; place--) {
      let sum = rhs[place]!;
      for (let k = starts[place]!; k < starts[place + 1]!; k++) sum -= entries[k]! * rhs[rows[k]!]!;
      rhs[place] = sum / own[place]!;
    }
    return true;
  }

  /** What is not eliminated, with pivoting. */
  private solveRest(): boolean {
    const { own, entries, rhs, starts, rows, eliminated, places, nets } = this;
    const width = places - eliminated;
    if (width === 0) return true;
    const matrix = new Float64Array(width * width);
    const put = (row: number, column: number, figure: number): void => {
      matrix[(row - eliminated) * width + column - eliminated]! += figure;
    };
    for (let place = eliminated; place < nets; place++) {
      put(place, place, own[place]!);
      for (let k = starts[place]!; k < starts[place + 1]!; k++) {
        put(place, rows[k]!, entries[k]!);
        put(rows[k]!, place, entries[k]!);
      }
    }
    const { branches } = this.unloaded;
    branches.forEach((branch, k) => {
      put(nets + k, nets + k, -branch.zRe);
      branch.nets.forEach((net, end) => {
        const place = this.placeOf[net]!;
        if (place < 0) return;
        put(nets + k, place, branch.rowRe[end]!);
        put(place, nets + k, branch.columnRe[end]!);
      });
    });
    const answer = rhs.slice(eliminated);
    // Each current unknown turns the sign of the determinant over once.
    const sign = branches.length % 2 === 0 ? 1 : -1;
    if (solveReal(matrix, answer) !== sign) return false;
    rhs.set(answer, eliminated);
    return true;
  }
}
