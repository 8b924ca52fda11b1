/** The columns of nets in blocks: where each net is placed, and the rows of its column. */

import { type Blocks, blocksOf, type Left, leftOf } from './blocks-of-nets.js';
import type { Topology } from './elimination.js';
import type { Neighbours } from './neighbours.js';

export interface BlockColumns {
  /** In the order of elimination, then those that are not eliminated. */
  readonly nets: Int32Array;
  readonly eliminated: number;
  /** How many are eliminated before the first that is late. */
  readonly early: number;
  /** Column after column: places in `nets`, rising. */
  readonly starts: Int32Array;
  readonly rows: Int32Array;
}

const NONE = -1;

/** The columns of all nets that are left in a network: those without a position. `isWide` where most of them have many neighbours from the start. */
export function blockColumns(
  neighbours: Neighbours,
  topology: Topology,
  positionOf: Int32Array,
  isWide: boolean,
): BlockColumns {
  const left = leftOf(neighbours, topology, positionOf);
  const blocks = blocksOf(left, isWide);
  const places = placesOf(left, blocks, topology.late);
  const nets = left.nets.slice();
  for (let node = 0; node < left.eliminated; node++) nets[places.placeOf[node]!] = left.nets[node]!;
  return { nets, eliminated: left.eliminated, early: places.early, ...columnsOf(left, blocks, places) };
}

interface Places {
  readonly early: number;
  /** Per node. */
  readonly placeOf: Int32Array;
  /** Per group: the one in whose block it is; and of those that have a block, where it begins and how many columns it has. */
  readonly blockOf: Int32Array;
  readonly begins: Int32Array;
  readonly widths: Int32Array;
}

/** One block after another, each behind all that lead to it; those that nothing late leads to come first. */
function placesOf({ nets, eliminated }: Left, blocks: Blocks, late: Uint8Array): Places {
  const { nodes, groupStarts, parents, isTaken } = blocks;
  const groups = parents.length;
  const isLate = new Uint8Array(groups);
  for (let group = 0; group < groups; group++) {
    const end = groupStarts[group + 1]!;
    for (let k = groupStarts[group]!; k < end; k++) if (late[nets[nodes[k]!]!] === 1) isLate[group] = 1;
    if (isLate[group] === 1 && parents[group] !== NONE) isLate[parents[group]!] = 1;
  }
  const blockOf = new Int32Array(groups);
  const widths = new Int32Array(groups);
  for (let group = groups - 1; group >= 0; group--) {
    const parent = parents[group]!;
    blockOf[group] = isTaken[group] === 1 && isLate[group] === isLate[parent] ? blockOf[parent]! : group;
    widths[blockOf[group]!]! += groupStarts[group + 1]! - groupStarts[group]!;
  }
  /** The block of the parent where that is placed along with this one; behind all where not. */
  const above = (block: number): number => {
    const parent = parents[block]!;
    return parent === NONE || isLate[parent] !== isLate[block] ? groups : blockOf[parent]!;
  };
  const withBelow = widths.slice();
  let early = 0;
  for (let block = 0; block < groups; block++) {
    if (blockOf[block] !== block) continue;
    if (isLate[block] === 0) early += widths[block]!;
    if (above(block) < groups) withBelow[above(block)]! += withBelow[block]!;
  }
  const begins = new Int32Array(groups);
  /** Per block: where what leads to it ends, as far as it is placed; and of early ones and late ones that lead to none. */
  const ends = new Int32Array(groups);
  const ownEnds = [early, eliminated];
  for (let block = groups - 1; block >= 0; block--) {
    if (blockOf[block] !== block) continue;
    const over = above(block);
    const end = over < groups ? ends[over]! : ownEnds[isLate[block]!]!;
    begins[block] = end - widths[block]!;
    ends[block] = begins[block]!;
    if (over < groups) ends[over] = end - withBelow[block]!;
    else ownEnds[isLate[block]!] = end - withBelow[block]!;
  }
  const placeOf = Int32Array.from(nets, (_, node) => node);
  const next = begins.slice();
  for (let group = 0; group < groups; group++) {
    for (let k = groupStarts[group]!; k < groupStarts[group + 1]!; k++) placeOf[nodes[k]!] = next[blockOf[group]!]!++;
  }
  return { early, placeOf, blockOf, begins, widths };
}

