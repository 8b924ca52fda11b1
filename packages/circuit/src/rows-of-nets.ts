/**
 * The nets of a network that are eliminated without a look at any list of neighbours: dead ends, and nets in a row between two others. In cables
 * that is nearly all of them.
 */

import type { Topology } from './elimination.js';

/** Columns as they come: per position, the nets that the net there is joined to when it is eliminated. */
export class NetColumns {
  starts: Int32Array;
  nets: Int32Array;
  filled = 0;

  constructor(positions: number, entries: number) {
    this.starts = new Int32Array(positions + 1);
    this.nets = new Int32Array(entries);
  }

  add(net: number): void {
    if (this.filled === this.nets.length) this.grow(1);
    this.nets[this.filled++] = net;
  }

  addAll(pool: Int32Array, start: number, end: number): void {
    if (this.filled + end - start > this.nets.length) this.grow(end - start);
    const { nets } = this;
    let { filled } = this;
    for (let k = start; k < end; k++) nets[filled++] = pool[k]!;
    this.filled = filled;
  }

  private grow(by: number): void {
    const longer = new Int32Array(2 * this.nets.length + by + 16);
    longer.set(this.nets);
    this.nets = longer;
  }
}

export class RowsOfNets {
  /** Per net: its position, or -1 while it is still in. */
  readonly positionOf: Int32Array;
  readonly netAt: Int32Array;
  readonly columns: NetColumns;
  count = 0;
  /** What is left: admittances between nets that are still in. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  left = 0;
  private readonly degrees: Int32Array;
  /** Per net: its admittances, one upon another. When all but one are known, so is that one. */
  private readonly all: Int32Array;
  private row: Int32Array = new Int32Array(64);

  constructor(private readonly topology: Topology) {
    const { nets, from, to } = topology;
    this.positionOf = new Int32Array(nets).fill(-1);
    this.netAt = new Int32Array(nets);
    this.columns = new NetColumns(nets, 2 * nets + 16);
    this.degrees = new Int32Array(nets);
    this.all = new Int32Array(nets);
    this.from = new Int32Array(from.length);
    this.to = new Int32Array(from.length);
    const { degrees, all } = this;
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      degrees[x]!++;
      degrees[y]!++;
      all[x]! ^= k;
      all[y]! ^= k;
    }
    this.takeDeadEnds();
    this.takeRows();
    this.gatherRest();
  }

  private isStaying(net: number): boolean {
    const { reference, pinned, late } = this.topology;
    return reference[net] === 1 || pinned[net] === 1 || late[net] === 1;
  }

  /** Nets that hang at one other alone, and then those that do because of that. */
  private takeDeadEnds(): void {
    const { from, to, nets } = this.topology;
    const { degrees, all, positionOf, netAt, columns } = this;
    let count = 0;
    for (let net = 0; net < nets; net++) {
      if (degrees[net]! > 1 || this.isStaying(net)) continue;
      positionOf[net] = count;
      netAt[count++] = net;
    }
    for (let head = 0; head < count; head++) {
      const net = netAt[head]!;
      if (degrees[net] !== 0) {
        const k = all[net]!;
        const other = from[k] === net ? to[k]! : from[k]!;
        columns.add(other);
        all[other]! ^= k;
        if (--degrees[other]! === 1 && positionOf[other]! < 0 && !this.isStaying(other)) {
          positionOf[other] = count;
          netAt[count++] = other;
        }
      }
      columns.starts[head + 1] = columns.filled;
    }
    this.count = count;
  }

  /** Nets with two neighbours that follow one another, from each net that has more. */
  private takeRows(): void {
    const { from, to } = this.topology;
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      if (this.isBetween(x)) {
        if (!this.isBetween(y) && this.positionOf[y]! < 0) this.takeRow(y, x, k);
      } else if (this.isBetween(y) && this.positionOf[x]! < 0) this.takeRow(x, y, k);
    }
  }

  private isBetween(net: number): boolean {
    return this.degrees[net] === 2 && this.positionOf[net]! < 0 && !this.isStaying(net);
  }

  /** The row that starts at `end` with `first`, by an admittance between them: every other net of it, then every other of those left. */
  private takeRow(end: number, first: number, by: number): void {
    const { from, to } = this.topology;
    const { all, columns, positionOf, netAt } = this;
    let { row } = this;
    let length = 0;
    let net = first;
    for (let k = by; this.isBetween(net); ) {
      if (length + 2 >= row.length) {
        const longer = new Int32Array(2 * row.length);
        longer.set(row);
        row = longer;
        this.row = row;
      }
      row[length++] = net;
      k ^= all[net]!;
      net = from[k] === net ? to[k]! : from[k]!;
      if (net === first) return;
    }
    const far = net;
    while (length > 0) {
      let kept = 0;
      let before = end;
      for (let at = 0; at < length; at++) {
        const own = row[at]!;
        if (at % 2 === 1) {
          row[kept++] = own;
          before = own;
          continue;
        }
        const after = at + 1 < length ? row[at + 1]! : far;
        columns.add(before);
        if (after !== before) columns.add(after);
        positionOf[own] = this.count;
        netAt[this.count++] = own;
        columns.starts[this.count] = columns.filled;
      }
      length = kept;
    }
    if (end === far) return;
    this.from[this.left] = end;
    this.to[this.left++] = far;
  }

  private gatherRest(): void {
    const { from, to } = this.topology;
    const { positionOf } = this;
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      if (positionOf[x]! >= 0 || positionOf[y]! >= 0) continue;
      this.from[this.left] = x;
      this.to[this.left++] = y;
    }
  }
}
