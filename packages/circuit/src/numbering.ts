/**
 * Numbers for the elements and points of a network. Each circuit is walked through from its first source: so numbers depend on nothing but
 * names, what is joined has numbers near one another, and each circuit has a stretch of them.
 */

import { type GivenColumns, SOURCE } from './columns.js';
import { byName, NameNumbers } from './names.js';
import type { CircuitElement, Source } from './network.js';
import { Walk } from './walk.js';

/** Per element: its ends as point numbers, and those of what feeds it or -1. */
export interface Ends {
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly fedA: Int32Array;
  readonly fedB: Int32Array;
}

/** A circuit by numbers: elements and points are counted from 0 in each. */
export interface Numbered {
  /** The smallest id in it. */
  readonly id: string;
  /** Per element: its place among those given. */
  readonly places: Int32Array;
  readonly ends: Ends;
  /** Its sources, by their ids. */
  readonly sources: readonly number[];
  /** Names of the points by their numbers. */
  readonly points: readonly string[];
  pointOf(name: string): number | undefined;
  numberOf(id: string): number | undefined;
}

/** A network by numbers: all that does not depend on its figures. */
export interface Numbering {
  /** By their ids. */
  readonly circuits: readonly Numbered[];
  /** Ids of elements left out because another one has the same. */
  readonly repeated: readonly string[];
  /** Which circuit a point is in. */
  circuitOf(point: string): number | undefined;
}

/** Names as they are mentioned, element by element; of elements of one id the first by kind and ends counts. */
class Mentions {
  readonly ids: NameNumbers;
  readonly points: NameNumbers;
  readonly walk: Walk;
  /** The smallest id of all. */
  readonly least: string;
  /** Ids of elements that do not count. */
  readonly repeated: readonly string[] = [];
  /** Numbers of sources, by their ids. */
  readonly sources: readonly number[];
  /** Places of the elements by the numbers of their ids, where these are not the same. */
  readonly places: Int32Array | undefined;

  /** One kind of names after the other: tables of both would drive one another out of the processor's memory. */
  constructor({ given, kind }: GivenColumns) {
    const count = given.length;
    const ids = new NameNumbers(count);
    const walk = new Walk(count, (x, y) => byName(ids.names[x]!, ids.names[y]!));
    let least = given[0]?.id ?? '';
    for (let place = 0; place < count; place++) {
      const { id } = given[place]!;
      walk.enterId(ids.put(id), ids.hash);
      if (isLess(id, least)) least = id;
    }
    if (ids.count < count) {
      this.places = placesOf(given, ids);
      this.repeated = given.filter((element, place) => this.places![ids.of(element.id)!] !== place).map(({ id }) => id);
    }
    const points = new NameNumbers(count);
    const sources: number[] = [];
    // A wire mostly goes on where the one before it ended, or the one before that: there and back.
    let [last, lastBut] = ['', ''];
    let [lastPoint, lastButPoint] = [-1, -1];
    for (let e = 0; e < ids.count; e++) {
      const place = this.places === undefined ? e : this.places[e]!;
      const { a, b } = given[place]!;
      const from = a === lastBut && e > 1 ? lastButPoint : a === last && e > 0 ? lastPoint : points.put(a);
      [lastBut, lastButPoint] = [last, lastPoint];
      last = b;
      lastPoint = points.put(b);
      walk.enterEnds(e, from, lastPoint);
      if (kind[place] === SOURCE) sources.push(e);
    }
    for (const e of sources) {
      const { fedBy } = given[this.places === undefined ? e : this.places[e]!] as Source;
      if (fedBy !== undefined) walk.fed.set(e, { a: points.put(fedBy.a), b: points.put(fedBy.b) });
    }
    this.ids = ids;
    this.points = points;
    this.walk = walk;
    this.least = least;
    this.sources = sources.sort((x, y) => byName(ids.names[x]!, ids.names[y]!));
  }
}

/** Per id: the place of the element that counts. */
function placesOf(given: readonly CircuitElement[], ids: NameNumbers): Int32Array {
  const places = new Int32Array(ids.count).fill(-1);
  given.forEach((element, place) => {
    const e = ids.of(element.id)!;
    if (places[e]! < 0 || isBefore(element, given[places[e]!]!)) places[e] = place;
  });
  return places;
}

function isBefore(one: CircuitElement, other: CircuitElement): boolean {
  for (const key of ['kind', 'a', 'b'] as const) if (one[key] !== other[key]) return one[key] < other[key];
  return false;
}

/** What of the walk is one circuit. */
interface Stretch {
  readonly firstElement: number;
  readonly elements: number;
  readonly firstPoint: number;
  readonly points: number;
}

