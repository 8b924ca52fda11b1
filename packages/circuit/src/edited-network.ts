/**
 * A linear network of which a few branches at a time are changed: factored once, and every change is worked out from the volts that one ampere
 * through the branch causes (Sherman, Morrison and Woodbury). Made for many what-ifs about one network, good to about 1e-6 of the largest volts
 * when opens and shorts are given as large and small ohms; what the solver shows as figures comes from `prepare`.
 */

import { SmallLu } from './small-lu.js';
import type { Phasor } from './network.js';
import { NodalSystem } from './nodal.js';
import { UnionFind } from './union-find.js';

/** Siemens and EMF of a branch: current from `a` to `b` is (re + j im) x (volts from a to b - emf). Nodes count from 0. */
export interface BranchFigures {
  readonly re: number;
  readonly im: number;
  readonly emfRe: number;
  readonly emfIm: number;
}

export interface LinearBranch extends BranchFigures {
  readonly a: number;
  readonly b: number;
}

export interface BranchEdit extends BranchFigures {
  readonly branch: number;
}

interface Column {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

export class EditableNetwork {
  private readonly system: NodalSystem;
  private readonly columns = new Map<number, Column>();
  private readonly base: Column;
  private readonly part: Int32Array;
  /** False when the network has no single answer: nothing is to be asked of it then. */
  readonly isSound: boolean;

  constructor(
    readonly nodes: number,
    readonly branches: readonly LinearBranch[],
  ) {
    const sets = new UnionFind(nodes);
    for (const { a, b } of branches) sets.join(a, b);
    this.part = Int32Array.from({ length: nodes }, (_, node) => sets.find(node));
    const reference = Uint8Array.from(this.part, (root, node) => (root === node ? 1 : 0));
    this.system = new NodalSystem(nodes, reference, undefined, branches.length);
    this.base = { re: new Float64Array(nodes), im: new Float64Array(nodes) };
    for (const { a, b, re, im, emfRe, emfIm } of branches) {
      if (a === b) continue;
      this.system.connect(a, b, re, im);
      const pushedRe = re * emfRe - im * emfIm;
      const pushedIm = re * emfIm + im * emfRe;
      this.base.re[a]! += pushedRe;
      this.base.im[a]! += pushedIm;
      this.base.re[b]! -= pushedRe;
      this.base.im[b]! -= pushedIm;
    }
    this.isSound = this.system.factor() < 0;
    if (this.isSound) this.solve(this.base);
  }

  /** Whether anything at all joins two nodes. */
  areJoined(a: number, b: number): boolean {
    return this.part[a] === this.part[b];
  }

  /** Volts at every node for one ampere driven into `a` and taken out at `b`; kept. */
  column(a: number, b: number): Column {
    const key = a * this.nodes + b;
    const known = this.columns.get(key);
    if (known !== undefined) return known;
    const made = { re: new Float64Array(this.nodes), im: new Float64Array(this.nodes) };
    if (a !== b) {
      made.re[a] = 1;
      made.re[b] = -1;
      this.solve(made);
    }
    this.columns.set(key, made);
    return made;
  }

  /** The network with these branches at other figures; at most one edit a branch. */
  edited(edits: readonly BranchEdit[]): EditedNetwork {
    return new EditedNetwork(this, this.base, edits);
  }

  private solve({ re, im }: Column): void {
    this.system.solve(re, im, new Float64Array(0), new Float64Array(0));
  }
}

export class EditedNetwork {
  private readonly columns: readonly Column[];
  /** Current that each edit adds to its branch. */
  private readonly addedRe: number[] = [];
  private readonly addedIm: number[] = [];
  private readonly lu: SmallLu;
  private readonly changeRe: number[] = [];
  private readonly changeIm: number[] = [];
  readonly isSound: boolean;

  constructor(
    private readonly network: EditableNetwork,
    private readonly base: Column,
    readonly edits: readonly BranchEdit[],
  ) {
    const count = edits.length;
    const { branches } = network;
    this.columns = edits.map(({ branch }) => network.column(branches[branch]!.a, branches[branch]!.b));
    this.lu = new SmallLu(count);
    const re: number[] = [];
    const im: number[] = [];
    const pushedRe: number[] = [];
    const pushedIm: number[] = [];
    edits.forEach((edit, k) => {
      const was = branches[edit.branch]!;
      this.changeRe[k] = edit.re - was.re;
      this.changeIm[k] = edit.im - was.im;
      const now = times(edit.re, edit.im, edit.emfRe, edit.emfIm);
      const before = times(was.re, was.im, was.emfRe, was.emfIm);
      pushedRe[k] = now.re - before.re;
      pushedIm[k] = now.im - before.im;
    });
    edits.forEach(({ branch }, row) => {
      const { a, b } = branches[branch]!;
      re[row] = base.re[a]! - base.re[b]!;
      im[row] = base.im[a]! - base.im[b]!;
      this.lu.add(row, row, 1, 0);
      for (let k = 0; k < count; k++) {
        const zr = this.columns[k]!.re[a]! - this.columns[k]!.re[b]!;
        const zi = this.columns[k]!.im[a]! - this.columns[k]!.im[b]!;
        const { re: cr, im: ci } = times(zr, zi, this.changeRe[k]!, this.changeIm[k]!);
        this.lu.add(row, k, cr, ci);
        re[row]! += zr * pushedRe[k]! - zi * pushedIm[k]!;
        im[row]! += zr * pushedIm[k]! + zi * pushedRe[k]!;
      }
    });
    this.isSound = count === 0 || this.lu.factor() < 0;
    if (!this.isSound) return;
    if (count > 0) this.lu.solve(re, im);
    for (let k = 0; k < count; k++) {
      const through = times(this.changeRe[k]!, this.changeIm[k]!, re[k]!, im[k]!);
      this.addedRe[k] = through.re - pushedRe[k]!;
      this.addedIm[k] = through.im - pushedIm[k]!;
    }
  }

