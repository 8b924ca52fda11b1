/**
 * Modified nodal equations of one state. Nets that touch nothing but resistive or inductive branches are eliminated one after another,
 * fewest neighbours first (dead ends, then series pairs, then stars into meshes): each step only adds, multiplies and divides figures of one
 * sign, so it needs no pivoting and loses no digits. What is left (nets of ideal sources, of fed windings, of capacitors) is solved densely
 * with pivoting.
 */

import { ComplexLu } from './dense.js';

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

export class NodalSystem {
  private readonly neighbours: number[][] = [];
  private readonly weightRe: number[][] = [];
  private readonly weightIm: number[][] = [];
  private readonly pinned: Uint8Array;
  private readonly branches: Branch[] = [];
  private readonly order: number[] = [];
  private readonly inverseRe: Float64Array;
  private readonly inverseIm: Float64Array;
  private tail: number[] = [];
  private lu = new ComplexLu(0);

  /** `reference` marks the nets held at zero volts (one an island, and all dead ones). */
  constructor(
    readonly nets: number,
    private readonly reference: Uint8Array,
  ) {
    for (let i = 0; i < nets; i++) {
      this.neighbours.push([]);
      this.weightRe.push([]);
      this.weightIm.push([]);
    }
    this.pinned = new Uint8Array(nets);
    this.inverseRe = new Float64Array(nets);
    this.inverseIm = new Float64Array(nets);
  }

  /** An admittance between two different nets. */
  connect(x: number, y: number, re: number, im: number): void {
    this.accumulate(x, y, re, im);
    this.accumulate(y, x, re, im);
  }

  /** Leaves a net to the part that is solved with pivoting. */
  pin(net: number): void {
    this.pinned[net] = 1;
  }

  /** Adds a current unknown; its number. */
  addBranch(branch: Branch): number {
    for (const net of branch.nets) this.pinned[net] = 1;
    this.branches.push(branch);
    return this.branches.length - 1;
  }

  /** Factors; the net at which the equations have no single answer, or -1. */
  factor(): number {
    this.eliminate();
    const tailOf = new Int32Array(this.nets).fill(-1);
    const tail: number[] = [];
    for (let net = 0; net < this.nets; net++) {
      if (this.reference[net] === 1 || this.pinned[net] !== 1) continue;
      tailOf[net] = tail.length;
      tail.push(net);
    }
    this.tail = tail;
    const size = tail.length;
    const lu = new ComplexLu(size + this.branches.length);
    for (let row = 0; row < size; row++) {
      const net = tail[row]!;
      const list = this.neighbours[net]!;
      for (let k = 0; k < list.length; k++) {
        const re = this.weightRe[net]![k]!;
        const im = this.weightIm[net]![k]!;
        lu.add(row, row, re, im);
        const column = tailOf[list[k]!]!;
        if (column >= 0) lu.add(row, column, -re, -im);
      }
    }
    this.branches.forEach((branch, b) => {
      const own = size + b;
      for (let k = 0; k < branch.nets.length; k++) {
        const at = tailOf[branch.nets[k]!]!;
        if (at < 0) continue;
        lu.add(own, at, branch.rowRe[k]!, branch.rowIm[k]!);
        lu.add(at, own, branch.columnRe[k]!, branch.columnIm[k]!);
      }
      lu.add(own, own, -branch.zRe, -branch.zIm);
    });
    this.lu = lu;
    const stuck = lu.factor();
    if (stuck < 0) return -1;
    return stuck < size ? tail[stuck]! : this.branches[stuck - size]!.nets[0]!;
  }

  /** Currents injected into the nets become their volts, in place; the EMFs of the branches become their currents. */
  solve(re: Float64Array, im: Float64Array, branchRe: Float64Array, branchIm: Float64Array): void {
    for (const net of this.order) {
      const jr = re[net]!;
      const ji = im[net]!;
      if (jr === 0 && ji === 0) continue;
      const list = this.neighbours[net]!;
      const wr = this.weightRe[net]!;
      const wi = this.weightIm[net]!;
      for (let k = 0; k < list.length; k++) {
        const to = list[k]!;
        re[to]! += wr[k]! * jr - wi[k]! * ji;
        im[to]! += wr[k]! * ji + wi[k]! * jr;
      }
    }
    const { tail, lu } = this;
    const size = tail.length;
    const br = new Float64Array(lu.size);
    const bi = new Float64Array(lu.size);
    for (let row = 0; row < size; row++) {
      br[row] = re[tail[row]!]!;
      bi[row] = im[tail[row]!]!;
    }
    for (let b = 0; b < this.branches.length; b++) {
      br[size + b] = branchRe[b]!;
      bi[size + b] = branchIm[b]!;
    }
    lu.solve(br, bi);
    for (let net = 0; net < this.nets; net++) {
      if (this.reference[net] !== 1) continue;
      re[net] = 0;
      im[net] = 0;
    }
    for (let row = 0; row < size; row++) {
      re[tail[row]!] = br[row]!;
      im[tail[row]!] = bi[row]!;
    }
    for (let b = 0; b < this.branches.length; b++) {
      branchRe[b] = br[size + b]!;
      branchIm[b] = bi[size + b]!;
    }
    for (let step = this.order.length - 1; step >= 0; step--) this.substitute(this.order[step]!, re, im);
  }

