/**
 * A linear network of which a few branches at a time are changed: factored once, and every change is worked out from the volts that one ampere
 * through the branch causes (Sherman, Morrison and Woodbury). Made for many what-ifs about one network, good to about 1e-6 of the largest volts
 * when opens and shorts are given as large and small ohms; what the solver shows as figures comes from `prepare`.
 */

import type { Phasor } from './network.js';
import { Connections } from './connections.js';
import type { NodalSystem } from './nodal.js';
import { type Drives, Responses } from './responses.js';
import { SmallLu } from './small-lu.js';
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

/** Volts per node. */
export interface Column {
  readonly re: readonly number[];
  readonly im: readonly number[];
}

export class EditableNetwork {
  private readonly system: NodalSystem;
  private readonly columns: (Column | undefined)[] = [];
  private readonly betweenNodes = new Map<number, Column>();
  readonly base: Column;
  /** Currents into the nodes, put down to be solved for. */
  private readonly re: Float64Array;
  private readonly im: Float64Array;
  /** False when the network has no single answer: nothing is to be asked of it then. */
  readonly isSound: boolean;

  constructor(
    readonly nodes: number,
    readonly branches: readonly LinearBranch[],
  ) {
    const sets = new UnionFind(nodes);
    for (const { a, b } of branches) sets.join(a, b);
    const reference = new Uint8Array(nodes);
    for (let node = 0; node < nodes; node++) if (sets.find(node) === node) reference[node] = 1;
    const connections = new Connections(nodes, reference, branches.length);
    this.re = new Float64Array(nodes);
    this.im = new Float64Array(nodes);
    for (const { a, b, re, im, emfRe, emfIm } of branches) {
      if (a === b) continue;
      connections.connect(a, b, re, im);
      const pushedRe = re * emfRe - im * emfIm;
      const pushedIm = re * emfIm + im * emfRe;
      this.re[a]! += pushedRe;
      this.im[a]! += pushedIm;
      this.re[b]! -= pushedRe;
      this.im[b]! -= pushedIm;
    }
    this.system = connections.system();
    this.isSound = this.system.factor() < 0;
    this.base = this.isSound ? this.solved() : { re: [], im: [] };
  }

  /** Volts at every node for one ampere driven into a branch's `a` and taken out at its `b`; kept. */
  column(branch: number): Column {
    let column = this.columns[branch];
    if (column === undefined) {
      const { a, b } = this.branches[branch]!;
      column = this.between(a, b);
      this.columns[branch] = column;
    }
    return column;
  }

  /** The same for any two nodes; kept. */
  between(a: number, b: number): Column {
    const key = a * this.nodes + b;
    const known = this.betweenNodes.get(key);
    if (known !== undefined) return known;
    if (a !== b) {
      this.re[a] = 1;
      this.re[b] = -1;
    }
    const made = this.solved();
    this.betweenNodes.set(key, made);
    return made;
  }

  /** Volts for the currents that are put down; these are cleared. */
  private solved(): Column {
    const { nodes, re, im } = this;
    this.system.solve(re, im, NONE, NONE);
    const column = { re: [] as number[], im: [] as number[] };
    for (let node = 0; node < nodes; node++) {
      column.re.push(re[node]!);
      column.im.push(im[node]!);
    }
    re.fill(0);
    im.fill(0);
    return column;
  }

  /** The network with these branches at other figures; at most one edit a branch. */
  edited(edits: readonly BranchEdit[]): EditedNetwork {
    return new EditedNetwork(this, edits);
  }
}

const NONE = new Float64Array(0);

export class EditedNetwork {
  private readonly columns: Column[] = [];
  private readonly ends: number[] = [];
  /** Siemens that each edit adds to its branch, and the current that it does. */
  private readonly changeRe: number[] = [];
  private readonly changeIm: number[] = [];
  private readonly addedRe: number[] = [];
  private readonly addedIm: number[] = [];
  private readonly lu: SmallLu;

