/** Newton's method for loads by the hundred, with phases: what loads draw depends on the size of their volts, so each figure is a block of four real ones. */

import { solveReal } from './dense.js';
import { type Draws, LoadedNetwork, type PortEnds, type Start } from './loaded-network.js';
import type { Unloaded } from './nodal.js';

export class LoadedBlocks extends LoadedNetwork {
  /** Blocks of four, row by row: of a place itself, of an entry in the row of its earlier place, and in that of its later one. */
  private readonly own: Float64Array;
  private readonly earlier: Float64Array;
  private readonly later: Float64Array;
  /** The same without loads. */
  private readonly bareOwn: Float64Array;
  private readonly bareEntries: Float64Array;

  constructor(unloaded: Unloaded, ends: readonly PortEnds[], start: Start, scaleVolts: number) {
    super(unloaded, ends, start, scaleVolts, 2);
    this.own = new Float64Array(4 * this.nets);
    this.earlier = new Float64Array(4 * this.rows.length);
    this.later = new Float64Array(4 * this.rows.length);
    const { own, earlier, starts, rows } = this;
    const { entryRe, entryIm, groundRe, groundIm } = unloaded;
    for (let place = 0; place < this.nets; place++) {
      addComplex(own, place, groundRe[place]!, groundIm[place]!);
      for (let k = starts[place]!; k < starts[place + 1]!; k++) {
        addComplex(own, place, entryRe[k]!, entryIm[k]!);
        addComplex(own, rows[k]!, entryRe[k]!, entryIm[k]!);
        addComplex(earlier, k, -entryRe[k]!, -entryIm[k]!);
      }
    }
    this.bareOwn = own.slice();
    this.bareEntries = earlier.slice();
  }

  protected linearise(draws: Draws, share: number, withStandIns = false): void {
    const { own, earlier, rhs, volts, starts, rows } = this;
    const { entryRe, entryIm, groundRe, groundIm, injectedRe, injectedIm, emfRe, emfIm } = this.unloaded;
    own.set(this.bareOwn);
    earlier.set(this.bareEntries);
    for (let place = 0; place < this.nets; place++) {
      const g = groundRe[place]!;
      const h = groundIm[place]!;
      const vr = volts[2 * place]!;
      const vi = volts[2 * place + 1]!;
      rhs[2 * place] = injectedRe[place]! - g * vr + h * vi;
      rhs[2 * place + 1] = injectedIm[place]! - g * vi - h * vr;
    }
    for (let place = 0; place < this.nets; place++) {
      const ownRe = volts[2 * place]!;
      const ownIm = volts[2 * place + 1]!;
      let leavingRe = 0;
      let leavingIm = 0;
      for (let k = starts[place]!; k < starts[place + 1]!; k++) {
        const row = rows[k]!;
        const g = entryRe[k]!;
        const h = entryIm[k]!;
        const vr = ownRe - volts[2 * row]!;
        const vi = ownIm - volts[2 * row + 1]!;
        const re = g * vr - h * vi;
        const im = g * vi + h * vr;
        leavingRe += re;
        leavingIm += im;
        rhs[2 * row]! += re;
        rhs[2 * row + 1]! += im;
      }
      rhs[2 * place]! -= leavingRe;
      rhs[2 * place + 1]! -= leavingIm;
    }
    for (let p = 0; p < this.a.length; p++) {
      const vr = this.across(volts, p, 0);
      const vi = this.across(volts, p, 1);
      const size = Math.sqrt(vr * vr + vi * vi);
      const power = (share * draws.voltAmperes[p]!) / (size * size);
      const current = (share * draws.amperes[p]!) / size;
      const along = (withStandIns ? share * draws.siemens[p]! : power + current) - draws.siemens[p]!;
      const twist = withStandIns ? 0 : (2 * power + current) / (size * size);
      const cross = -twist * vr * vi;
      this.carry(this.a[p]!, this.b[p]!, along * vr, along * vi);
      this.enter(
        this.a[p]!,
        this.b[p]!,
        this.between[p]!,
        along - twist * vr * vr,
        cross,
        cross,
        along - twist * vi * vi,
      );
    }
    this.unloaded.branches.forEach((branch, k) => {
      const own = this.nets + k;
      const jr = volts[2 * own]!;
      const ji = volts[2 * own + 1]!;
      let re = emfRe[k]! + branch.zRe * jr - branch.zIm * ji;
      let im = emfIm[k]! + branch.zRe * ji + branch.zIm * jr;
      branch.nets.forEach((net, end) => {
        const place = this.placeOf[net]!;
        if (place < 0) return;
        const vr = volts[2 * place]!;
        const vi = volts[2 * place + 1]!;
        re -= branch.rowRe[end]! * vr - branch.rowIm[end]! * vi;
        im -= branch.rowRe[end]! * vi + branch.rowIm[end]! * vr;
        this.carry(
          place,
          -1,
          branch.columnRe[end]! * jr - branch.columnIm[end]! * ji,
          branch.columnRe[end]! * ji + branch.columnIm[end]! * jr,
        );
      });
      rhs[2 * own] = re;
      rhs[2 * own + 1] = im;
    });
  }

