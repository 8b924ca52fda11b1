/** A walk through elements and points, circuit by circuit: in an order that owes itself to ids and to what is joined alone. */

/** A record of an element: its ends, one more than where in the walk it is or 0, and the hash of its id. */
const ELEMENT = 4;
/** A record of a point: which of its elements comes next, where they end, one more than where in the walk it is or 0, and where they start. */
const POINT = 4;
const WHERE = 2;

const NO_NUMBERS = new Int32Array(0);

export class Walk {
  /** What has been come by, in that order. */
  readonly elements: Int32Array;
  points = NO_NUMBERS;
  elementsSeen = 0;
  pointsSeen = 0;
  /** Per element that has been come by: where its ends are among the points that have. */
  readonly a: Int32Array;
  readonly b: Int32Array;
  /** What feeds some elements: two more points of each. */
  readonly fed = new Map<number, { readonly a: number; readonly b: number }>();
  /** Records beside one another: what is looked at together is near in memory. */
  private readonly ofElements: Int32Array;
  private ofPoints = NO_NUMBERS;
  /** Per point, a stretch of the elements that end there. */
  private pool = NO_NUMBERS;
  private waiting = NO_NUMBERS;

  /** Elements are counted from 0 to less than `most`; `compare` orders any two by their ids. */
  constructor(
    most: number,
    private readonly compare: (x: number, y: number) => number,
  ) {
    this.elements = new Int32Array(most);
    this.a = new Int32Array(most);
    this.b = new Int32Array(most);
    this.ofElements = new Int32Array(ELEMENT * most);
  }

  enterId(e: number, hash: number): void {
    this.ofElements[ELEMENT * e + 3] = hash;
  }

  enterEnds(e: number, a: number, b: number): void {
    this.ofElements[ELEMENT * e] = a;
    this.ofElements[ELEMENT * e + 1] = b;
  }

  /** All are entered: so many elements and points. */
  begin(elements: number, points: number): void {
    const { ofElements, fed } = this;
    const ofPoints = new Int32Array(POINT * points);
    for (let at = 0; at < ELEMENT * elements; at += ELEMENT) {
      ofPoints[POINT * ofElements[at]! + 1]!++;
      ofPoints[POINT * ofElements[at + 1]! + 1]!++;
    }
    for (const { a, b } of fed.values()) {
      ofPoints[POINT * a + 1]!++;
      ofPoints[POINT * b + 1]!++;
    }
    let sum = 0;
    for (let at = 0; at < ofPoints.length; at += POINT) {
      const count = ofPoints[at + 1]!;
      ofPoints[at] = sum;
      ofPoints[at + 1] = sum;
      ofPoints[at + 3] = sum;
      sum += count;
    }
    const pool = new Int32Array(sum);
    for (let e = 0; e < elements; e++) {
      pool[ofPoints[POINT * ofElements[ELEMENT * e]! + 1]!++] = e;
      pool[ofPoints[POINT * ofElements[ELEMENT * e + 1]! + 1]!++] = e;
    }
    for (const [e, { a, b }] of fed) {
      pool[ofPoints[POINT * a + 1]!++] = e;
      pool[ofPoints[POINT * b + 1]!++] = e;
    }
    this.ofPoints = ofPoints;
    this.pool = pool;
    this.waiting = new Int32Array(points);
    this.points = new Int32Array(points);
  }

  hasSeen(e: number): boolean {
    return this.ofElements[ELEMENT * e + WHERE] !== 0;
  }

  /** Where among the points that have been come by a point is, or -1. */
  whereIs(point: number): number {
    return this.ofPoints[POINT * point + WHERE]! - 1;
  }

  /** Goes through all that hangs together with an element, from its `a`. */
  from(first: number, isInOrder = true): void {
    const { ofElements, ofPoints, elements, a, b, pool, waiting, fed } = this;
    const hasFed = fed.size > 0;
    let depth = this.reach(ofElements[ELEMENT * first]!, 0, isInOrder);
    while (depth > 0) {
      const point = POINT * waiting[depth - 1]!;
      const at = ofPoints[point]!;
      if (at === ofPoints[point + 1]) {
        depth--;
        continue;
      }
      ofPoints[point] = at + 1;
      const e = pool[at]!;
      const element = ELEMENT * e;
      if (ofElements[element + WHERE] !== 0) continue;
      const k = this.elementsSeen++;
      elements[k] = e;
      ofElements[element + WHERE] = k + 1;
      const x = ofElements[element]!;
      const y = ofElements[element + 1]!;
      if (ofPoints[POINT * x + WHERE] === 0) depth = this.reach(x, depth, isInOrder);
      if (ofPoints[POINT * y + WHERE] === 0) depth = this.reach(y, depth, isInOrder);
      a[k] = ofPoints[POINT * x + WHERE]! - 1;
      b[k] = ofPoints[POINT * y + WHERE]! - 1;
      const feeding = hasFed ? fed.get(e) : undefined;
      if (feeding === undefined) continue;
      if (ofPoints[POINT * feeding.a + WHERE] === 0) depth = this.reach(feeding.a, depth, isInOrder);
      if (ofPoints[POINT * feeding.b + WHERE] === 0) depth = this.reach(feeding.b, depth, isInOrder);
    }
  }

