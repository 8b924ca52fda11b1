/**
 * In which order the nets of a network are eliminated, and which admittances that makes: found once for a topology, nets with few
 * neighbours first, and kept for every set of figures on it.
 */

import { blockColumns, type BlockColumns } from './block-columns.js';
import { Neighbours, Waiting } from './neighbours.js';
import { RowsOfNets } from './rows-of-nets.js';
import { isEqual, keptOr } from './same.js';

/** Positions: the eliminated nets in their order, then the nets that are left. Columns hold the later positions a net is joined to then. */
export interface Elimination {
  /** Whether any net is late, eliminated or not. */
  readonly hasLate: boolean;
  /** How many nets are eliminated before the first of the late ones. */
  readonly early: number;
  /** How many nets are eliminated. */
  readonly eliminated: number;
  /** The position from which on columns stand in blocks, one after another, of columns with the same rows. */
  readonly blocksFrom: number;
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

const NO_BLOCKS: BlockColumns = {
  nets: new Int32Array(0),
  eliminated: 0,
  early: 0,
  starts: new Int32Array(1),
  rows: new Int32Array(0),
};

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
    const found = keptOr(
      this.known,
      (one) => isSame(one.topology, topology),
      KEPT,
      () => ({ topology, elimination: eliminationOf(topology) }),
    );
    return found.elimination;
  }
}

export function eliminationOf(topology: Topology): Elimination {
  const { nets, reference, pinned, late, from, to } = topology;
  const easy = new RowsOfNets(topology);
  const { positionOf, netAt, columns } = easy;
  let eliminated = easy.count;
  let early = -1;
  /** Positions ahead of those in blocks. */
  let ahead = eliminated;
  let blocks = NO_BLOCKS;
  if (eliminated < nets) {
    const { left } = easy;
    const neighbours = new Neighbours(nets, reference, easy.from.subarray(0, left), easy.to.subarray(0, left));
    const waiting = new Waiting(nets, neighbours, late);
    const isWide = isGrid(topology, neighbours, positionOf);
    for (let net = 0; net < nets && !isWide; net++) {
      if (reference[net] !== 1 && pinned[net] !== 1 && positionOf[net]! < 0) waiting.put(net);
    }
    const enter = (net: number, position: number): void => {
      positionOf[net] = position;
      netAt[position] = net;
      const start = neighbours.starts[net]!;
      columns.addAll(neighbours.pool, start, start + neighbours.counts[net]!);
      columns.starts[position + 1] = columns.filled;
    };
    for (let net = waiting.take(); net >= 0; net = waiting.take()) {
      neighbours.eliminate(net);
      if (early < 0 && late[net] === 1) early = eliminated;
      enter(net, eliminated++);
      const { pool } = neighbours;
      const start = neighbours.starts[net]!;
      const end = start + neighbours.counts[net]!;
      for (let k = start; k < end; k++) if (pinned[pool[k]!] !== 1) waiting.put(pool[k]!);
    }
    ahead = eliminated;
    if (isWide || waiting.isLeft) {
      blocks = blockColumns(neighbours, topology, positionOf, isWide);
      blocks.nets.forEach((net, place) => {
        positionOf[net] = ahead + place;
        netAt[ahead + place] = net;
      });
      if (early < 0) early = ahead + blocks.early;
      eliminated += blocks.eliminated;
    } else {
      for (let net = 0; net < nets; net++) {
        if (pinned[net] !== 1 || reference[net] === 1) continue;
        neighbours.compact(net);
        enter(net, ahead++);
      }
    }
  }
  const size = ahead + blocks.nets.length;
  const starts = new Int32Array(size + 1);
  const rows = new Int32Array(columns.filled + blocks.rows.length);
  let filled = 0;
  for (let position = 0; position < ahead; position++) {
    const start = filled;
    const end = columns.starts[position + 1]!;
    for (let k = columns.starts[position]!; k < end; k++) {
      const row = positionOf[columns.nets[k]!]!;
      if (row > position) rows[filled++] = row;
    }
    if (filled - start > 1) sortRows(rows, start, filled);
    starts[position + 1] = filled;
  }
  for (let place = 0; place < blocks.nets.length; place++)
    starts[ahead + place + 1] = filled + blocks.starts[place + 1]!;
  for (let k = 0; k < blocks.rows.length; k++) rows[filled++] = ahead + blocks.rows[k]!;
  const entryOf = new Int32Array(from.length);
  for (let k = 0; k < from.length; k++) entryOf[k] = entryAt(positionOf[from[k]!]!, positionOf[to[k]!]!, starts, rows);
  if (early < 0) early = eliminated;
  return {
    hasLate: late.length > 0,
    early,
    eliminated,
    blocksFrom: Math.min(ahead, eliminated),
    size,
    netAt: netAt.subarray(0, size),
    entryOf,
    starts,
    rows: rows.subarray(0, filled),
  };
}

/** A net of a cable that has something hang at it has three neighbours; one of a grid has more. */
const WIDE_FROM = 4;

/** To cut fewer nets than this in two takes longer than it saves. */
const LARGE_FROM = 20_000;

/** Whether most of many nets that are left have more neighbours than those of cables. */
function isGrid({ nets, reference, pinned }: Topology, neighbours: Neighbours, positionOf: Int32Array): boolean {
  let left = 0;
  let wide = 0;
  for (let net = 0; net < nets; net++) {
    if (reference[net] === 1 || pinned[net] === 1 || positionOf[net]! >= 0) continue;
    left++;
    if (neighbours.degree(net) >= WIDE_FROM) wide++;
  }
  return left >= LARGE_FROM && 2 * wide > left;
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
  if (rows[low] === row) return low;
  let high = starts[Math.min(one, other) + 1]! - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]! < row) low = middle + 1;
    else high = middle;
  }
  return low;
}
