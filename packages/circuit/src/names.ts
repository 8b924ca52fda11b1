/** Names put in order and numbered, for networks of tens of thousands of them. */

/** Orders names by code units, the same everywhere. */
export function byName(x: string, y: string): number {
  return x < y ? -1 : x > y ? 1 : 0;
}

/** Whole numbers for names, in the order in which these are put in. */
export class NameNumbers {
  readonly names: string[];
  count = 0;
  /** Open addressing, a power of two of places: 0, or one more than a name's number, and above that the like bits of its hash. */
  private table: Int32Array;

  /** `expected` is how many names there will be, about. */
  constructor(expected = 16) {
    let size = 32;
    while (size < 2 * expected) size *= 2;
    this.table = new Int32Array(size);
    this.names = new Array(expected);
  }

  /** The number of a name, which is put in where it is new. */
  put(name: string): number {
    const found = this.find(name);
    if (found >= 0) return found;
    const number = this.count++;
    this.names[number] = name;
    if (2 * this.count >= this.table.length) this.grow();
    else this.enter(number);
    return number;
  }

  /** The number of a name, or `undefined`. */
  of(name: string): number | undefined {
    const found = this.find(name);
    return found < 0 ? undefined : found;
  }

  /** Of the name put in or looked for last: a whole number that owes itself to nothing but the name, and is another one for nearly every name. */
  hash = 0;
  /** Where it belongs where it is new. */
  private place = 0;

  /**
   * The number of a name, or -1. Names that differ in their last letter alone have places beside one another: names that count up are near in
   * memory.
   */
  private find(name: string): number {
    const { table } = this;
    const mask = table.length - 1;
    const last = name.length - 1;
    let hash = last;
    for (let k = 0; k < last; k++) hash = Math.imul(hash ^ name.charCodeAt(k), 0x9e3779b1);
    hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
    hash ^= hash >>> 13;
    const whole = last < 0 ? hash : (hash + name.charCodeAt(last)) | 0;
    this.hash = whole;
    const step = (hash >>> 8) | 1;
    for (let place = whole & mask; ; place = (place + step) & mask) {
      const entry = table[place]!;
      if (entry === 0) {
        this.place = place;
        return -1;
      }
      const number = (entry & mask) - 1;
      if (((entry ^ whole) & ~mask) === 0 && this.names[number] === name) return number;
    }
  }

  private enter(number: number): void {
    const { table } = this;
    table[this.place] = (this.hash & -table.length) | (number + 1);
  }

  private grow(): void {
    const { hash } = this;
    this.table = new Int32Array(2 * this.table.length);
    for (let number = 0; number < this.count; number++) {
      this.find(this.names[number]!);
      this.enter(number);
    }
    this.hash = hash;
  }
}