/** Numbers elements and points. */
export function numberAll(columns: GivenColumns): Numbering {
  const mentions = new Mentions(columns);
  const { ids, points, sources, repeated, walk } = mentions;
  walk.begin(ids.count, points.count);
  const stretches: Stretch[] = [];
  const enter = (go: () => void): void => {
    const firstElement = walk.elementsSeen;
    const firstPoint = walk.pointsSeen;
    go();
    const elements = walk.elementsSeen - firstElement;
    stretches.push({ firstElement, elements, firstPoint, points: walk.pointsSeen - firstPoint });
  };
  for (const e of sources) if (!walk.hasSeen(e)) enter(() => walk.from(e));
  for (let e = 0; walk.elementsSeen < ids.count; e++) if (!walk.hasSeen(e)) enter(() => walk.around(e));

  const { elementAt, pointAt } = walk.positions();
  const find = lookUp(points, pointAt, 0, walk.pointsSeen);
  const place: Placing = { mentions, elementAt, pointAt };
  if (stretches.length === 1) {
    const own = sources.map((e) => elementAt[e]! - 1);
    const only = numberedFrom(place, stretches[0]!, mentions.least, own);
    return { circuits: [only], repeated, circuitOf: circuitsBy(find, undefined) };
  }
  const stretchOf = new Int32Array(walk.elementsSeen);
  for (const [k, { firstElement, elements }] of stretches.entries())
    stretchOf.fill(k, firstElement, firstElement + elements);
  const least = stretches.map(({ firstElement }) => ids.names[walk.elements[firstElement]!]!);
  for (let e = 0; e < ids.count; e++) {
    const k = stretchOf[elementAt[e]! - 1]!;
    if (isLess(ids.names[e]!, least[k]!)) least[k] = ids.names[e]!;
  }
  const own: number[][] = stretches.map(() => []);
  for (const e of sources) {
    const k = stretchOf[elementAt[e]! - 1]!;
    own[k]!.push(elementAt[e]! - 1 - stretches[k]!.firstElement);
  }
  const circuits = stretches
    .map((stretch, k) => ({ stretch, numbered: numberedFrom(place, stretch, least[k]!, own[k]!) }))
    .sort((x, y) => byName(x.numbered.id, y.numbered.id));
  const circuitAt = new Int32Array(walk.pointsSeen);
  for (const [k, { stretch }] of circuits.entries())
    circuitAt.fill(k, stretch.firstPoint, stretch.firstPoint + stretch.points);
  return { circuits: circuits.map(({ numbered }) => numbered), repeated, circuitOf: circuitsBy(find, circuitAt) };
}

/** The same as `byName`, for names that mostly differ early. */
function isLess(x: string, y: string): boolean {
  const length = Math.min(x.length, y.length);
  for (let at = 0; at < length; at++) {
    const difference = x.charCodeAt(at) - y.charCodeAt(at);
    if (difference !== 0) return difference < 0;
  }
  return x.length < y.length;
}

/** In a function of its own: what the numbering was made with is let go of. */
function circuitsBy(numberOf: Numbered['pointOf'], circuitAt: Int32Array | undefined): Numbering['circuitOf'] {
  return (point) => {
    const number = numberOf(point);
    if (number === undefined) return undefined;
    return circuitAt === undefined ? 0 : circuitAt[number];
  };
}

interface Placing extends ReturnType<Walk['positions']> {
  readonly mentions: Mentions;
}

function numberedFrom(
  { mentions, elementAt, pointAt }: Placing,
  stretch: Stretch,
  id: string,
  sources: readonly number[],
): Numbered {
  const { ids, points, places, walk } = mentions;
  const { firstElement, firstPoint } = stretch;
  const own = (column: Int32Array): Int32Array =>
    stretch.elements === column.length ? column : column.subarray(firstElement, firstElement + stretch.elements);
  const counted = (column: Int32Array): Int32Array =>
    firstPoint === 0 ? own(column) : own(column).map((point) => point - firstPoint);
  const fedA = new Int32Array(stretch.elements).fill(-1);
  const fedB = walk.fed.size === 0 ? fedA : fedA.slice();
  for (const source of walk.fed.size === 0 ? [] : sources) {
    const feeding = walk.fed.get(walk.elements[firstElement + source]!);
    if (feeding === undefined) continue;
    fedA[source] = walk.whereIs(feeding.a) - firstPoint;
    fedB[source] = walk.whereIs(feeding.b) - firstPoint;
  }
  const names: string[] = new Array(stretch.points);
  for (let point = 0; point < names.length; point++) names[point] = points.names[walk.points[firstPoint + point]!]!;
  return {
    id,
    places: places === undefined ? own(walk.elements) : own(walk.elements).map((e) => places[e]!),
    ends: { a: counted(walk.a), b: counted(walk.b), fedA, fedB },
    sources,
    points: names,
    pointOf: lookUp(points, pointAt, firstPoint, stretch.points),
    numberOf: lookUp(ids, elementAt, firstElement, stretch.elements),
  };
}

/** The number of a name counted from `first` on, of so many; `at` is one more than where each name is, or 0. */
function lookUp(
  names: NameNumbers,
  at: Int32Array,
  first: number,
  count: number,
): (name: string) => number | undefined {
  return (name) => {
    const known = names.of(name);
    const number = known === undefined ? -1 : at[known]! - 1 - first;
    return number >= 0 && number < count ? number : undefined;
  };
}
