/**
 * The nets of a network that are left when those with few neighbours are gone: many loops, as in a grid. They are put in an order that makes
 * few admittances, and in which nets that are joined to the same later ones follow one another: their columns are a block, worked on as one.
 */

import type { Topology } from './elimination.js';
import { dissect } from './dissection.js';
import { type Graph, minimumDegree, type Order } from './minimum-degree.js';
import type { Neighbours } from './neighbours.js';

const NONE = -1;

/** A net joined to more others than this, and than ten times the root of their number, comes last: to look through it time and again would take longest. */
const HUB_FROM = 64;

/** A grid that is cut takes up to so many products, times its nodes to the power of 1.5; what takes more is no grid (George, 1973, has 10). */
const MOST_PRODUCTS = 7;

/** A block takes over one before it where this share of its entries, at most, will hold nothing. */
const EMPTY_SHARE = 0.12;

/** As it is, a block of so many columns takes over any before it. */
const NARROW = 4;

/** What is left: nodes are numbered along `nets`, hubs are last of those that are eliminated, and lists of neighbours rise. */
export interface Left extends Graph {
  readonly nets: Int32Array;
  readonly eliminated: number;
  readonly hubs: number;
}

export function leftOf(
  neighbours: Neighbours,
  { nets: count, reference, pinned }: Topology,
  positionOf: Int32Array,
): Left {
  const usual: number[] = [];
  const staying: number[] = [];
  let ends = 0;
  for (let net = 0; net < count; net++) {
    if (reference[net] === 1 || positionOf[net]! >= 0) continue;
    neighbours.compact(net);
    ends += neighbours.counts[net]!;
    (pinned[net] === 1 ? staying : usual).push(net);
  }
  const most = Math.max(HUB_FROM, 10 * Math.sqrt(usual.length));
  const degree = (net: number): number => neighbours.counts[net]!;
  const hubs = usual.filter((net) => degree(net) > most).sort((x, y) => degree(x) - degree(y) || x - y);
  const nets = Int32Array.from([...usual.filter((net) => degree(net) <= most), ...hubs, ...staying]);
  const nodeOf = new Int32Array(count);
  const starts = new Int32Array(nets.length + 1);
  for (let node = 0; node < nets.length; node++) {
    nodeOf[nets[node]!] = node;
    starts[node + 1] = starts[node]! + degree(nets[node]!);
  }
  const filled = starts.slice();
  const listed = new Int32Array(ends);
  for (let node = 0; node < nets.length; node++) {
    const start = neighbours.starts[nets[node]!]!;
    for (let k = start; k < start + degree(nets[node]!); k++) listed[filled[nodeOf[neighbours.pool[k]!]!]!++] = node;
  }
  return { nets, eliminated: usual.length, hubs: hubs.length, starts, neighbours: listed };
}

/** Nodes in groups that are eliminated as one, in the order of elimination; blocks are groups with those that they took over. */
export interface Blocks {
  readonly nodes: Int32Array;
  readonly groupStarts: Int32Array;
  /** Per group: the first group of its rows, or -1; 1 where that took it over. */
  readonly parents: Int32Array;
  readonly isTaken: Uint8Array;
  /** Per group: the later nodes that it is joined to then. */
  readonly rowStarts: Int32Array;
  readonly rows: Int32Array;
  /** How many products of two figures elimination takes. */
  readonly products: number;
}

/** The nodes before the hubs in one order or another, and then the hubs. */
function orderOf(
  left: Left,
  ordering: (graph: Graph) => Order,
): { readonly nodes: Int32Array; readonly groupStarts: Int32Array } {
  const { eliminated, hubs, starts, neighbours } = left;
  const ordered = eliminated - hubs;
  const ownStarts = new Int32Array(ordered + 1);
  const own = new Int32Array(starts[ordered]!);
  let filled = 0;
  for (let node = 0; node < ordered; node++) {
    for (let k = starts[node]!; k < starts[node + 1]! && neighbours[k]! < ordered; k++) own[filled++] = neighbours[k]!;
    ownStarts[node + 1] = filled;
  }
  const order = ordering({ starts: ownStarts, neighbours: own.subarray(0, filled) });
  const nodes = new Int32Array(eliminated);
  nodes.set(order.nodes);
  const groups = order.groups.length - 1;
  const groupStarts = new Int32Array(groups + hubs + 1);
  groupStarts.set(order.groups);
  for (let k = 0; k < hubs; k++) {
    nodes[ordered + k] = ordered + k;
    groupStarts[groups + k + 1] = ordered + k + 1;
  }
  return { nodes, groupStarts };
}

