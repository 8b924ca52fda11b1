/** Which nets are joined while one after another is taken out of a network, and which of them comes next. */

/** Up to so many neighbours are joined pair by pair. */
const FEW = 4;

/** A stretch of up to this length is gone through at each look-up. */
const SHORT = 12;

/**
 * For each net those it is joined to, without repeats, as a stretch of one pool; nets that were taken out stay in the stretches of others until
 * these are compacted.
 */
export class Neighbours {
  pool: Int32Array;
  /** Per net: where its stretch starts. */
  readonly starts: Int32Array;
  /** How many neighbours are left. */
  readonly counts: Int32Array;
  private readonly lengths: Int32Array;
  private readonly rooms: Int32Array;
  private readonly gone: Uint8Array;
  /** 1 for nets joined to zero volts. */
  private readonly grounded: Uint8Array;
  private readonly mark: Int32Array;
  private stamp = 0;
  private used = 0;

  /** `reference` marks nets at zero volts. */
  constructor(nets: number, reference: Uint8Array, from: Int32Array, to: Int32Array) {
    this.starts = new Int32Array(nets);
    this.counts = new Int32Array(nets);
    this.rooms = new Int32Array(nets);
    this.gone = new Uint8Array(nets);
    this.grounded = new Uint8Array(nets);
    this.mark = new Int32Array(nets);
    const { rooms, counts, starts, grounded } = this;
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      if (reference[x] === 1 || reference[y] === 1) {
        grounded[x] = 1;
        grounded[y] = 1;
        continue;
      }
      rooms[x]!++;
      rooms[y]!++;
    }
    for (let net = 0; net < nets; net++) {
      starts[net] = this.used;
      this.used += rooms[net]!;
    }
    const pool = new Int32Array(this.used + (this.used >> 2) + 64);
    for (let k = 0; k < from.length; k++) {
      const x = from[k]!;
      const y = to[k]!;
      if (reference[x] === 1 || reference[y] === 1) continue;
      pool[starts[x]! + counts[x]!++] = y;
      pool[starts[y]! + counts[y]!++] = x;
    }
    this.pool = pool;
    this.lengths = counts.slice();
    for (let net = 0; net < nets; net++) if (counts[net]! > 1) this.dropRepeats(net);
  }

  private dropRepeats(net: number): void {
    const { pool, mark } = this;
    const start = this.starts[net]!;
    const end = start + this.lengths[net]!;
    const stamp = ++this.stamp;
    let kept = start;
    for (let k = start; k < end; k++) {
      const other = pool[k]!;
      if (mark[other] === stamp) continue;
      mark[other] = stamp;
      pool[kept++] = other;
    }
    this.counts[net] = kept - start;
    this.lengths[net] = kept - start;
  }

  /** How many nets it is joined to, zero volts among them. */
  degree(net: number): number {
    return this.counts[net]! + this.grounded[net]!;
  }

  isGone(net: number): boolean {
    return this.gone[net] === 1;
  }

  /** Takes a net out; all its neighbours become one another's. Its own stretch is compacted, and changes no more. */
  eliminate(net: number): void {
    this.compact(net);
    this.gone[net] = 1;
    const { counts, grounded } = this;
    const start = this.starts[net]!;
    const count = counts[net]!;
    for (let k = start; k < start + count; k++) {
      const other = this.pool[k]!;
      counts[other]!--;
      if (grounded[net] === 1) grounded[other] = 1;
    }
    if (count < 2) return;
    if (count <= FEW && this.haveShort(start, count)) this.replace(net, start, count);
    else if (count <= FEW) this.joinEach(start, count);
    else for (let k = 0; k < count; k++) this.joinAll(this.pool[start + k]!, start, count);
  }

  /** Whether all of these have short stretches themselves. */
  private haveShort(start: number, count: number): boolean {
    const { pool, lengths } = this;
    for (let k = start; k < start + count; k++) if (lengths[pool[k]!]! > SHORT) return false;
    return true;
  }

  /** Joins few neighbours with short stretches: the first new one takes the place of the net that is taken out. */
  private replace(net: number, start: number, count: number): void {
    const { starts, lengths, counts } = this;
    for (let i = start; i < start + count; i++) {
      const one = this.pool[i]!;
      let slot = this.placeIn(one, net);
      for (let j = start; j < start + count; j++) {
        const other = this.pool[j]!;
        if (i === j || this.placeIn(one, other) >= 0) continue;
        if (slot < 0) {
          this.append(one, other);
          continue;
        }
        this.pool[slot] = other;
        counts[one]!++;
        slot = -1;
      }
      if (slot >= 0) this.pool[slot] = this.pool[starts[one]! + --lengths[one]!]!;
    }
  }

  /** Where in the stretch of one net another is, or -1. */
  private placeIn(one: number, other: number): number {
    const { pool } = this;
    const start = this.starts[one]!;
    const end = start + this.lengths[one]!;
    for (let k = start; k < end; k++) if (pool[k] === other) return k;
    return -1;
  }

  /** Of few neighbours each pair is looked up, so that a net with very many is not gone through for each of them. */
  private joinEach(start: number, count: number): void {
    for (let k = start; k < start + count; k++) {
      for (let m = k + 1; m < start + count; m++) {
        const one = this.pool[k]!;
        const other = this.pool[m]!;
        if (this.isJoined(one, other)) continue;
        this.append(one, other);
        this.append(other, one);
      }
    }
  }

  private isJoined(one: number, other: number): boolean {
    const isShorter = this.lengths[one]! <= this.lengths[other]!;
    return this.placeIn(isShorter ? one : other, isShorter ? other : one) >= 0;
  }

  private joinAll(net: number, start: number, count: number): void {
    this.compact(net);
    const { mark } = this;
    const stamp = ++this.stamp;
    mark[net] = stamp;
    const own = this.starts[net]!;
    for (let k = own; k < own + this.lengths[net]!; k++) mark[this.pool[k]!] = stamp;
    for (let k = start; k < start + count; k++) {
      const other = this.pool[k]!;
      if (mark[other] !== stamp) this.append(net, other);
    }
  }

  private append(net: number, other: number): void {
    if (this.lengths[net] === this.rooms[net]) this.makeRoom(net);
    this.pool[this.starts[net]! + this.lengths[net]!++] = other;
    this.counts[net]!++;
  }

  /** Drops what is gone; where that frees little, the stretch moves to the end of the pool with twice the room. */
  private makeRoom(net: number): void {
    this.compact(net);
    const length = this.lengths[net]!;
    if (this.rooms[net]! - length > length >> 2) return;
    const room = 2 * length + 4;
    if (this.used + room > this.pool.length) {
      const longer = new Int32Array(2 * this.pool.length + room);
      longer.set(this.pool.subarray(0, this.used));
      this.pool = longer;
    }
    const start = this.starts[net]!;
    this.pool.copyWithin(this.used, start, start + length);
    this.starts[net] = this.used;
    this.rooms[net] = room;
    this.used += room;
  }

  /** Drops what has been taken out from a net's stretch. */
  compact(net: number): void {
    const { pool, gone, lengths } = this;
    if (lengths[net] === this.counts[net]) return;
    const start = this.starts[net]!;
    const end = start + lengths[net]!;
    let kept = start;
    for (let k = start; k < end; k++) if (gone[pool[k]!] !== 1) pool[kept++] = pool[k]!;
    lengths[net] = kept - start;
  }
}

