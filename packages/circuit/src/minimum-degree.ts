/**
 * An order of elimination for a network with many loops, by approximate minimum degree (Amestoy, Davis and Duff, 1996): a net that was
 * taken out stands for all that it joined, so that nothing is ever filled in, and nets joined to the same others are taken out as one.
 */

/** A network as lists of neighbours: those of node i are in `neighbours` from `starts[i]` to `starts[i + 1]`, without repeats and without i itself. */
export interface Graph {
  readonly starts: Int32Array;
  readonly neighbours: Int32Array;
}

/** Nodes in the order of their elimination; those from `groups[g]` to `groups[g + 1]` of it are joined to one another and to the same later ones. */
export interface Order {
  readonly nodes: Int32Array;
  readonly groups: Int32Array;
}

export function minimumDegree(graph: Graph): Order {
  return new MinimumDegree(graph).order;
}

const NONE = -1;

class MinimumDegree {
  readonly order: Order;
  private readonly nodes: number;
  /** Per node: where its list is, how many of it are nodes that were taken out (they come first), and how long it is. */
  private readonly listAt: Int32Array;
  private readonly takenIn: Int32Array;
  private readonly lengths: Int32Array;
  private readonly lists: Int32Array;
  /** How many nodes a node stands for: 0 where another stands for it, less than 0 while it is a member of what is being taken out. */
  private readonly weights: Int32Array;
  /** Per node that is in: at most so many others it is joined to; per node that was taken out: the weight of its members. */
  private readonly degrees: Int32Array;
  /** Per node that was taken out: where its members are, and how many; none where another has taken them over. */
  private readonly membersAt: Int32Array;
  private readonly memberCounts: Int32Array;
  private members: Int32Array;
  private used = 0;
  private readonly takenOut: number[] = [];
  /** Per node that was taken out, as of `seenIn`: the weight of its members that the one being taken out does not have. */
  private readonly outside: Int32Array;
  private readonly seenIn: Int32Array;
  /** Of a node, the next one and the last one that it stands for. */
  private readonly nextOf: Int32Array;
  private readonly lastOf: Int32Array;
  /** Nodes of one degree, and of one sum over their lists. */
  private readonly first: Int32Array;
  private readonly last: Int32Array;
  private readonly next: Int32Array;
  private readonly before: Int32Array;
  private readonly firstOfSum: Int32Array;
  private readonly nextOfSum: Int32Array;
  private readonly sums: Int32Array;
  private readonly marks: Int32Array;
  private stamp = 0;
  private least = 0;
  private gone = 0;

  constructor({ starts, neighbours }: Graph) {
    const nodes = starts.length - 1;
    this.nodes = nodes;
    this.listAt = starts.slice(0, nodes);
    this.lists = neighbours.slice();
    this.takenIn = new Int32Array(nodes);
    this.lengths = new Int32Array(nodes);
    this.weights = new Int32Array(nodes).fill(1);
    this.degrees = new Int32Array(nodes);
    this.membersAt = new Int32Array(nodes);
    this.memberCounts = new Int32Array(nodes);
    this.members = new Int32Array(neighbours.length + nodes);
    this.outside = new Int32Array(nodes);
    this.seenIn = new Int32Array(nodes).fill(NONE);
    this.nextOf = new Int32Array(nodes).fill(NONE);
    this.lastOf = Int32Array.from({ length: nodes }, (_, node) => node);
    this.first = new Int32Array(nodes).fill(NONE);
    this.last = new Int32Array(nodes).fill(NONE);
    this.next = new Int32Array(nodes).fill(NONE);
    this.before = new Int32Array(nodes).fill(NONE);
    this.firstOfSum = new Int32Array(nodes).fill(NONE);
    this.nextOfSum = new Int32Array(nodes).fill(NONE);
    this.sums = new Int32Array(nodes);
    this.marks = new Int32Array(nodes);
    for (let node = 0; node < nodes; node++) {
      this.lengths[node] = starts[node + 1]! - starts[node]!;
      this.degrees[node] = this.lengths[node]!;
      this.putIn(node);
    }
    const order = new Int32Array(nodes);
    const groups = new Int32Array(nodes + 1);
    let count = 0;
    while (this.gone < nodes) {
      let node = this.takeOut(this.takeLeast());
      groups[count++] = this.ordered;
      for (; node !== NONE; node = this.nextOf[node]!) order[this.ordered++] = node;
    }
    groups[count] = nodes;
    this.order = { nodes: order, groups: groups.slice(0, count + 1) };
  }