/** Blocks of what is left; of a network that is wide all over cut in two again and again, where that does not take too many products. */
export function blocksOf(left: Left, isWide: boolean): Blocks {
  if (!isWide) return blocksInOrder(left, minimumDegree);
  const cut = blocksInOrder(left, dissect);
  if (cut.products <= MOST_PRODUCTS * left.eliminated ** 1.5) return cut;
  const other = blocksInOrder(left, minimumDegree);
  return other.products < cut.products ? other : cut;
}

function blocksInOrder(left: Left, ordering: (graph: Graph) => Order): Blocks {
  const { nodes, groupStarts } = orderOf(left, ordering);
  const { starts, neighbours } = left;
  const groups = groupStarts.length - 1;
  const groupOf = new Int32Array(left.nets.length).fill(groups);
  for (let group = 0; group < groups; group++) {
    for (let k = groupStarts[group]!; k < groupStarts[group + 1]!; k++) groupOf[nodes[k]!] = group;
  }
  const parents = new Int32Array(groups).fill(NONE);
  const firstChild = new Int32Array(groups).fill(NONE);
  const nextChild = new Int32Array(groups).fill(NONE);
  const isTaken = new Uint8Array(groups);
  const widths = new Int32Array(groups);
  const empties = new Float64Array(groups);
  const rowStarts = new Int32Array(groups + 1);
  const marks = new Int32Array(left.nets.length).fill(NONE);
  let rows = new Int32Array(4 * left.neighbours.length + 16);
  let filled = 0;
  let products = 0;
  for (let group = 0; group < groups; group++) {
    const start = filled;
    let parent = groups;
    const add = (list: Int32Array, from: number, to: number): void => {
      if (filled + to - from > rows.length) {
        const longer = new Int32Array(2 * rows.length + to - from);
        longer.set(rows);
        rows = longer;
      }
      for (let k = from; k < to; k++) {
        const node = list[k]!;
        const other = groupOf[node]!;
        if (other <= group || marks[node] === group) continue;
        marks[node] = group;
        rows[filled++] = node;
        if (other < parent) parent = other;
      }
    };
    for (let k = groupStarts[group]!; k < groupStarts[group + 1]!; k++)
      add(neighbours, starts[nodes[k]!]!, starts[nodes[k]! + 1]!);
    for (let child = firstChild[group]!; child !== NONE; child = nextChild[child]!)
      add(rows, rowStarts[child]!, rowStarts[child + 1]!);
    rowStarts[group + 1] = filled;
    const own = filled - start;
    let width = groupStarts[group + 1]! - groupStarts[group]!;
    for (let rest = own; rest < own + width; rest++) products += (rest * (rest + 1)) / 2;
    let empty = 0;
    for (let child = firstChild[group]!; child !== NONE; child = nextChild[child]!) {
      const wide = width + widths[child]!;
      const more =
        empty + empties[child]! + widths[child]! * (width + own - (rowStarts[child + 1]! - rowStarts[child]!));
      if (wide > NARROW && more > EMPTY_SHARE * wide * (own + (wide - 1) / 2)) continue;
      isTaken[child] = 1;
      width = wide;
      empty = more;
    }
    widths[group] = width;
    empties[group] = empty;
    if (parent === groups) continue;
    parents[group] = parent;
    nextChild[group] = firstChild[parent]!;
    firstChild[parent] = group;
  }
  return { nodes, groupStarts, parents, isTaken, rowStarts, rows, products };
}