/**
 * Nets with up to this many neighbours are as good as one another: to take the ends of a long cable first would cost a little less, but all of it
 * would then depend on all of it, and one volt could not be worked out without the others.
 */
const EASY = 5;

/** So many nets with more neighbours than these are put in order in another way. */
const MANY = 48;

/**
 * The nets still in a network, dead ends first, then those with few neighbours, then the rest by how many they have; late ones with the rest. Of
 * equals the one put in first comes first. A neighbour of what is taken out goes to the end, so that of a long row every other one is taken out
 * before those between, and what depends on what stays shallow.
 */
export class Waiting {
  private readonly ends: number[] = [];
  private endsHead = 0;
  private easy: Int32Array;
  private easyHead = 0;
  private easyTail = 0;
  /** Per net: one more than where it is among the easy ones, or 0. */
  private readonly easyAt: Int32Array;
  private rest: ByDegree | undefined;

  constructor(
    private readonly nets: number,
    private readonly neighbours: Neighbours,
    private readonly late: Uint8Array,
  ) {
    this.easy = new Int32Array(nets + (nets >> 1) + 16);
    this.easyAt = new Int32Array(nets);
  }

  /** Puts a net in, or at the end of those that are as good where it is in already. */
  put(net: number): void {
    const degree = this.neighbours.degree(net);
    if (degree <= EASY && this.late[net] !== 1) {
      this.rest?.remove(net);
      if (degree < 2) {
        this.easyAt[net] = 0;
        this.ends.push(net);
        return;
      }
      if (this.easyTail === this.easy.length) this.makeRoom();
      this.easy[this.easyTail++] = net;
      this.easyAt[net] = this.easyTail;
      return;
    }
    this.easyAt[net] = 0;
    this.rest ??= new ByDegree(this.nets);
    this.rest.put(net, degree);
  }

