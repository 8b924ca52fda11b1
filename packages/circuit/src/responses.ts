/** Volts that currents driven through branches of an edited network cause, group by group: what figures lean on, and by how much. */

import type { Column, EditedNetwork } from './edited-network.js';

/** Amps driven into each branch's `a` and taken out at its `b`; its group, counted from 0. */
export interface Drives {
  readonly count: number;
  readonly groups: readonly number[];
  readonly branches: readonly number[];
  readonly re: readonly number[];
  readonly im: readonly number[];
}

/** Worked out node by node, as it is asked for. */
export class Responses {
  /** Per group, the current that each edit adds to its branch. */
  private readonly drawn: { readonly re: number[]; readonly im: number[] }[] = [];
  private readonly rows: (Column | undefined)[] = [];
  private readonly driven: readonly Column[];

  constructor(
    edited: EditedNetwork,
    private readonly columns: readonly Column[],
    private readonly drives: Drives,
  ) {
    const { count, groups, branches, re, im } = drives;
    const { network, edits } = edited;
    this.driven = branches.map((branch) => network.column(branch));
    if (edits.length === 0) return;
    for (let group = 0; group < count; group++) this.drawn.push({ re: zeros(edits.length), im: zeros(edits.length) });
    for (let k = 0; k < edits.length; k++) {
      const { a, b } = network.branches[edits[k]!.branch]!;
      for (let p = 0; p < branches.length; p++) {
        const column = this.driven[p]!;
        const zr = column.re[a]! - column.re[b]!;
        const zi = column.im[a]! - column.im[b]!;
        const drawn = this.drawn[groups[p]!]!;
        drawn.re[k]! += zr * re[p]! - zi * im[p]!;
        drawn.im[k]! += zr * im[p]! + zi * re[p]!;
      }
    }
    for (const drawn of this.drawn) edited.draw(drawn.re, drawn.im);
  }

  /** Per group the volts at a node. */
  at(node: number): Column {
    let row = this.rows[node];
    if (row === undefined) {
      row = this.rowOf(node);
      this.rows[node] = row;
    }
    return row;
  }

  private rowOf(node: number): Column {
    const { count, groups, re, im } = this.drives;
    const { driven, columns, drawn } = this;
    const rowRe = new Float64Array(count);
    const rowIm = new Float64Array(count);
    for (let p = 0; p < driven.length; p++) {
      const zr = driven[p]!.re[node]!;
      const zi = driven[p]!.im[node]!;
      const group = groups[p]!;
      rowRe[group]! += zr * re[p]! - zi * im[p]!;
      rowIm[group]! += zr * im[p]! + zi * re[p]!;
    }
    for (let k = 0; k < columns.length; k++) {
      const zr = columns[k]!.re[node]!;
      const zi = columns[k]!.im[node]!;
      for (let group = 0; group < count; group++) {
        const dr = drawn[group]!.re[k]!;
        const di = drawn[group]!.im[k]!;
        rowRe[group]! -= zr * dr - zi * di;
        rowIm[group]! -= zr * di + zi * dr;
      }
    }
    return { re: rowRe, im: rowIm };
  }
}

function zeros(count: number): number[] {
  const list: number[] = [];
  for (let k = 0; k < count; k++) list.push(0);
  return list;
}