  private ordered = 0;

  private putIn(node: number): void {
    const degree = this.degrees[node]!;
    const tail = this.last[degree]!;
    this.next[node] = NONE;
    this.before[node] = tail;
    if (tail === NONE) this.first[degree] = node;
    else this.next[tail] = node;
    this.last[degree] = node;
    if (degree < this.least) this.least = degree;
  }

  private leave(node: number): void {
    const after = this.next[node]!;
    const before = this.before[node]!;
    if (after === NONE) this.last[this.degrees[node]!] = before;
    else this.before[after] = before;
    if (before === NONE) this.first[this.degrees[node]!] = after;
    else this.next[before] = after;
  }

  private takeLeast(): number {
    while (this.first[this.least] === NONE) this.least++;
    const node = this.first[this.least]!;
    this.leave(node);
    return node;
  }

  /** Takes a node out, and with it all that are joined to nothing but what it is joined to; the node itself again. */
  private takeOut(node: number): number {
    const { weights, degrees } = this;
    this.gone += weights[node]!;
    this.gather(node);
    const start = this.membersAt[node]!;
    const end = start + this.memberCounts[node]!;
    this.measure(start, end);
    this.takenOut.push(node);
    for (let k = start; k < end; k++) this.renew(this.members[k]!, node);
    this.joinAlike(start, end);
    let kept = start;
    let weight = 0;
    for (let k = start; k < end; k++) {
      const member = this.members[k]!;
      if (weights[member] === 0) continue;
      this.members[kept++] = member;
      weights[member] = -weights[member]!;
      weight += weights[member]!;
    }
    for (let k = start; k < kept; k++) {
      const member = this.members[k]!;
      const own = weights[member]!;
      degrees[member] = Math.min(degrees[member]! + weight - own, this.nodes - this.gone - own);
      this.putIn(member);
    }
    degrees[node] = weight;
    this.memberCounts[node] = kept - start;
    this.used = kept;
    return node;
  }

  /** Lists what a node is joined to; those taken out before that are in its list have nothing left that it has not. */
  private gather(node: number): void {
    const { lists, weights, memberCounts, membersAt } = this;
    const at = this.listAt[node]!;
    const taken = at + this.takenIn[node]!;
    const end = at + this.lengths[node]!;
    let most = end - taken;
    for (let k = at; k < taken; k++) most += memberCounts[lists[k]!]!;
    if (this.used + most > this.members.length) this.makeRoom(most);
    const { members } = this;
    weights[node] = 0;
    const start = this.used;
    let filled = start;
    for (let k = at; k < taken; k++) {
      const other = lists[k]!;
      const from = membersAt[other]!;
      const to = from + memberCounts[other]!;
      for (let m = from; m < to; m++) {
        const member = members[m]!;
        if (weights[member]! <= 0) continue;
        weights[member] = -weights[member]!;
        this.leave(member);
        members[filled++] = member;
      }
      memberCounts[other] = 0;
    }
    for (let k = taken; k < end; k++) {
      const member = lists[k]!;
      if (weights[member]! <= 0) continue;
      weights[member] = -weights[member]!;
      this.leave(member);
      members[filled++] = member;
    }
    membersAt[node] = start;
    memberCounts[node] = filled - start;
    this.used = filled;
  }

  /** Drops the members of those that have been taken over. */
  private makeRoom(most: number): void {
    const { members, membersAt, memberCounts, takenOut } = this;
    let total = most;
    for (const node of takenOut) total += memberCounts[node]!;
    const room = 2 * total > members.length ? new Int32Array(2 * total + members.length) : members;
    let used = 0;
    let kept = 0;
    for (const node of takenOut) {
      const count = memberCounts[node]!;
      if (count === 0) continue;
      const start = membersAt[node]!;
      for (let k = 0; k < count; k++) room[used + k] = members[start + k]!;
      membersAt[node] = used;
      used += count;
      takenOut[kept++] = node;
    }
    takenOut.length = kept;
    this.members = room;
    this.used = used;
  }