  private enter(x: number, y: number, entry: number, rr: number, ri: number, ir: number, ii: number): void {
    if (x >= 0) add(this.own, x, rr, ri, ir, ii);
    if (y >= 0) add(this.own, y, rr, ri, ir, ii);
    if (x >= 0 && y >= 0) add(this.earlier, entry, -rr, -ri, -ir, -ii);
  }

  private carry(from: number, to: number, re: number, im: number): void {
    const { rhs } = this;
    if (from >= 0) {
      rhs[2 * from]! -= re;
      rhs[2 * from + 1]! -= im;
    }
    if (to >= 0) {
      rhs[2 * to]! += re;
      rhs[2 * to + 1]! += im;
    }
  }

  protected solve(): boolean {
    const { own, earlier, later, rhs, starts, rows, eliminated, fills } = this;
    later.set(earlier);
    let fill = 0;
    for (let place = 0; place < eliminated; place++) {
      const at = 4 * place;
      const determinant = own[at]! * own[at + 3]! - own[at + 1]! * own[at + 2]!;
      if (!(determinant > 0)) return false;
      const i0 = own[at + 3]! / determinant;
      const i1 = -own[at + 1]! / determinant;
      const i2 = -own[at + 2]! / determinant;
      const i3 = own[at]! / determinant;
      own[at] = i0;
      own[at + 1] = i1;
      own[at + 2] = i2;
      own[at + 3] = i3;
      const re = rhs[2 * place]!;
      const im = rhs[2 * place + 1]!;
      const end = starts[place + 1]!;
      for (let k = starts[place]!; k < end; k++) {
        const at = 4 * k;
        const l0 = later[at]!;
        const l1 = later[at + 1]!;
        const l2 = later[at + 2]!;
        const l3 = later[at + 3]!;
        const s0 = l0 * i0 + l1 * i2;
        const s1 = l0 * i1 + l1 * i3;
        const s2 = l2 * i0 + l3 * i2;
        const s3 = l2 * i1 + l3 * i3;
        later[at] = s0;
        later[at + 1] = s1;
        later[at + 2] = s2;
        later[at + 3] = s3;
        const row = rows[k]!;
        rhs[2 * row]! -= s0 * re + s1 * im;
        rhs[2 * row + 1]! -= s2 * re + s3 * im;
        const e0 = earlier[at]!;
        const e1 = earlier[at + 1]!;
        const e2 = earlier[at + 2]!;
        const e3 = earlier[at + 3]!;
        const to = 4 * row;
        own[to]! -= s0 * e0 + s1 * e2;
        own[to + 1]! -= s0 * e1 + s1 * e3;
        own[to + 2]! -= s2 * e0 + s3 * e2;
        own[to + 3]! -= s2 * e1 + s3 * e3;
      }
      // Entry by entry: what the share of the row of k takes with the place's own entry to the column of m, and the other way about.
      for (let k = starts[place]!; k < end; k++) {
        const s0 = later[4 * k]!;
        const s1 = later[4 * k + 1]!;
        const s2 = later[4 * k + 2]!;
        const s3 = later[4 * k + 3]!;
        const e0 = earlier[4 * k]!;
        const e1 = earlier[4 * k + 1]!;
        const e2 = earlier[4 * k + 2]!;
        const e3 = earlier[4 * k + 3]!;
        for (let m = 4 * k + 4; m < 4 * end; m += 4) {
          const to = 4 * fills[fill++]!;
          const f0 = earlier[m]!;
          const f1 = earlier[m + 1]!;
          const f2 = earlier[m + 2]!;
          const f3 = earlier[m + 3]!;
          earlier[to]! -= s0 * f0 + s1 * f2;
          earlier[to + 1]! -= s0 * f1 + s1 * f3;
          earlier[to + 2]! -= s2 * f0 + s3 * f2;
          earlier[to + 3]! -= s2 * f1 + s3 * f3;
          const t0 = later[m]!;
          const t1 = later[m + 1]!;
          const t2 = later[m + 2]!;
          const t3 = later[m + 3]!;
          later[to]! -= t0 * e0 + t1 * e2;
          later[to + 1]! -= t0 * e1 + t1 * e3;
          later[to + 2]! -= t2 * e0 + t3 * e2;
          later[to + 3]! -= t2 * e1 + t3 * e3;
        }
      }
    }
    if (!this.solveRest()) return false;
    for (let place = eliminated - 1; place >= 0; place--) {
      let re = rhs[2 * place]!;
      let im = rhs[2 * place + 1]!;
      for (let k = starts[place]!; k < starts[place + 1]!; k++) {
        const row = rows[k]!;
        re -= earlier[4 * k]! * rhs[2 * row]! + earlier[4 * k + 1]! * rhs[2 * row + 1]!;
        im -= earlier[4 * k + 2]! * rhs[2 * row]! + earlier[4 * k + 3]! * rhs[2 * row + 1]!;
      }
      rhs[2 * place] = own[4 * place]! * re + own[4 * place + 1]! * im;
      rhs[2 * place + 1] = own[4 * place + 2]! * re + own[4 * place + 3]! * im;
    }
    return true;
  }