  /** Volts from node a to node b. */
  volts(a: number, b: number): Phasor {
    let re = this.base.re[a]! - this.base.re[b]!;
    let im = this.base.im[a]! - this.base.im[b]!;
    for (let k = 0; k < this.edits.length; k++) {
      const column = this.columns[k]!;
      const zr = column.re[a]! - column.re[b]!;
      const zi = column.im[a]! - column.im[b]!;
      re -= zr * this.addedRe[k]! - zi * this.addedIm[k]!;
      im -= zr * this.addedIm[k]! + zi * this.addedRe[k]!;
    }
    return { re, im };
  }

  /** What a branch has in this network. */
  figures(branch: number): BranchFigures {
    return this.edits.find((edit) => edit.branch === branch) ?? this.network.branches[branch]!;
  }

  /** Amps from `a` to `b` through a branch. */
  amps(branch: number): Phasor {
    const { re, im, emfRe, emfIm } = this.figures(branch);
    const { a, b } = this.network.branches[branch]!;
    const volts = this.volts(a, b);
    return times(re, im, volts.re - emfRe, volts.im - emfIm);
  }

  /** For one ampere driven into `a` and taken out at `b`: the volts that it causes across each of `branches`, put into `re` and `im`. */
  across(a: number, b: number, branches: ArrayLike<number>, re: Float64Array, im: Float64Array): void {
    const own = this.network.column(a, b);
    const { drawnRe, drawnIm } = this.drawnBy(own);
    const count = this.edits.length;
    for (let j = 0; j < branches.length; j++) {
      const { a: c, b: d } = this.network.branches[branches[j]!]!;
      let zr = own.re[c]! - own.re[d]!;
      let zi = own.im[c]! - own.im[d]!;
      for (let k = 0; k < count; k++) {
        const column = this.columns[k]!;
        const cr = column.re[c]! - column.re[d]!;
        const ci = column.im[c]! - column.im[d]!;
        zr -= cr * drawnRe[k]! - ci * drawnIm[k]!;
        zi -= cr * drawnIm[k]! + ci * drawnRe[k]!;
      }
      re[j] = zr;
      im[j] = zi;
    }
  }

  /** Ohms seen from a to b with every EMF at none. */
  ohms(a: number, b: number): Phasor {
    const own = this.network.column(a, b);
    const { drawnRe, drawnIm } = this.drawnBy(own);
    let re = own.re[a]! - own.re[b]!;
    let im = own.im[a]! - own.im[b]!;
    for (let k = 0; k < this.edits.length; k++) {
      const column = this.columns[k]!;
      const cr = column.re[a]! - column.re[b]!;
      const ci = column.im[a]! - column.im[b]!;
      re -= cr * drawnRe[k]! - ci * drawnIm[k]!;
      im -= cr * drawnIm[k]! + ci * drawnRe[k]!;
    }
    return { re, im };
  }

  /** The current that each edit adds to its branch when a column's ampere flows. */
  private drawnBy(own: Column): { readonly drawnRe: readonly number[]; readonly drawnIm: readonly number[] } {
    const count = this.edits.length;
    const drawnRe: number[] = [];
    const drawnIm: number[] = [];
    if (count === 0) return { drawnRe, drawnIm };
    for (let k = 0; k < count; k++) {
      const { a, b } = this.network.branches[this.edits[k]!.branch]!;
      drawnRe[k] = own.re[a]! - own.re[b]!;
      drawnIm[k] = own.im[a]! - own.im[b]!;
    }
    this.lu.solve(drawnRe, drawnIm);
    for (let k = 0; k < count; k++) {
      const through = times(this.changeRe[k]!, this.changeIm[k]!, drawnRe[k]!, drawnIm[k]!);
      drawnRe[k] = through.re;
      drawnIm[k] = through.im;
    }
    return { drawnRe, drawnIm };
  }
}

function times(ar: number, ai: number, br: number, bi: number): Phasor {
  return { re: ar * br - ai * bi, im: ar * bi + ai * br };
}
