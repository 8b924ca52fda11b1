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

/** Added to the number of admittances of a net that is not to be eliminated here: none of them has few. */
const STAYS = 2 ** 30;

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
  /** Two per net, beside one another: how many admittances it has left, and these one upon another. When all but one are known, so is that one. */
  private readonly held: Int32Array;
  private row: Int32Array = new Int32Array(64);

  constructor(private readonly topology: Topology) {
    const { nets, from } = topology;
    this.positionOf = new Int32Array(nets).fill(-1);
    this.netAt = new Int32Array(nets);
    // None of these nets has more than two neighbours.
    this.columns = new NetColumns(nets, 2 * nets + 16);
    this.held = new Int32Array(2 * nets);
    this.from = new Int32Array(from.length);
    this.to = new Int32Array(from.length);
    this.holdAll();
    this.takeDeadEnds();
    this.takeRows();
    this.gatherRest();
  }

  private holdAll(): void {
    const { nets, from, to, reference, pinned, late } = this.topology;
    const { held } = this;
    const hasLate = late.length > 0;
    for (let net = 0; net < nets; net++) {
      if (reference[net] === 1 || pinned[net] === 1 || (hasLate && late[net] === 1)) held[2 * net] = STAYS;
    }
    for (let k = 0; k < from.length; k++) {
      const x = 2 * from[k]!;
      const y = 2 * to[k]!;
      held[x]!++;
      held[y]!++;
      held[x + 1]! ^= k;
      held[y + 1]! ^= k;
    }
  }

  /** Nets that hang at one other alone, and then those that do because of that. */
  private takeDeadEnds(): void {
    const { from, to, nets } = this.topology;
    const { held, positionOf, netAt, columns } = this;
    const { starts } = columns;
    let count = 0;
    let { filled } = columns;
    for (let net = 0; net < nets; net++) {
      if (held[2 * net]! > 1) continue;
      positionOf[net] = count;
      netAt[count++] = net;
    }
    for (let head = 0; head < count; head++) {
      const net = netAt[head]!;
      if (held[2 * net] !== 0) {
        const k = held[2 * net + 1]!;
        const other = from[k] === net ? to[k]! : from[k]!;
        columns.nets[filled++] = other;
        held[2 * other + 1]! ^= k;
        if (--held[2 * other]! === 1) {
          positionOf[other] = count;
          netAt[count++] = other;
        }
      }
      starts[head + 1] = filled;
    }
    columns.filled = filled;
    this.count = count;
  }

  /** Nets with two neighbours that follow one another, from each net that has more. */
  private takeRows(): void {
    const { from, to } = this.topology;
    const { held, positionOf } = this;
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      if (held[2 * x] === 2) {
        if (held[2 * y] !== 2 && positionOf[y]! < 0) this.takeRow(y, x, k);
      } else if (held[2 * y] === 2 && positionOf[x]! < 0) this.takeRow(x, y, k);
    }
  }

  /** The row that starts at `end` with `first`, by an admittance between them: every other net of it, then every other of those left. */
  private takeRow(end: number, first: number, by: number): void {
    const { from, to } = this.topology;
    const { held, columns, positionOf, netAt } = this;
    let { row } = this;
    let length = 0;
    let net = first;
    for (let k = by; held[2 * net] === 2; ) {
      if (length === row.length) {
        row = new Int32Array(2 * length);
        row.set(this.row);
        this.row = row;
      }
      row[length++] = net;
      k ^= held[2 * net + 1]!;
      net = from[k] === net ? to[k]! : from[k]!;
      if (net === first) return;
    }
    const far = net;
    const { nets, starts } = columns;
    let { filled } = columns;
    let { count } = this;
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
        nets[filled++] = before;
        if (after !== before) nets[filled++] = after;
        held[2 * own] = 0;
        positionOf[own] = count;
        netAt[count++] = own;
        starts[count] = filled;
      }
      length = kept;
    }
    columns.filled = filled;
    this.count = count;
    if (end === far) return;
    this.from[this.left] = end;
    this.to[this.left++] = far;
  }

  private gatherRest(): void {
    const { from, to } = this.topology;
    const { positionOf } = this;
    let { left } = this;
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      if (positionOf[x]! >= 0 || positionOf[y]! >= 0) continue;
      this.from[left] = x;
      this.to[left++] = y;
    }
    this.left = left;
  }
}
