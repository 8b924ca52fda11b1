/** Names put in order and numbered, for networks of tens of thousands of them. */

/** Orders names by code units, the same everywhere. */
export function byName(x: string, y: string): number {
  return x < y ? -1 : x > y ? 1 : 0;
}

/** Fewer names than this are compared with one another. */
const FEW = 48;

/** How many code units are looked at in one go. */
const BLOCK = 8;

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

class Sorting {
  hasRepeats = false;
  private readonly units: Int32Array;
  private readonly spare: Int32Array;
  private counts = new Int32Array(256);

  constructor(
    private readonly names: readonly string[],
    private readonly order: Int32Array,
  ) {
    this.units = new Int32Array(names.length * BLOCK);
    this.spare = new Int32Array(names.length);
  }

  /** Sorts the places from `start` to `end`, whose names are the same up to `depth`. */
  sort(start: number, end: number, depth: number): void {
    const { names, order, units } = this;
    if (end - start < FEW) {
      const some = order.subarray(start, end);
      some.sort((x, y) => {
        const sign = byName(names[x]!, names[y]!);
        if (sign === 0 && x !== y) this.hasRepeats = true;
        return sign || x - y;
      });
      return;
    }
    let highest = 0;
    for (let k = start; k < end; k++) {
      const name = names[order[k]!]!;
      const from = order[k]! * BLOCK;
      const left = Math.min(BLOCK, name.length - depth);
      for (let at = 0; at < left; at++) {
        // One more than the code unit, so that a name comes before those that go on after it.
        const unit = name.charCodeAt(depth + at) + 1;
        units[from + at] = unit;
        if (unit > highest) highest = unit;
      }
      for (let at = Math.max(0, left); at < BLOCK; at++) units[from + at] = 0;
    }
    if (highest >= this.counts.length) this.counts = new Int32Array(65_537);
    for (let at = BLOCK - 1; at >= 0; at--) this.sortByUnit(start, end, at, highest);
    this.sortEquals(start, end, depth + BLOCK);
  }

  private sortByUnit(start: number, end: number, at: number, highest: number): void {
    const { order, units, spare, counts } = this;
    counts.fill(0, 0, highest + 1);
    for (let k = start; k < end; k++) counts[units[order[k]! * BLOCK + at]!]!++;
    if (counts[units[order[start]! * BLOCK + at]!] === end - start) return;
    let sum = start;
    for (let unit = 0; unit <= highest; unit++) {
      const count = counts[unit]!;
      counts[unit] = sum;
      sum += count;
    }
    for (let k = start; k < end; k++) {
      const place = order[k]!;
      spare[counts[units[place * BLOCK + at]!]!++] = place;
    }
    order.set(spare.subarray(start, end), start);
  }

  /** Names that are the same so far and go on are sorted by what follows. */
  private sortEquals(start: number, end: number, depth: number): void {
    for (let from = start; from < end; ) {
      let to = from + 1;
      while (to < end && this.isSameBlock(this.order[from]!, this.order[to]!)) to++;
      if (to - from > 1) {
        const goesOn = this.units[this.order[from]! * BLOCK + BLOCK - 1] !== 0;
        if (goesOn) this.sort(from, to, depth);
        else this.hasRepeats = true;
      }
      from = to;
    }
  }

  private isSameBlock(one: number, other: number): boolean {
    const { units } = this;
    for (let at = BLOCK - 1; at >= 0; at--) if (units[one * BLOCK + at] !== units[other * BLOCK + at]) return false;
    return true;
  }
}

/** Whole numbers for names, in the order in which these are put in. */
export class NameNumbers {
  readonly names: string[] = [];
  /** Open addressing: one more than a name's number, or 0. */
  private table: Int32Array;

  /** `expected` is how many names there will be, about. */
  constructor(expected = 16) {
    let size = 32;
    while (size < 2 * expected) size *= 2;
    this.table = new Int32Array(size);
  }

  /** The number of a name, which is put in where it is new. */
  put(name: string): number {
    const at = this.placeOf(name);
    const known = this.table[at]!;
    if (known !== 0) return known - 1;
    this.names.push(name);
    this.table[at] = this.names.length;
    if (2 * this.names.length > this.table.length) this.grow();
    return this.names.length - 1;
  }

  /** The number of a name, or `undefined`. */
  of(name: string): number | undefined {
    const known = this.table[this.placeOf(name)]!;
    return known === 0 ? undefined : known - 1;
  }

  private placeOf(name: string): number {
    const { table, names } = this;
    const mask = table.length - 1;
    let hash = name.length;
    for (let k = 0; k < name.length; k++) hash = Math.imul(hash ^ name.charCodeAt(k), 0x9e3779b1);
    let at = (hash ^ (hash >>> 15)) & mask;
    while (table[at] !== 0 && names[table[at]! - 1] !== name) at = (at + 1) & mask;
    return at;
  }

  private grow(): void {
    this.table = new Int32Array(2 * this.table.length);
    for (let number = 0; number < this.names.length; number++)
      this.table[this.placeOf(this.names[number]!)] = number + 1;
  }
}
