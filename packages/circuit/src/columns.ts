/** The elements of a network as columns of numbers, in the order in which they are given. */

import { NameNumbers, orderOf } from './names.js';
import type { CircuitElement, SolveProblem, Source } from './network.js';
import { isEqual } from './same.js';
import { faultOf } from './validate.js';

/** Kinds of elements as whole numbers. */
export const SHORT = 0;
export const SOURCE = 1;
export const IMPEDANCE = 2;
export const CONTACT = 3;
export const POWER = 4;
export const CURRENT = 5;
export const BYPASS = 6;
export const DIODE = 7;

const CODES: Readonly<Record<CircuitElement['kind'], number>> = {
  short: SHORT,
  source: SOURCE,
  impedance: IMPEDANCE,
  contact: CONTACT,
  power: POWER,
  current: CURRENT,
  bypass: BYPASS,
  diode: DIODE,
};

export type BadFigure = SolveProblem & { kind: 'bad-figure' };

/** Per element: its names, what it is, and of impedances their figures. */
export interface Columns {
  readonly ids: readonly string[];
  readonly a: readonly string[];
  readonly b: readonly string[];
  /** Places of windings that are fed by another source. */
  readonly fed: readonly number[];
  readonly kind: Uint8Array;
  readonly ohms: Float64Array;
  readonly reactance: Float64Array;
  readonly wire: Uint8Array;
  /** Places of elements whose figures can't be used, and what is wrong with them. */
  readonly faults: ReadonlyMap<number, string>;
}

export function readColumns(given: readonly CircuitElement[]): Columns {
  const count = given.length;
  const ids: string[] = new Array(count);
  const a: string[] = new Array(count);
  const b: string[] = new Array(count);
  for (let k = 0; k < count; k++) {
    const element = given[k]!;
    ids[k] = element.id;
    a[k] = element.a;
    b[k] = element.b;
  }
  return { ids, a, b, ...readFigures(given) };
}

/** The columns of a network of the same names as another; `undefined` where it is of others, or has windings fed by one another. */
export function readLike(given: readonly CircuitElement[], { ids, a, b, kind, fed }: Columns): Columns | undefined {
  if (given.length !== ids.length || fed.length > 0) return undefined;
  for (let k = 0; k < given.length; k++) {
    const element = given[k]!;
    if (element.id !== ids[k] || element.a !== a[k] || element.b !== b[k]) return undefined;
  }
  const figures = readFigures(given);
  if (figures.fed.length > 0 || !isEqual(figures.kind, kind)) return undefined;
  return { ids, a, b, ...figures };
}

function readFigures(given: readonly CircuitElement[]): Omit<Columns, 'ids' | 'a' | 'b'> {
  const count = given.length;
  const fed: number[] = [];
  const kind = new Uint8Array(count);
  const ohms = new Float64Array(count);
  const reactance = new Float64Array(count);
  const wire = new Uint8Array(count);
  const faults = new Map<number, string>();
  for (let k = 0; k < count; k++) {
    const element = given[k]!;
    const fault = faultOf(element);
    if (fault !== undefined) faults.set(k, fault);
    if (element.kind === 'impedance') {
      kind[k] = IMPEDANCE;
      ohms[k] = element.ohms;
      reactance[k] = element.reactance;
      if (element.wire) wire[k] = 1;
      continue;
    }
    kind[k] = CODES[element.kind];
    if (element.kind === 'source' && element.fedBy !== undefined) fed.push(k);
  }
  return { fed, kind, ohms, reactance, wire, faults };
}

/** Per element: its ends as point numbers, and those of what feeds it or -1. */
export interface Ends {
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly fedA: Int32Array;
  readonly fedB: Int32Array;
}

/** A network by numbers: all that does not depend on its figures. */
export interface Numbering {
  /** Per element, in the order of ids: its place among those given. */
  readonly places: Int32Array;
  /** Ids of elements left out because another one has the same. */
  readonly repeated: readonly string[];
  readonly ends: Ends;
  /** Names of the points by their numbers. */
  readonly names: readonly string[];
  pointOf(name: string): number | undefined;
}

/** Numbers elements by the order of their ids, and points as elements in that order mention them. */
export function numberAll(given: readonly CircuitElement[], columns: Columns): Numbering {
  const { places, repeated } = placesOf(given, columns.ids);
  const points = new NameNumbers(given.length);
  // In the order given at first, in which names are at hand.
  const mentionedA = new Int32Array(given.length);
  const mentionedB = new Int32Array(given.length);
  for (let k = 0; k < given.length; k++) {
    mentionedA[k] = points.put(columns.a[k]!);
    mentionedB[k] = points.put(columns.b[k]!);
  }
  const fed = new Map(
    columns.fed.map((place) => {
      const { fedBy } = given[place] as Source;
      return [place, { a: points.put(fedBy!.a), b: points.put(fedBy!.b) }];
    }),
  );
  const { names: mentioned } = points;
  const numberOf = new Int32Array(mentioned.length).fill(-1);
  const names: string[] = [];
  const numbered = (point: number): number => {
    const known = numberOf[point]!;
    if (known >= 0) return known;
    numberOf[point] = names.length;
    return names.push(mentioned[point]!) - 1;
  };
  const count = places.length;
  const a = new Int32Array(count);
  const b = new Int32Array(count);
  const fedA = new Int32Array(count).fill(-1);
  const fedB = new Int32Array(count).fill(-1);
  for (let e = 0; e < count; e++) {
    const place = places[e]!;
    a[e] = numbered(mentionedA[place]!);
    b[e] = numbered(mentionedB[place]!);
    const feeding = fed.size === 0 ? undefined : fed.get(place);
    if (feeding === undefined) continue;
    fedA[e] = numbered(feeding.a);
    fedB[e] = numbered(feeding.b);
  }
  return {
    places,
    repeated,
    ends: { a, b, fedA, fedB },
    names,
    pointOf(name) {
      const point = points.of(name);
      return point === undefined || numberOf[point]! < 0 ? undefined : numberOf[point];
    },
  };
}

/** Places in the order of ids; of elements of one id the first by kind and ends counts. */
function placesOf(
  given: readonly CircuitElement[],
  ids: readonly string[],
): { places: Int32Array; repeated: readonly string[] } {
  const { order, hasRepeats } = orderOf(ids);
  if (!hasRepeats) return { places: order, repeated: [] };
  const places: number[] = [];
  const repeated: string[] = [];
  for (const place of order) {
    const last = places.at(-1);
    const element = given[place]!;
    if (last === undefined || given[last]!.id !== element.id) {
      places.push(place);
      continue;
    }
    repeated.push(element.id);
    if (isBefore(element, given[last]!)) places[places.length - 1] = place;
  }
  return { places: Int32Array.from(places), repeated };
}

function isBefore(one: CircuitElement, other: CircuitElement): boolean {
  for (const key of ['kind', 'a', 'b'] as const) if (one[key] !== other[key]) return one[key] < other[key];
  return false;
}
