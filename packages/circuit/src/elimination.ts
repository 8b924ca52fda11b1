/**
 * In which order the nets of a network are eliminated, and which admittances that makes: found once for a topology, nets with few
 * neighbours first, and kept for every set of figures on it.
 */

import { ByDegree, Neighbours } from './neighbours.js';

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

function isEqual(one: Int32Array | Uint8Array, other: Int32Array | Uint8Array): boolean {
  if (one.length !== other.length) return false;
  for (let k = 0; k < one.length; k++) if (one[k] !== other[k]) return false;
  return true;
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

/**
 * Nets with up to this many neighbours are as good as one another: to take the ends of a long cable first would cost a little less, but all of it
 * would then depend on all of it, and one volt could not be worked out without the others.
 */
const EASY = 5;

/** Dead ends come first: nothing flows in them, and taken out first they have exactly the volts of where they begin. */
function rankOf(degree: number, isLate: boolean): number {
  if (isLate) return Math.max(EASY + 1, degree);
  return degree < 2 ? degree : Math.max(EASY, degree);
}

export function eliminationOf(topology: Topology): Elimination {
  const { nets, reference, pinned, late, from, to } = topology;
  const rank = (net: number): number => rankOf(neighbours.degree(net), late[net] === 1);
  const neighbours = new Neighbours(nets, reference, from, to);
  const queue = new ByDegree(nets, nets + EASY + 1);
  for (let net = 0; net < nets; net++) {
    if (reference[net] !== 1 && pinned[net] !== 1) queue.put(net, rank(net));
  }
  const netAt = new Int32Array(nets);
  const positionOf = new Int32Array(nets).fill(-1);
  let eliminated = 0;
  let early = -1;
  let entries = 0;
  for (let net = queue.take(); net >= 0; net = queue.take()) {
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
      if (pinned[other] !== 1) queue.put(other, rank(other));
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
  let filled = 0;
  for (let position = 0; position < size; position++) {
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
  const entryOf = new Int32Array(from.length);
  for (let k = 0; k < from.length; k++) entryOf[k] = entryAt(positionOf[from[k]!]!, positionOf[to[k]!]!, starts, rows);
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
  let high = starts[Math.min(one, other) + 1]! - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]! < row) low = middle + 1;
    else high = middle;
  }
  return low;
}
