/**
 * An order of elimination for a large grid or the like: it is cut in two along a line of few nodes, which come last, and so are its parts, until
 * they are small (George, 1973). The line is what is equally far from a node at the rim.
 */

import { type Graph, minimumDegree, type Order } from './minimum-degree.js';

/** Parts of up to so many nodes are put in order by themselves. */
const SMALL = 200;

/** Neither side of a cut has less of a part than this, where there is such a cut. */
const LEAST_SHARE = 0.3;

export function dissect(graph: Graph): Order {
  return new Dissection(graph).order;
}

class Dissection {
  readonly order: Order;
  /** Parts are stretches of it; cut nodes stand behind both of their parts, as they are to be eliminated. */
  private readonly nodes: Int32Array;
  /** Per node: its part, and how far it is from where the last walk started, or -1. */
  private readonly partOf: Int32Array;
  private readonly levels: Int32Array;
  private readonly walked: Int32Array;
  private parts = 0;
  /** Per node: its number in a small part. */
  private readonly ownNumber: Int32Array;

  constructor(private readonly graph: Graph) {
    const count = graph.starts.length - 1;
    this.nodes = Int32Array.from({ length: count }, (_, node) => node);
    this.partOf = new Int32Array(count);
    this.levels = new Int32Array(count).fill(-1);
    this.walked = new Int32Array(count);
    this.ownNumber = new Int32Array(count);
    // Per place in the order: whether a group starts there. Each node of a cut is one.
    const isFirst = new Uint8Array(count).fill(1);
    const waiting = [0, count];
    while (waiting.length > 0) {
      const end = waiting.pop()!;
      const start = waiting.pop()!;
      if (end - start <= SMALL) this.orderSmall(start, end, isFirst);
      else this.cut(start, end, waiting, isFirst);
    }
    const groups: number[] = [];
    for (let k = 0; k < count; k++) if (isFirst[k] === 1) groups.push(k);
    groups.push(count);
    this.order = { nodes: this.nodes, groups: Int32Array.from(groups) };
  }

  /** Visits all nodes of a part that hang together with one, nearest first, and lists them from a place on; how many there are. */
  private walk(from: number, at: number): number {
    const { walked, levels, partOf } = this;
    const { starts, neighbours } = this.graph;
    const part = partOf[from]!;
    let end = at;
    walked[end++] = from;
    levels[from] = 0;
    for (let head = at; head < end; head++) {
      const node = walked[head]!;
      for (let k = starts[node]!; k < starts[node + 1]!; k++) {
        const other = neighbours[k]!;
        if (partOf[other] !== part || levels[other]! >= 0) continue;
        levels[other] = levels[node]! + 1;
        walked[end++] = other;
      }
    }
    return end - at;
  }

  private forget(count: number): void {
    for (let k = 0; k < count; k++) this.levels[this.walked[k]!] = -1;
  }

  /** Of the nodes furthest away in the last walk, the first that has the fewest neighbours in its part. */
  private furthest(count: number): number {
    const { walked, levels, partOf } = this;
    const { starts, neighbours } = this.graph;
    const far = levels[walked[count - 1]!]!;
    let found = -1;
    let fewest = Number.POSITIVE_INFINITY;
    for (let at = count - 1; at >= 0 && levels[walked[at]!] === far; at--) {
      const node = walked[at]!;
      let own = 0;
      for (let k = starts[node]!; k < starts[node + 1]!; k++) if (partOf[neighbours[k]!] === partOf[node]) own++;
      if (own > fewest) continue;
      fewest = own;
      found = node;
    }
    return found;
  }