function columnsOf(left: Left, blocks: Blocks, places: Places): Pick<BlockColumns, 'starts' | 'rows'> {
  const { blockOf, begins, widths } = places;
  const { eliminated } = left;
  const { rowStarts } = blocks;
  const blockAt = new Int32Array(eliminated);
  for (let group = 0; group < blockOf.length; group++) if (blockOf[group] === group) blockAt[begins[group]!] = group;
  const staying = amongStaying(left, blocks);
  const starts = new Int32Array(left.nets.length + 1);
  let total = 0;
  for (let place = 0; place < eliminated; ) {
    const block = blockAt[place]!;
    const beside = rowStarts[block + 1]! - rowStarts[block]!;
    for (let k = widths[block]! - 1; k >= 0; k--) {
      total += k + beside;
      starts[++place] = total;
    }
  }
  staying.forEach((list, k) => {
    total += list.length;
    starts[eliminated + k + 1] = total;
  });
  const sorted = sortedRows(left, blocks, places);
  const rows = new Int32Array(total);
  let filled = 0;
  for (let place = 0; place < eliminated; ) {
    const block = blockAt[place]!;
    const end = place + widths[block]!;
    const beside = sorted.subarray(rowStarts[block]!, rowStarts[block + 1]!);
    for (place++; place <= end; place++) {
      for (let row = place; row < end; row++) rows[filled++] = row;
      rows.set(beside, filled);
      filled += beside.length;
    }
    place = end;
  }
  for (const list of staying) {
    rows.set(list, filled);
    filled += list.length;
  }
  return { starts, rows };
}

/** Per block the places of its rows, rising: gone through row by row for all blocks at once. */
function sortedRows({ nets }: Left, { rowStarts, rows }: Blocks, { placeOf, blockOf }: Places): Int32Array {
  const groups = blockOf.length;
  const counts = new Int32Array(nets.length + 1);
  for (let group = 0; group < groups; group++) {
    if (blockOf[group] !== group) continue;
    for (let k = rowStarts[group]!; k < rowStarts[group + 1]!; k++) counts[placeOf[rows[k]!]! + 1]!++;
  }
  for (let place = 0; place < nets.length; place++) counts[place + 1]! += counts[place]!;
  const blocksWith = new Int32Array(counts[nets.length]!);
  const filled = counts.slice();
  for (let group = 0; group < groups; group++) {
    if (blockOf[group] !== group) continue;
    for (let k = rowStarts[group]!; k < rowStarts[group + 1]!; k++) blocksWith[filled[placeOf[rows[k]!]!]!++] = group;
  }
  const sorted = new Int32Array(rowStarts[groups]!);
  const ends = rowStarts.slice();
  for (let place = 0; place < nets.length; place++) {
    for (let k = counts[place]!; k < counts[place + 1]!; k++) sorted[ends[blocksWith[k]!]!++] = place;
  }
  return sorted;
}

/** Per node that is not eliminated: the later ones of these that it is joined to in the end, rising. */
function amongStaying(left: Left, { parents, rowStarts, rows }: Blocks): readonly Int32Array[] {
  const { nets, eliminated, starts, neighbours } = left;
  const lists = Array.from({ length: nets.length - eliminated }, () => [] as number[]);
  for (let group = 0; group < parents.length; group++) {
    if (parents[group] !== NONE) continue;
    for (let k = rowStarts[group]!; k < rowStarts[group + 1]!; k++) lists[rows[k]! - eliminated]!.push(group);
  }
  const marks = new Int32Array(nets.length).fill(NONE);
  return lists.map((lastGroups, k) => {
    const node = eliminated + k;
    const joined: number[] = [];
    const add = (list: Int32Array, from: number, to: number): void => {
      for (let at = from; at < to; at++) {
        const other = list[at]!;
        if (other <= node || marks[other] === node) continue;
        marks[other] = node;
        joined.push(other);
      }
    };
    add(neighbours, starts[node]!, starts[node + 1]!);
    for (const group of lastGroups) add(rows, rowStarts[group]!, rowStarts[group + 1]!);
    return Int32Array.from(joined).sort();
  });
}