  constructor(
    readonly network: EditableNetwork,
    readonly edits: readonly BranchEdit[],
  ) {
    const { branches, base } = network;
    const count = edits.length;
    const { columns, ends, changeRe, changeIm, addedRe, addedIm } = this;
    this.lu = new SmallLu(count);
    for (let k = 0; k < count; k++) {
      const { branch, re, im, emfRe, emfIm } = edits[k]!;
      const was = branches[branch]!;
      columns.push(network.column(branch));
      ends.push(was.a, was.b);
      changeRe.push(re - was.re);
      changeIm.push(im - was.im);
      addedRe.push(re * emfRe - im * emfIm - (was.re * was.emfRe - was.im * was.emfIm));
      addedIm.push(re * emfIm + im * emfRe - (was.re * was.emfIm + was.im * was.emfRe));
    }
    const { lu } = this;
    const re: number[] = [];
    const im: number[] = [];
    for (let row = 0; row < count; row++) {
      const a = ends[2 * row]!;
      const b = ends[2 * row + 1]!;
      let sumRe = base.re[a]! - base.re[b]!;
      let sumIm = base.im[a]! - base.im[b]!;
      for (let k = 0; k < count; k++) {
        const column = columns[k]!;
        const zr = column.re[a]! - column.re[b]!;
        const zi = column.im[a]! - column.im[b]!;
        const cr = changeRe[k]!;
        const ci = changeIm[k]!;
        lu.add(row, k, zr * cr - zi * ci + (row === k ? 1 : 0), zr * ci + zi * cr);
        sumRe += zr * addedRe[k]! - zi * addedIm[k]!;
        sumIm += zr * addedIm[k]! + zi * addedRe[k]!;
      }
      re.push(sumRe);
      im.push(sumIm);
    }
    if (lu.factor() >= 0) return;
    lu.solve(re, im);
    for (let k = 0; k < count; k++) {
      const cr = changeRe[k]!;
      const ci = changeIm[k]!;
      addedRe[k] = cr * re[k]! - ci * im[k]! - addedRe[k]!;
      addedIm[k] = cr * im[k]! + ci * re[k]! - addedIm[k]!;
    }
  }

  /** Volts from node a to node b. */
  volts(a: number, b: number): Phasor {
    const { columns, addedRe, addedIm } = this;
    const { base } = this.network;
    let re = base.re[a]! - base.re[b]!;
    let im = base.im[a]! - base.im[b]!;
    for (let k = 0; k < columns.length; k++) {
      const column = columns[k]!;
      const zr = column.re[a]! - column.re[b]!;
      const zi = column.im[a]! - column.im[b]!;
      re -= zr * addedRe[k]! - zi * addedIm[k]!;
      im -= zr * addedIm[k]! + zi * addedRe[k]!;
    }
    return { re, im };
  }

  /** What a branch has in this network. */
  figures(branch: number): BranchFigures {
    for (const edit of this.edits) if (edit.branch === branch) return edit;
    return this.network.branches[branch]!;
  }

  /** Amps from `a` to `b` through a branch. */
  amps(branch: number): Phasor {
    const { re, im, emfRe, emfIm } = this.figures(branch);
    const { a, b } = this.network.branches[branch]!;
    const volts = this.volts(a, b);
    const dr = volts.re - emfRe;
    const di = volts.im - emfIm;
    return { re: re * dr - im * di, im: re * di + im * dr };
  }

  /** Ohms seen from a to b with every EMF at none. */
  ohms(a: number, b: number): Phasor {
    const own = this.network.between(a, b);
    const { columns, ends } = this;
    let re = own.re[a]! - own.re[b]!;
    let im = own.im[a]! - own.im[b]!;
    const drawnRe: number[] = [];
    const drawnIm: number[] = [];
    for (let k = 0; k < columns.length; k++) {
      drawnRe.push(own.re[ends[2 * k]!]! - own.re[ends[2 * k + 1]!]!);
      drawnIm.push(own.im[ends[2 * k]!]! - own.im[ends[2 * k + 1]!]!);
    }
    this.draw(drawnRe, drawnIm);
    for (let k = 0; k < columns.length; k++) {
      const column = columns[k]!;
      const cr = column.re[a]! - column.re[b]!;
      const ci = column.im[a]! - column.im[b]!;
      re -= cr * drawnRe[k]! - ci * drawnIm[k]!;
      im -= cr * drawnIm[k]! + ci * drawnRe[k]!;
    }
    return { re, im };
  }

  /** From the volts that something causes across each edit's branch before the edits, in place: the current that each edit then adds to it. */
  draw(re: number[], im: number[]): void {
    const { changeRe, changeIm } = this;
    this.lu.solve(re, im);
    for (let k = 0; k < re.length; k++) {
      const vr = re[k]!;
      const vi = im[k]!;
      re[k] = changeRe[k]! * vr - changeIm[k]! * vi;
      im[k] = changeRe[k]! * vi + changeIm[k]! * vr;
    }
  }

  /** The same for several at once: edit by edit, one beside the other. */
  drawAll(re: number[], im: number[], count: number): void {
    const edits = this.columns.length;
    const oneRe: number[] = [];
    const oneIm: number[] = [];
    for (let at = 0; at < count; at++) {
      for (let k = 0; k < edits; k++) {
        oneRe[k] = re[k * count + at]!;
        oneIm[k] = im[k * count + at]!;
      }
      this.draw(oneRe, oneIm);
      for (let k = 0; k < edits; k++) {
        re[k * count + at] = oneRe[k]!;
        im[k * count + at] = oneIm[k]!;
      }
    }
  }

  /** What currents driven through branches cause, group by group. */
  responses(drives: Drives): Responses {
    return new Responses(this, this.columns, drives);
  }
}