  /** What is not eliminated, with pivoting. */
  private solveRest(): boolean {
    const { own, earlier, later, rhs, starts, rows, eliminated, places } = this;
    const rest = places - eliminated;
    if (rest === 0) return true;
    const width = 2 * rest;
    const matrix = new Float64Array(width * width);
    const put = (row: number, column: number, blocks: Float64Array, block: number): void => {
      const at = 2 * (row - eliminated) * width + 2 * (column - eliminated);
      matrix[at]! += blocks[4 * block]!;
      matrix[at + 1]! += blocks[4 * block + 1]!;
      matrix[at + width]! += blocks[4 * block + 2]!;
      matrix[at + width + 1]! += blocks[4 * block + 3]!;
    };
    for (let place = eliminated; place < this.nets; place++) {
      put(place, place, own, place);
      for (let k = starts[place]!; k < starts[place + 1]!; k++) {
        put(place, rows[k]!, earlier, k);
        put(rows[k]!, place, later, k);
      }
    }
    this.unloaded.branches.forEach((branch, k) => {
      const own = this.nets + k;
      put(own, own, blockOf(-branch.zRe, -branch.zIm), 0);
      branch.nets.forEach((net, end) => {
        const place = this.placeOf[net]!;
        if (place < 0) return;
        put(own, place, blockOf(branch.rowRe[end]!, branch.rowIm[end]!), 0);
        put(place, own, blockOf(branch.columnRe[end]!, branch.columnIm[end]!), 0);
      });
    });
    const answer = rhs.slice(2 * eliminated);
    if (solveReal(matrix, answer) <= 0) return false;
    rhs.set(answer, 2 * eliminated);
    return true;
  }
}

function blockOf(re: number, im: number): Float64Array {
  return Float64Array.of(re, -im, im, re);
}

function addComplex(blocks: Float64Array, block: number, re: number, im: number): void {
  add(blocks, block, re, -im, im, re);
}

function add(blocks: Float64Array, block: number, rr: number, ri: number, ir: number, ii: number): void {
  blocks[4 * block]! += rr;
  blocks[4 * block + 1]! += ri;
  blocks[4 * block + 2]! += ir;
  blocks[4 * block + 3]! += ii;
}
