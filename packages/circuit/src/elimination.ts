/**
 * In which order the nets of a network are eliminated, and which admittances that makes: found once for a topology, nets with few
 * neighbours first, and kept for every set of figures on it.
 */

import { Neighbours, Waiting } from './neighbours.js';
import { isEqual } from './same.js';

/** Positions: the eliminated nets in their order, then the nets that are left. Columns hold the later positions a net is joined to then. */
export interface Elimination {
  /** Whether any net is late, eliminated or not. */
  readonly hasLate: boolean;
  /** How many nets are eliminated before the first of the late ones. */
  readonly early: number;
  /** How many nets are eliminated. */
  readonly eliminated: number;
  /** How many positions there are. */
  readonly size: number;
  /** Net at a position. */
  readonly netAt: Int32Array;
  /** Per admittance given: its entry in the columns, or -1 - position where it leads to a net at zero volts, or `NOWHERE`. */
  readonly entryOf: Int32Array;
  /** Per position, `size + 1` long: where its column starts. */
  readonly starts: Int32Array;
  /** Per entry: the later position, rising within a column. */
  readonly rows: Int32Array;
}

/** Both ends at zero volts. */
export const NOWHERE = -2_147_483_648;

export interface Topology {
  readonly nets: number;
  /** 1 for nets at zero volts. */
  readonly reference: Uint8Array;
  /** 1 for nets that are not eliminated. */
  readonly pinned: Uint8Array;
  /** 1 for nets that are eliminated once those with few neighbours are gone; empty where none is. */
  readonly late: Uint8Array;
  /** Ends of each admittance. */
  readonly from: Int32Array;
  readonly to: Int32Array;
}

function isSame(one: Topology, other: Topology): boolean {
  return (
    one.nets === other.nets &&
    isEqual(one.from, other.from) &&
    isEqual(one.to, other.to) &&
    isEqual(one.reference, other.reference) &&
    isEqual(one.pinned, other.pinned) &&
    isEqual(one.late, other.late)
  );
}

/** Topologies kept of one circuit: as many as its states usually have. */
const KEPT = 24;

/** Eliminations by topology; the ones used last are kept. */
export class Eliminations {
  private readonly known: { readonly topology: Topology; readonly elimination: Elimination }[] = [];

  of(topology: Topology): Elimination {
    const last = this.known[0];
    if (last !== undefined && isSame(last.topology, topology)) return last.elimination;
    const at = this.known.findIndex((one) => isSame(one.topology, topology));
    const found = at < 0 ? { topology, elimination: eliminationOf(topology) } : this.known.splice(at, 1)[0]!;
    this.known.unshift(found);
    if (this.known.length > KEPT) this.known.pop();
    return found.elimination;
  }
}

/** Takes nets off that hang at one other alone, and then those that hang at one other because of that; no fill comes of it. */
class DeadEnds {
  /** Per net: where it is among those taken off, or -1. */
  readonly positionOf: Int32Array;
  /** Nets taken off, in their order, and the admittance by which each hung at the rest, or -1. */
  readonly netAt: Int32Array;
  readonly by: Int32Array;
  count = 0;

  constructor({ nets, reference, pinned, late, from, to }: Topology) {
    const positionOf = new Int32Array(nets).fill(-1);
    const netAt = new Int32Array(nets);
    const by = new Int32Array(nets);
    const degrees = new Int32Array(nets);
    // All admittances of a net, one upon another: when one is left, it is that one.
    const all = new Int32Array(nets);
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      degrees[x]!++;
      degrees[y]!++;
      all[x]! ^= k;
      all[y]! ^= k;
    }
    const isStaying = (net: number): boolean => reference[net] === 1 || pinned[net] === 1 || late[net] === 1;
    let count = 0;
    for (let net = 0; net < nets; net++) {
      if (degrees[net]! > 1 || isStaying(net)) continue;
      positionOf[net] = count;
      netAt[count++] = net;
    }
    for (let head = 0; head < count; head++) {
      const net = netAt[head]!;
      if (degrees[net] === 0) {
        by[head] = -1;
        continue;
      }
      const k = all[net]!;
      by[head] = k;
      const other = from[k] === net ? to[k]! : from[k]!;
      all[other]! ^= k;
      if (--degrees[other]! !== 1 || positionOf[other]! >= 0 || isStaying(other)) continue;
      positionOf[other] = count;
      netAt[count++] = other;
    }
    this.positionOf = positionOf;
    this.netAt = netAt;
    this.by = by;
    this.count = count;
  }
}