  /** Cuts a part in two; where no line does, it is put in order as a whole. */
  private cut(start: number, end: number, waiting: number[], isFirst: Uint8Array): void {
    const { nodes, partOf, levels, walked } = this;
    const count = end - start;
    const part = ++this.parts;
    for (let k = start; k < end; k++) partOf[nodes[k]!] = part;
    const reached = this.walk(nodes[start]!, 0);
    if (reached < count) {
      this.separate(start, end, reached, waiting);
      return;
    }
    const rim = this.furthest(count);
    this.forget(count);
    this.walk(rim, 0);
    const level = this.thinnest(count);
    if (level < 0) {
      this.forget(count);
      this.orderSmall(start, end, isFirst);
      return;
    }
    // Nodes of that level that nothing further away is joined to belong to the near side.
    const { starts, neighbours } = this.graph;
    const isCut = (node: number): boolean => {
      for (let k = starts[node]!; k < starts[node + 1]!; k++) {
        if (partOf[neighbours[k]!] === part && levels[neighbours[k]!] === level + 1) return true;
      }
      return false;
    };
    let near = start;
    let behind = end;
    let firstFar = 0;
    for (let k = 0; k < count && levels[walked[k]!]! <= level; k++) {
      const node = walked[k]!;
      if (levels[node] === level && isCut(node)) nodes[--behind] = node;
      else nodes[near++] = node;
      firstFar = k + 1;
    }
    for (let k = firstFar, to = near; k < count; k++) nodes[to++] = walked[k]!;
    this.forget(count);
    for (let k = behind; k < end; k++) partOf[nodes[k]!] = 0;
    waiting.push(start, near, near, behind);
  }

  /** What nothing joins becomes parts of its own, small ones some together. */
  private separate(start: number, end: number, first: number, waiting: number[]): void {
    const { nodes, levels, walked } = this;
    let from = 0;
    let to = first;
    for (let k = start; k < end; k++) {
      if (levels[nodes[k]!]! >= 0) continue;
      const reached = to + this.walk(nodes[k]!, to);
      if (reached - from > SMALL) {
        waiting.push(start + from, start + to);
        from = to;
      }
      to = reached;
    }
    waiting.push(start + from, start + to);
    this.forget(to);
    for (let k = 0; k < to; k++) nodes[start + k] = walked[k]!;
  }

  /** The level with the fewest nodes that leaves enough on both sides; -1 where there is none but at the ends. */
  private thinnest(count: number): number {
    const { levels, walked } = this;
    let found = -1;
    let fewest = Number.POSITIVE_INFINITY;
    for (let from = 0, to = 0; from < count; from = to) {
      while (to < count && levels[walked[to]!] === levels[walked[from]!]) to++;
      const most = Math.min(from, count - to);
      if (most < LEAST_SHARE * count || to - from >= fewest) continue;
      fewest = to - from;
      found = levels[walked[from]!]!;
    }
    return found;
  }

  /** Puts the nodes of a part in an order that makes few admittances in it. */
  private orderSmall(start: number, end: number, isFirst: Uint8Array): void {
    const { nodes, ownNumber, partOf } = this;
    const { starts, neighbours } = this.graph;
    const count = end - start;
    const part = ++this.parts;
    const own = nodes.slice(start, end).sort();
    for (let k = 0; k < count; k++) {
      partOf[own[k]!] = part;
      ownNumber[own[k]!] = k;
    }
    const ownStarts = new Int32Array(count + 1);
    let most = 0;
    for (const node of own) most += starts[node + 1]! - starts[node]!;
    const listed = new Int32Array(most);
    let filled = 0;
    for (let k = 0; k < count; k++) {
      for (let m = starts[own[k]!]!; m < starts[own[k]! + 1]!; m++) {
        if (partOf[neighbours[m]!] === part) listed[filled++] = ownNumber[neighbours[m]!]!;
      }
      ownStarts[k + 1] = filled;
    }
    const order = minimumDegree({ starts: ownStarts, neighbours: listed.subarray(0, filled) });
    for (let k = 0; k < count; k++) nodes[start + k] = own[order.nodes[k]!]!;
    isFirst.fill(0, start, end);
    for (const group of order.groups) if (group < count) isFirst[start + group] = 1;
  }
}
