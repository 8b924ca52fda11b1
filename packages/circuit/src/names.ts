/** Names put in order and numbered, for networks of tens of thousands of them. */

const NO_NUMBERS = new Int32Array(0);

/** Orders names by code units, the same everywhere. */
export function byName(x: string, y: string): number {
  return x < y ? -1 : x > y ? 1 : 0;
}

/** Fewer names than this are compared with one another. */
const FEW = 24;

/** How many code units are looked at in one go, at most. */
const BLOCK = 8;

/** How many units are told apart. */
const UNITS = 256;

/** What a block is put in order by is a whole number below this. */
const LARGEST_KEY = 2 ** 31;

/** Keys are sorted by so many bits at a time. */
const DIGIT = 11;

/**
 * The places of names in their order (`byName`), of equal ones the earlier first, and whether there are equal ones. Takes time by letters, not
 * by comparisons.
 */
export function orderOf(names: readonly string[]): { readonly order: Int32Array; readonly hasRepeats: boolean } {
  const order = new Int32Array(names.length);
  for (let k = 0; k < order.length; k++) order[k] = k;
  if (isRising(names)) return { order, hasRepeats: false };
  const sorting = new Sorting(names, order);
  sorting.sort(0, order.length, 0);
  return { order, hasRepeats: sorting.hasRepeats };
}

function isRising(names: readonly string[]): boolean {
  for (let k = 1; k < names.length; k++) if (!(names[k - 1]! < names[k]!)) return false;
  return true;
}

/** Orders names that are the same up to `depth`: quicker than the language's own comparison, which calls for the runtime. */
function compareFrom(depth: number, x: string, y: string): number {
  const length = Math.min(x.length, y.length);
  for (let at = depth; at < length; at++) {
    const difference = x.charCodeAt(at) - y.charCodeAt(at);
    if (difference !== 0) return difference;
  }
  return x.length - y.length;
}

/** Turns marks of the units that are there into what each adds to the key of a name; for how many places, and below what keys then are. */
function weigh(shares: Int32Array): { readonly taken: number; readonly keysBelow: number } {
  const kinds: number[] = [];
  let keysBelow = 1;
  for (let at = 0; at < BLOCK; at++) {
    let found = 0;
    for (let k = at * UNITS; k < (at + 1) * UNITS; k++) if (shares[k] === 1) shares[k] = found++;
    if (keysBelow * found > LARGEST_KEY) break;
    keysBelow *= found;
    kinds.push(found);
  }
  const taken = kinds.length;
  shares.fill(0, taken * UNITS);
  for (let at = taken - 2, share = 1; at >= 0; at--) {
    share *= kinds[at + 1]!;
    for (let k = at * UNITS; k < (at + 1) * UNITS; k++) shares[k]! *= share;
  }
  return { taken, keysBelow };
}

class Sorting {
  hasRepeats = false;
  /** Eight units of each name, in two numbers. */
  private units = NO_NUMBERS;
  private keys = NO_NUMBERS;
  private spare = NO_NUMBERS;

  constructor(
    private readonly names: readonly string[],
    private readonly order: Int32Array,
  ) {}

  /** Sorts the places from `start` to `end`, whose names are the same up to `depth`. */
  sort(start: number, end: number, depth: number): void {
    if (end - start < FEW) {
      this.compare(start, end, depth);
      return;
    }
    const taken = this.findKeys(start, end, depth);
    if (taken > 0) this.sortEquals(start, end, depth + taken);
    else this.compareMany(start, end);
  }

  private compare(start: number, end: number, depth: number): void {
    const { names, order } = this;
    for (let k = start + 1; k < end; k++) {
      const place = order[k]!;
      const name = names[place]!;
      let at = k - 1;
      for (; at >= start; at--) {
        const sign = compareFrom(depth, names[order[at]!]!, name);
        if (sign === 0) this.hasRepeats = true;
        if (sign <= 0) break;
        order[at + 1] = order[at]!;
      }
      order[at + 1] = place;
    }
  }

  private compareMany(start: number, end: number): void {
    const { names, order } = this;
    order.subarray(start, end).sort((x, y) => byName(names[x]!, names[y]!) || x - y);
    for (let k = start + 1; k < end; k++) if (names[order[k - 1]!] === names[order[k]!]) this.hasRepeats = true;
  }

  /**
   * Sorts by as many code units as go into one number; how many, 0 where there are letters beyond the first few alphabets. Keys then stand in the
   * same places as the order.
   */
  private findKeys(start: number, end: number, depth: number): number {
    const { names, order } = this;
    if (this.keys === NO_NUMBERS) {
      this.keys = new Int32Array(names.length);
      this.units = new Int32Array(2 * names.length);
    }
    const { units, keys } = this;
    // Per place of the block and unit: first whether it is there, then what it adds to the key.
    const shares = new Int32Array(BLOCK * UNITS);
    let all = 0;
    let shortest = BLOCK;
    for (let k = start; k < end; k++) {
      const name = names[order[k]!]!;
      const left = Math.min(BLOCK, name.length - depth);
      let low = 0;
      let high = 0;
      for (let at = 0; at < left; at++) {
        // One more than the code unit, so that a name comes before those that go on after it.
        const unit = name.charCodeAt(depth + at) + 1;
        all |= unit;
        shares[(at << 8) | (unit & 255)] = 1;
        if (at < 4) low |= unit << (8 * at);
        else high |= unit << (8 * (at - 4));
      }
      units[2 * k] = low;
      units[2 * k + 1] = high;
      if (left < shortest) shortest = left;
    }
    if (all >= UNITS) return 0;
    for (let at = shortest; at < BLOCK; at++) shares[at << 8] = 1;
    const { taken, keysBelow } = weigh(shares);
    for (let k = start; k < end; k++) {
      const low = units[2 * k]!;
      const high = units[2 * k + 1]!;
      keys[k] =
        shares[low & 255]! +
        shares[0x100 | ((low >>> 8) & 255)]! +
        shares[0x200 | ((low >>> 16) & 255)]! +
        shares[0x300 | (low >>> 24)]! +
        shares[0x400 | (high & 255)]! +
        shares[0x500 | ((high >>> 8) & 255)]! +
        shares[0x600 | ((high >>> 16) & 255)]! +
        shares[0x700 | (high >>> 24)]!;
    }
    for (let shift = 0; keysBelow > 2 ** shift; shift += DIGIT) this.sortByDigit(start, end, shift);
    return taken;
  }

