/** Volts that currents driven through branches of an edited network cause, group by group: what figures lean on, and by how much. */

import type { Column, EditedNetwork } from './edited-network.js';
import { zeros } from './small-lu.js';

/** Amps driven into each branch's `a` and taken out at its `b`; its group, counted from 0. */
export interface Drives {
  readonly count: number;
  readonly groups: readonly number[];
  readonly branches: readonly number[];
  readonly re: readonly number[];
  readonly im: readonly number[];
}

/** Worked out node by node, as it is asked for. On plain lists: there are very many of these, each of a few figures. */
export class Responses {
  /** Per edit and group, the current that the edit adds to its branch. */
  private readonly drawnRe: number[];
  private readonly drawnIm: number[];
  private readonly driven: readonly Column[];
  /** Row after row: per group the volts at a node. */
  private readonly re: number[] = [];
  private readonly im: number[] = [];
  private readonly starts: number[] = [];

  constructor(
    edited: EditedNetwork,
    private readonly columns: readonly Column[],
    private readonly drives: Drives,
  ) {
    const { count, groups, branches, re, im } = drives;
    const { network, edits } = edited;
    this.driven = branches.map((branch) => network.column(branch));
    this.drawnRe = zeros(edits.length * count);
    this.drawnIm = zeros(edits.length * count);
    if (edits.length === 0) return;
    for (let k = 0; k < edits.length; k++) {
      const { a, b } = network.branches[edits[k]!.branch]!;
      for (let p = 0; p < branches.length; p++) {
        const column = this.driven[p]!;
        const zr = column.re[a]! - column.re[b]!;
        const zi = column.im[a]! - column.im[b]!;
        const at = k * count + groups[p]!;
        this.drawnRe[at]! += zr * re[p]! - zi * im[p]!;
        this.drawnIm[at]! += zr * im[p]! + zi * re[p]!;
      }
    }
    edited.drawAll(this.drawnRe, this.drawnIm, count);
  }

  /** Puts the volts from a to b that each group causes into `re` and `im`. */
  between(a: number, b: number, re: number[], im: number[]): void {
    const { count } = this.drives;
    const here = this.rowOf(a);
    const there = this.rowOf(b);
    for (let group = 0; group < count; group++) {
      re[group] = this.re[here + group]! - this.re[there + group]!;
      im[group] = this.im[here + group]! - this.im[there + group]!;
    }
  }

  /** Where a node's row starts. */
  private rowOf(node: number): number {
    const known = this.starts[node];
    if (known !== undefined) return known;
    const { count, groups, re, im } = this.drives;
    const { driven, columns, drawnRe, drawnIm } = this;
    const rowRe = this.re;
    const rowIm = this.im;
    const start = rowRe.length;
    for (let group = 0; group < count; group++) {
      rowRe.push(0);
      rowIm.push(0);
    }
    for (let p = 0; p < driven.length; p++) {
      const zr = driven[p]!.re[node]!;
      const zi = driven[p]!.im[node]!;
      const at = start + groups[p]!;
      rowRe[at]! += zr * re[p]! - zi * im[p]!;
      rowIm[at]! += zr * im[p]! + zi * re[p]!;
    }
    for (let k = 0; k < columns.length; k++) {
      const zr = columns[k]!.re[node]!;
      const zi = columns[k]!.im[node]!;
      for (let group = 0; group < count; group++) {
        const dr = drawnRe[k * count + group]!;
        const di = drawnIm[k * count + group]!;
        rowRe[start + group]! -= zr * dr - zi * di;
        rowIm[start + group]! -= zr * di + zi * dr;
      }
    }
    this.starts[node] = start;
    return start;
  }
}