  /** For all that were taken out before and share members with the new one: how much they have beside these. */
  private measure(start: number, end: number): void {
    const { members, lists, listAt, takenIn, weights, outside, seenIn, degrees } = this;
    const round = ++this.stamp;
    for (let k = start; k < end; k++) {
      const member = members[k]!;
      const own = -weights[member]!;
      const at = listAt[member]!;
      for (let m = at; m < at + takenIn[member]!; m++) {
        const other = lists[m]!;
        if (seenIn[other] === round) outside[other]! -= own;
        else {
          seenIn[other] = round;
          outside[other] = degrees[other]! - own;
        }
      }
    }
  }

  /** Puts the new one in the place of all in a member's list that it says already, and finds what the member is joined to beside it. */
  private renew(member: number, node: number): void {
    const { lists, weights, outside, memberCounts } = this;
    const at = this.listAt[member]!;
    const taken = at + this.takenIn[member]!;
    const end = at + this.lengths[member]!;
    let filled = at;
    let beside = 0;
    let sum = 0;
    for (let k = at; k < taken; k++) {
      const other = lists[k]!;
      if (memberCounts[other] === 0) continue;
      if (outside[other] === 0) {
        memberCounts[other] = 0;
        continue;
      }
      beside += outside[other]!;
      lists[filled++] = other;
      sum += other;
    }
    const kept = filled;
    for (let k = taken; k < end; k++) {
      const other = lists[k]!;
      if (weights[other]! <= 0) continue;
      beside += weights[other]!;
      lists[filled++] = other;
      sum += other;
    }
    if (filled === at) {
      this.gone -= weights[member]!;
      this.standFor(node, member);
      return;
    }
    // The first of the nodes makes room for the new one behind those taken out.
    lists[filled++] = lists[kept]!;
    lists[kept] = lists[at]!;
    lists[at] = node;
    this.takenIn[member] = kept - at + 1;
    this.lengths[member] = filled - at;
    this.degrees[member] = Math.min(this.degrees[member]!, beside);
    sum %= this.nodes;
    this.sums[member] = sum;
    this.nextOfSum[member] = this.firstOfSum[sum]!;
    this.firstOfSum[sum] = member;
  }

  private standFor(node: number, other: number): void {
    this.weights[other] = 0;
    this.nextOf[this.lastOf[node]!] = other;
    this.lastOf[node] = this.lastOf[other]!;
  }

  /** Members with the same lists become one. */
  private joinAlike(start: number, end: number): void {
    const { members, weights, firstOfSum, nextOfSum, sums } = this;
    for (let k = start; k < end; k++) {
      const member = members[k]!;
      if (weights[member] === 0) continue;
      const head = firstOfSum[sums[member]!]!;
      firstOfSum[sums[member]!] = NONE;
      for (let one = head; one !== NONE; one = nextOfSum[one]!) {
        if (nextOfSum[one] === NONE) break;
        this.markList(one);
        let last = one;
        for (let other = nextOfSum[one]!; other !== NONE; other = nextOfSum[other]!) {
          if (this.isAlike(one, other)) {
            weights[one]! += weights[other]!;
            this.standFor(one, other);
            nextOfSum[last] = nextOfSum[other]!;
          } else last = other;
        }
      }
    }
  }

  private markList(node: number): void {
    const { lists, marks } = this;
    const at = this.listAt[node]!;
    const stamp = ++this.stamp;
    for (let k = at + 1; k < at + this.lengths[node]!; k++) marks[lists[k]!] = stamp;
  }

  /** Whether a node has the list that was marked last, which is another's. */
  private isAlike(one: number, other: number): boolean {
    const { lists, marks, stamp } = this;
    if (this.lengths[one] !== this.lengths[other] || this.takenIn[one] !== this.takenIn[other]) return false;
    const at = this.listAt[other]!;
    for (let k = at + 1; k < at + this.lengths[other]!; k++) if (marks[lists[k]!] !== stamp) return false;
    return true;
  }
}