  private sortByDigit(start: number, end: number, shift: number): void {
    const { order, keys } = this;
    if (this.spare === NO_NUMBERS) this.spare = new Int32Array(2 * order.length);
    const { spare } = this;
    const mask = (1 << DIGIT) - 1;
    const counts = new Int32Array(mask + 1);
    for (let k = start; k < end; k++) counts[(keys[k]! >>> shift) & mask]!++;
    let sum = 0;
    for (let digit = 0; digit <= mask; digit++) {
      const count = counts[digit]!;
      counts[digit] = sum;
      sum += count;
    }
    for (let k = start; k < end; k++) {
      const at = 2 * counts[(keys[k]! >>> shift) & mask]!++;
      spare[at] = order[k]!;
      spare[at + 1] = keys[k]!;
    }
    for (let k = start, at = 0; k < end; k++, at += 2) {
      order[k] = spare[at]!;
      keys[k] = spare[at + 1]!;
    }
  }

  /** Names that are the same so far and go on are sorted by what follows. */
  private sortEquals(start: number, end: number, depth: number): void {
    const { keys } = this;
    for (let from = start; from < end; ) {
      const key = keys[from]!;
      let to = from + 1;
      while (to < end && keys[to] === key) to++;
      if (to - from > 1) {
        const goesOn = this.names[this.order[from]!]!.length >= depth;
        if (goesOn) this.sort(from, to, depth);
        else this.hasRepeats = true;
      }
      from = to;
    }
  }
}

/** Names of up to so many code units, none beyond `HIGHEST_BYTE`, are told apart by two whole numbers alone. */
const SHORT = 7;
const HIGHEST_BYTE = 255;
const LONG = 0xff << 24;

/** Whole numbers for names, in the order in which these are put in. */
export class NameNumbers {
  readonly names: string[] = [];
  /** Open addressing, a power of two of places: 0, or one more than a name's number, and above that the like bits of its hash. */
  private table: Int32Array;
  /** Per name: two whole numbers that tell it from other short ones. */
  private marks: Int32Array;
  /** Those of the name that is looked for. */
  private low = 0;
  private high = 0;

  /** `expected` is how many names there will be, about. */
  constructor(expected = 16) {
    let size = 32;
    while (size < 2 * expected) size *= 2;
    this.table = new Int32Array(size);
    this.marks = new Int32Array(size);
  }

  /** The number of a name, which is put in where it is new. */
  put(name: string): number {
    const found = this.find(name);
    if (found >= 0) return found;
    const number = this.names.push(name) - 1;
    this.enter(-1 - found, number);
    if (2 * this.names.length >= this.table.length) this.grow();
    return number;
  }

  /** The number of a name, or `undefined`. */
  of(name: string): number | undefined {
    const found = this.find(name);
    return found < 0 ? undefined : found;
  }

  private enter(place: number, number: number): void {
    const { table, marks, low, high } = this;
    table[place] = (hashOf(low, high) & -table.length) | (number + 1);
    marks[2 * number] = low;
    marks[2 * number + 1] = high;
  }

  /** The number of a name; -1 - the place for it where it is not known. */
  private find(name: string): number {
    this.tellApart(name);
    const { table, marks, low, high } = this;
    const mask = table.length - 1;
    const hash = hashOf(low, high);
    for (let place = (hash >>> 7) & mask; ; place = (place + 1) & mask) {
      const entry = table[place]!;
      if (entry === 0) return -1 - place;
      if (((entry ^ hash) & ~mask) !== 0) continue;
      const number = (entry & mask) - 1;
      if (marks[2 * number] !== low || marks[2 * number + 1] !== high) continue;
      if (high >>> 24 !== HIGHEST_BYTE || this.names[number] === name) return number;
    }
  }

  private tellApart(name: string): void {
    const { length } = name;
    if (length <= SHORT) {
      let low = 0;
      let high = 0;
      let all = 0;
      for (let k = 0; k < length; k++) {
        const unit = name.charCodeAt(k);
        all |= unit;
        if (k < 4) low = (low << 8) | unit;
        else high = (high << 8) | unit;
      }
      if (all <= HIGHEST_BYTE) {
        this.low = low;
        this.high = (length << 24) | high;
        return;
      }
    }
    let hash = length;
    for (let k = 0; k < length; k++) hash = Math.imul(hash ^ name.charCodeAt(k), 0x9e3779b1);
    this.low = hash;
    this.high = LONG | (length & 0xffffff);
  }

  private grow(): void {
    const { length } = this.table;
    const marks = new Int32Array(2 * length);
    marks.set(this.marks);
    this.table = new Int32Array(2 * length);
    this.marks = marks;
    for (let number = 0; number < this.names.length; number++) this.enter(-1 - this.find(this.names[number]!), number);
  }
}

function hashOf(low: number, high: number): number {
  const mixed = Math.imul(low ^ Math.imul(high, 0x9e3779b1), 0x85ebca6b);
  return Math.imul(mixed ^ (mixed >>> 15), 0x2c1b3c6d);
}