  private substitute(net: number, re: Float64Array, im: Float64Array): void {
    const list = this.neighbours[net]!;
    const wr = this.weightRe[net]!;
    const wi = this.weightIm[net]!;
    const jr = re[net]!;
    const ji = im[net]!;
    let vr = jr * this.inverseRe[net]! - ji * this.inverseIm[net]!;
    let vi = jr * this.inverseIm[net]! + ji * this.inverseRe[net]!;
    for (let k = 0; k < list.length; k++) {
      const from = list[k]!;
      vr += wr[k]! * re[from]! - wi[k]! * im[from]!;
      vi += wr[k]! * im[from]! + wi[k]! * re[from]!;
    }
    re[net] = vr;
    im[net] = vi;
  }

  private eliminate(): void {
    const queue: number[][] = [];
    const enqueue = (net: number): void => {
      const degree = this.neighbours[net]!.length;
      while (queue.length <= degree) queue.push([]);
      queue[degree]!.push(net);
    };
    const done = new Uint8Array(this.nets);
    for (let net = this.nets - 1; net >= 0; net--) {
      if (this.reference[net] === 1 || this.pinned[net] === 1) continue;
      enqueue(net);
    }
    let degree = 0;
    while (degree < queue.length) {
      const net = queue[degree]!.pop();
      if (net === undefined) {
        degree++;
        continue;
      }
      if (done[net] === 1 || this.neighbours[net]!.length !== degree) continue;
      done[net] = 1;
      this.starToMesh(net);
      for (const other of this.neighbours[net]!) {
        if (this.reference[other] === 1 || this.pinned[other] === 1) continue;
        enqueue(other);
        degree = Math.min(degree, this.neighbours[other]!.length);
      }
    }
  }

  private starToMesh(net: number): void {
    const list = this.neighbours[net]!;
    const wr = this.weightRe[net]!;
    const wi = this.weightIm[net]!;
    let sumRe = 0;
    let sumIm = 0;
    for (let k = 0; k < list.length; k++) {
      sumRe += wr[k]!;
      sumIm += wi[k]!;
    }
    const square = sumRe * sumRe + sumIm * sumIm;
    if (square > 0) {
      this.inverseRe[net] = sumRe / square;
      this.inverseIm[net] = -sumIm / square;
    }
    for (const other of list) this.forget(other, net);
    for (let k = 0; k < list.length; k++) {
      const yr = wr[k]!;
      const yi = wi[k]!;
      const shareRe = list.length === 1 ? 1 : yr * this.inverseRe[net]! - yi * this.inverseIm[net]!;
      const shareIm = list.length === 1 ? 0 : yr * this.inverseIm[net]! + yi * this.inverseRe[net]!;
      for (let m = k + 1; m < list.length; m++) {
        if (this.reference[list[k]!] === 1 && this.reference[list[m]!] === 1) continue;
        this.connect(list[k]!, list[m]!, shareRe * wr[m]! - shareIm * wi[m]!, shareRe * wi[m]! + shareIm * wr[m]!);
      }
      wr[k] = shareRe;
      wi[k] = shareIm;
    }
    this.order.push(net);
  }

  private accumulate(at: number, to: number, re: number, im: number): void {
    const list = this.neighbours[at]!;
    const known = list.indexOf(to);
    if (known >= 0) {
      this.weightRe[at]![known]! += re;
      this.weightIm[at]![known]! += im;
      return;
    }
    list.push(to);
    this.weightRe[at]!.push(re);
    this.weightIm[at]!.push(im);
  }

  private forget(at: number, gone: number): void {
    const list = this.neighbours[at]!;
    const position = list.indexOf(gone);
    const last = list.length - 1;
    const re = this.weightRe[at]!;
    const im = this.weightIm[at]!;
    list[position] = list[last]!;
    re[position] = re[last]!;
    im[position] = im[last]!;
    list.pop();
    re.pop();
    im.pop();
  }
}