export function eliminationOf(topology: Topology): Elimination {
  const { nets, reference, pinned, late, from, to } = topology;
  const ends = new DeadEnds(topology);
  const { positionOf, netAt } = ends;
  const neighbours = new Neighbours(nets, reference, positionOf, from, to);
  const waiting = new Waiting(nets, neighbours, late);
  for (let net = 0; net < nets; net++) {
    if (reference[net] !== 1 && pinned[net] !== 1 && positionOf[net]! < 0) waiting.put(net);
  }
  let eliminated = ends.count;
  let early = -1;
  let entries = ends.count;
  for (let net = waiting.take(); net >= 0; net = waiting.take()) {
    neighbours.eliminate(net);
    if (early < 0 && late[net] === 1) early = eliminated;
    positionOf[net] = eliminated;
    netAt[eliminated++] = net;
    const { pool } = neighbours;
    const start = neighbours.starts[net]!;
    const end = start + neighbours.counts[net]!;
    entries += end - start;
    for (let k = start; k < end; k++) {
      const other = pool[k]!;
      if (pinned[other] !== 1) waiting.put(other);
    }
  }
  let size = eliminated;
  for (let net = 0; net < nets; net++) {
    if (pinned[net] !== 1 || reference[net] === 1) continue;
    neighbours.compact(net);
    positionOf[net] = size;
    netAt[size++] = net;
    entries += neighbours.counts[net]!;
  }
  const starts = new Int32Array(size + 1);
  const rows = new Int32Array(entries);
  const entryOf = new Int32Array(from.length).fill(UNKNOWN);
  let filled = 0;
  for (let position = 0; position < ends.count; position++) {
    const k = ends.by[position]!;
    if (k >= 0) {
      const row = positionOf[from[k]!] === position ? positionOf[to[k]!]! : positionOf[from[k]!]!;
      entryOf[k] = row < 0 ? -1 - position : filled;
      if (row >= 0) rows[filled++] = row;
    }
    starts[position + 1] = filled;
  }
  for (let position = ends.count; position < size; position++) {
    const net = netAt[position]!;
    const own = neighbours.starts[net]!;
    const end = own + neighbours.counts[net]!;
    const start = filled;
    for (let k = own; k < end; k++) {
      const row = positionOf[neighbours.pool[k]!]!;
      if (row > position) rows[filled++] = row;
    }
    sortRows(rows, start, filled);
    starts[position + 1] = filled;
  }
  for (let k = 0; k < from.length; k++) {
    if (entryOf[k] === UNKNOWN) entryOf[k] = entryAt(positionOf[from[k]!]!, positionOf[to[k]!]!, starts, rows);
  }
  if (early < 0) early = eliminated;
  const hasLate = late.length > 0;
  return {
    hasLate,
    early,
    eliminated,
    size,
    netAt: netAt.subarray(0, size),
    entryOf,
    starts,
    rows: rows.subarray(0, filled),
  };
}

/** An entry that is still to be found. */
const UNKNOWN = 2_147_483_647;

function sortRows(rows: Int32Array, start: number, end: number): void {
  if (end - start > 16) {
    rows.subarray(start, end).sort();
    return;
  }
  for (let k = start + 1; k < end; k++) {
    const row = rows[k]!;
    let at = k - 1;
    for (; at >= start && rows[at]! > row; at--) rows[at + 1] = rows[at]!;
    rows[at + 1] = row;
  }
}

/** The entry between two positions; where one of them is at zero volts, -1 - the other. */
export function entryAt(one: number, other: number, starts: Int32Array, rows: Int32Array): number {
  if (one < 0 && other < 0) return NOWHERE;
  if (one < 0 || other < 0) return -1 - Math.max(one, other);
  const row = Math.max(one, other);
  let low = starts[Math.min(one, other)]!;
  if (rows[low] === row) return low;
  let high = starts[Math.min(one, other) + 1]! - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]! < row) low = middle + 1;
    else high = middle;
  }
  return low;
}