  private makeRoom(): void {
    const { easy, easyAt, easyHead, easyTail } = this;
    const longer = new Int32Array(2 * (easyTail - easyHead) + 64);
    let kept = 0;
    for (let k = easyHead; k < easyTail; k++) {
      const net = easy[k]!;
      if (easyAt[net] !== k + 1) continue;
      longer[kept++] = net;
      easyAt[net] = kept;
    }
    this.easy = longer;
    this.easyHead = 0;
    this.easyTail = kept;
  }

  /** Whether any are left: once none can be taken, many that have many neighbours each. */
  get isLeft(): boolean {
    return this.rest !== undefined && this.rest.count > 0;
  }

  /** Takes out the next net; -1 when there is none left, and where all that are left have many neighbours and are many. */
  take(): number {
    while (this.endsHead < this.ends.length) {
      const net = this.ends[this.endsHead++]!;
      if (!this.neighbours.isGone(net) && this.neighbours.degree(net) < 2) return net;
    }
    while (this.easyHead < this.easyTail) {
      const net = this.easy[this.easyHead++]!;
      if (this.easyAt[net] === this.easyHead) return net;
    }
    const { rest } = this;
    if (rest === undefined || rest.hard >= MANY) return -1;
    return rest.take();
  }
}

/** Nets by how many neighbours they have; of equals the one put in first comes first. */
class ByDegree {
  count = 0;
  /** How many of them have more neighbours than easy ones. */
  hard = 0;
  private readonly isHard: Uint8Array;
  private readonly first: Int32Array;
  private readonly last: Int32Array;
  private readonly after: Int32Array;
  private readonly before: Int32Array;
  private readonly degreeOf: Int32Array;
  private least = 0;

  constructor(nets: number) {
    const highest = Math.max(nets, EASY + 1);
    this.first = new Int32Array(highest + 1).fill(-1);
    this.last = new Int32Array(highest + 1).fill(-1);
    this.after = new Int32Array(nets).fill(-1);
    this.before = new Int32Array(nets).fill(-1);
    this.degreeOf = new Int32Array(nets).fill(-1);
    this.isHard = new Uint8Array(nets);
  }

  /** Of those that are easy but late the one put in last comes first, so that a cable is gone along: that leaves its nets the fewest neighbours. */
  put(net: number, degree: number): void {
    this.remove(net);
    const isHard = degree > EASY;
    this.isHard[net] = isHard ? 1 : 0;
    this.hard += this.isHard[net]!;
    const beside = isHard ? this.last[degree]! : this.first[degree]!;
    this.before[net] = isHard ? beside : -1;
    this.after[net] = isHard ? -1 : beside;
    if (beside < 0) {
      this.first[degree] = net;
      this.last[degree] = net;
    } else if (isHard) {
      this.after[beside] = net;
      this.last[degree] = net;
    } else {
      this.before[beside] = net;
      this.first[degree] = net;
    }
    this.degreeOf[net] = degree;
    this.count++;
    if (degree < this.least) this.least = degree;
  }

  remove(net: number): void {
    const degree = this.degreeOf[net]!;
    if (degree < 0) return;
    const after = this.after[net]!;
    const before = this.before[net]!;
    if (before >= 0) this.after[before] = after;
    else this.first[degree] = after;
    if (after >= 0) this.before[after] = before;
    else this.last[degree] = before;
    this.degreeOf[net] = -1;
    this.count--;
    this.hard -= this.isHard[net]!;
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
