/**
 * In which order the nets of a network are eliminated, and which admittances that makes: found once for a topology, fewest neighbours first
 * (dead ends, then series pairs, then stars into meshes), and kept for every set of figures on it.
 */

/** Positions: the eliminated nets in their order, then the nets that are left. Columns hold the later positions a net is joined to then. */
export interface Elimination {
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

interface Topology {
  readonly nets: number;
  /** 1 for nets at zero volts. */
  readonly reference: Uint8Array;
  /** 1 for nets that are not eliminated. */
  readonly pinned: Uint8Array;
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
    isEqual(one.pinned, other.pinned)
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
    const at = this.known.findIndex((one) => isSame(one.topology, topology));
    const found = at < 0 ? { topology, elimination: eliminationOf(topology) } : this.known.splice(at, 1)[0]!;
    this.known.unshift(found);
    if (this.known.length > KEPT) this.known.pop();
    return found.elimination;
  }
}

/** Up to so many neighbours are joined pair by pair. */
const FEW = 4;

/** For each net those it is joined to, without repeats; nets that were taken out stay in the lists of others until these are compacted. */
class Neighbours {
  readonly lists: Int32Array[];
  /** How many neighbours are left. */
  readonly counts: Int32Array;
  private readonly lengths: Int32Array;
  private readonly gone: Uint8Array;
  /** 1 for nets joined to zero volts. */
  private readonly grounded: Uint8Array;
  private readonly mark: Int32Array;
  private stamp = 0;

  constructor({ nets, reference, from, to }: Topology) {
    this.counts = new Int32Array(nets);
    this.lengths = new Int32Array(nets);
    this.gone = new Uint8Array(nets);
    this.grounded = new Uint8Array(nets);
    this.mark = new Int32Array(nets);
    const most = new Int32Array(nets);
    const counts = (k: number): boolean => reference[from[k]!] !== 1 && reference[to[k]!] !== 1;
    for (let k = 0; k < from.length; k++) {
      if (!counts(k)) {
        this.grounded[from[k]!] = 1;
        this.grounded[to[k]!] = 1;
        continue;
      }
      most[from[k]!]!++;
      most[to[k]!]!++;
    }
    const starts = new Int32Array(nets + 1);
    for (let net = 0; net < nets; net++) starts[net + 1] = starts[net]! + most[net]!;
    const all = new Int32Array(starts[nets]!);
    const filled = starts.slice();
    for (let k = 0; k < from.length; k++) {
      if (!counts(k)) continue;
      all[filled[from[k]!]!++] = to[k]!;
      all[filled[to[k]!]!++] = from[k]!;
    }
    this.lists = new Array(nets);
    for (let net = 0; net < nets; net++) {
      const list = all.subarray(starts[net]!, starts[net + 1]!);
      const stamp = ++this.stamp;
      let kept = 0;
      for (let k = 0; k < list.length; k++) {
        if (this.mark[list[k]!] === stamp) continue;
        this.mark[list[k]!] = stamp;
        list[kept++] = list[k]!;
      }
      this.counts[net] = kept;
      this.lengths[net] = kept;
      this.lists[net] = list;
    }
  }

  /** How many nets it is joined to, zero volts among them. */
  degree(net: number): number {
    return this.counts[net]! + this.grounded[net]!;
  }

  /** Takes a net out; all its neighbours become one another's. */
  eliminate(net: number): void {
    this.compact(net);
    this.gone[net] = 1;
    const own = this.lists[net]!;
    const count = this.counts[net]!;
    for (let k = 0; k < count; k++) {
      this.counts[own[k]!]!--;
      if (this.grounded[net] === 1) this.grounded[own[k]!] = 1;
    }
    if (count <= FEW) this.joinEach(own, count);
    else for (let k = 0; k < count; k++) this.joinAll(own[k]!, own, count);
  }

  /** Of few neighbours each pair is looked up, so that a net with very many is not gone through for each of them. */
  private joinEach(own: Int32Array, count: number): void {
    for (let k = 0; k < count; k++) {
      for (let m = k + 1; m < count; m++) {
        if (this.isJoined(own[k]!, own[m]!)) continue;
        this.append(own[k]!, own[m]!);
        this.append(own[m]!, own[k]!);
      }
    }
  }

  private isJoined(one: number, other: number): boolean {
    const isShorter = this.lengths[one]! <= this.lengths[other]!;
    const list = this.lists[isShorter ? one : other]!;
    const wanted = isShorter ? other : one;
    const length = this.lengths[isShorter ? one : other]!;
    for (let k = 0; k < length; k++) if (list[k] === wanted) return true;
    return false;
  }