  private reach(point: number, depth: number, isInOrder: boolean): number {
    const { ofPoints, waiting } = this;
    this.points[this.pointsSeen++] = point;
    ofPoints[POINT * point + WHERE] = this.pointsSeen;
    waiting[depth] = point;
    // One of its elements is that by which it was come to, but where the walk starts.
    const others = ofPoints[POINT * point + 1]! - ofPoints[POINT * point]! - (depth === 0 ? 0 : 1);
    if (others > 1 && isInOrder) this.sortAt(point);
    return depth + 1;
  }

  /** Puts the elements at a point that are still to come in order. */
  private sortAt(point: number): void {
    const { ofElements, ofPoints, pool } = this;
    const start = ofPoints[POINT * point]!;
    const last = ofPoints[POINT * point + 1]!;
    let end = start;
    for (let k = start; k < last; k++) {
      const e = pool[k]!;
      if (ofElements[ELEMENT * e + WHERE] === 0) pool[end++] = e;
    }
    ofPoints[POINT * point + 1] = end;
    if (end - start > FEW) this.sortByDigits(pool.subarray(start, end));
    // What is in order by hashes takes no more than a look.
    for (let k = start + 1; k < end; k++) {
      const e = pool[k]!;
      let at = k - 1;
      for (; at >= start && this.order(pool[at]!, e) > 0; at--) pool[at + 1] = pool[at]!;
      pool[at + 1] = e;
    }
  }

  /** Sorts by hashes, some bits of them at a time. */
  private sortByDigits(elements: Int32Array): void {
    const { ofElements } = this;
    const { length } = elements;
    let from: Int32Array = elements;
    let to: Int32Array = new Int32Array(length);
    for (let shift = 0; shift < 32; shift += DIGIT) {
      const counts = new Int32Array(1 << DIGIT);
      const digitOf = (e: number): number => ((ofElements[ELEMENT * e + 3]! ^ SIGN) >>> shift) & ((1 << DIGIT) - 1);
      for (let k = 0; k < length; k++) counts[digitOf(from[k]!)]!++;
      let sum = 0;
      for (let digit = 0; digit < counts.length; digit++) {
        const count = counts[digit]!;
        counts[digit] = sum;
        sum += count;
      }
      for (let k = 0; k < length; k++) to[counts[digitOf(from[k]!)]!++] = from[k]!;
      [from, to] = [to, from];
    }
    elements.set(from);
  }

  /** By hashes, which are at hand; where these are the same by ids. */
  private order(x: number, y: number): number {
    const one = this.ofElements[ELEMENT * x + 3]!;
    const other = this.ofElements[ELEMENT * y + 3]!;
    return one < other ? -1 : one > other ? 1 : this.compare(x, y);
  }

  /** Goes through all that hangs together with an element, from the one of these that is first in order. */
  around(e: number): void {
    const { elementsSeen, pointsSeen, elements, ofElements, ofPoints } = this;
    this.from(e, false);
    let first = elements[elementsSeen]!;
    for (let k = elementsSeen; k < this.elementsSeen; k++) {
      const other = elements[k]!;
      ofElements[ELEMENT * other + WHERE] = 0;
      if (this.order(other, first) < 0) first = other;
    }
    for (let k = pointsSeen; k < this.pointsSeen; k++) {
      const point = POINT * this.points[k]!;
      ofPoints[point + WHERE] = 0;
      ofPoints[point] = ofPoints[point + 3]!;
    }
    this.elementsSeen = elementsSeen;
    this.pointsSeen = pointsSeen;
    this.from(first);
  }

  /** One more than where each element is in the walk, or 0; then each point. */
  positions(): { readonly elementAt: Int32Array; readonly pointAt: Int32Array } {
    return { elementAt: everyOther(this.ofElements, ELEMENT), pointAt: everyOther(this.ofPoints, POINT) };
  }
}

/** Up to so many are put in order by moving each to its place alone. */
const FEW = 48;

/** Bits of a hash that are sorted by in one go; and the one that makes it negative. */
const DIGIT = 11;
const SIGN = -(2 ** 31);

function everyOther(records: Int32Array, size: number): Int32Array {
  const column = new Int32Array(records.length / size);
  for (let k = 0; k < column.length; k++) column[k] = records[size * k + WHERE]!;
  return column;
}