  private joinAll(net: number, others: Int32Array, count: number): void {
    this.compact(net);
    const stamp = ++this.stamp;
    this.mark[net] = stamp;
    const list = this.lists[net]!;
    for (let k = 0; k < this.lengths[net]!; k++) this.mark[list[k]!] = stamp;
    for (let k = 0; k < count; k++) if (this.mark[others[k]!] !== stamp) this.append(net, others[k]!);
  }

  private append(net: number, other: number): void {
    let list = this.lists[net]!;
    const length = this.lengths[net]!;
    if (length === list.length) {
      const longer = new Int32Array(2 * length + 4);
      longer.set(list);
      list = longer;
      this.lists[net] = list;
    }
    list[length] = other;
    this.lengths[net] = length + 1;
    this.counts[net]!++;
  }

  /** Drops what has been taken out from a net's list. */
  private compact(net: number): void {
    const list = this.lists[net]!;
    const length = this.lengths[net]!;
    if (length === this.counts[net]!) return;
    let kept = 0;
    for (let k = 0; k < length; k++) if (this.gone[list[k]!] !== 1) list[kept++] = list[k]!;
    this.lengths[net] = kept;
  }

  /** Brings the lists of nets that are left up to date. */
  finish(net: number): void {
    this.compact(net);
  }
}

/** Nets by how many neighbours they have; of equals the one put in last comes first. */
class ByDegree {
  private readonly first: Int32Array;
  private readonly next: Int32Array;
  private readonly before: Int32Array;
  private readonly degreeOf: Int32Array;
  private least = 0;

  constructor(nets: number) {
    this.first = new Int32Array(nets + 2).fill(-1);
    this.next = new Int32Array(nets).fill(-1);
    this.before = new Int32Array(nets).fill(-1);
    this.degreeOf = new Int32Array(nets).fill(-1);
  }

  put(net: number, degree: number): void {
    if (this.degreeOf[net] === degree) return;
    this.remove(net);
    const head = this.first[degree]!;
    this.next[net] = head;
    this.before[net] = -1;
    if (head >= 0) this.before[head] = net;
    this.first[degree] = net;
    this.degreeOf[net] = degree;
    this.least = Math.min(this.least, degree);
  }

  remove(net: number): void {
    const degree = this.degreeOf[net]!;
    if (degree < 0) return;
    const after = this.next[net]!;
    const before = this.before[net]!;
    if (before >= 0) this.next[before] = after;
    else this.first[degree] = after;
    if (after >= 0) this.before[after] = before;
    this.degreeOf[net] = -1;
  }

  /** Takes out a net with the fewest neighbours; -1 when there is none left. */
  take(): number {
    for (; this.least < this.first.length; this.least++) {
      const net = this.first[this.least]!;
      if (net < 0) continue;
      this.remove(net);
      return net;
    }
    return -1;
  }
}

function eliminationOf(topology: Topology): Elimination {
  const { nets, reference, pinned, from, to } = topology;
  const neighbours = new Neighbours(topology);
  const queue = new ByDegree(nets);
  for (let net = nets - 1; net >= 0; net--) {
    if (reference[net] !== 1 && pinned[net] !== 1) queue.put(net, neighbours.degree(net));
  }
  const netAt = new Int32Array(nets);
  const positionOf = new Int32Array(nets).fill(-1);
  let eliminated = 0;
  let entries = 0;
  for (let net = queue.take(); net >= 0; net = queue.take()) {
    neighbours.eliminate(net);
    positionOf[net] = eliminated;
    netAt[eliminated++] = net;
    const count = neighbours.counts[net]!;
    entries += count;
    for (let k = 0; k < count; k++) {
      const other = neighbours.lists[net]![k]!;
      if (pinned[other] !== 1) queue.put(other, neighbours.degree(other));
    }
  }
  let size = eliminated;
  for (let net = 0; net < nets; net++) {
    if (pinned[net] !== 1 || reference[net] === 1) continue;
    neighbours.finish(net);
    positionOf[net] = size;
    netAt[size++] = net;
    entries += neighbours.counts[net]!;
  }
  const starts = new Int32Array(size + 1);
  const rows = new Int32Array(entries);
  let filled = 0;
  for (let position = 0; position < size; position++) {
    const net = netAt[position]!;
    const list = neighbours.lists[net]!;
    const start = filled;
    for (let k = 0; k < neighbours.counts[net]!; k++) {
      const row = positionOf[list[k]!]!;
      if (row > position) rows[filled++] = row;
    }
    if (filled - start > 1) rows.subarray(start, filled).sort();
    starts[position + 1] = filled;
  }
  const entryOf = new Int32Array(from.length);
  for (let k = 0; k < from.length; k++) entryOf[k] = entryAt(positionOf[from[k]!]!, positionOf[to[k]!]!, starts, rows);
  return { eliminated, size, netAt: netAt.subarray(0, size), entryOf, starts, rows: rows.subarray(0, filled) };
}

function entryAt(one: number, other: number, starts: Int32Array, rows: Int32Array): number {
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
