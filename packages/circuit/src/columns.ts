/** The elements of a network as columns of numbers, in the order in which they are given. */

import { NameNumbers, orderOf } from './names.js';
import type { CircuitElement, SolveProblem } from './network.js';
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

/** Per element: what it is, and of impedances their figures. */
export interface Columns {
  readonly kind: Uint8Array;
  readonly ohms: Float64Array;
  readonly reactance: Float64Array;
  readonly wire: Uint8Array;
  /** Places of elements whose figures can't be used, and what is wrong with them. */
  readonly faults: ReadonlyMap<number, string>;
}

export function readColumns(given: readonly CircuitElement[]): Columns {
  const kind = new Uint8Array(given.length);
  const ohms = new Float64Array(given.length);
  const reactance = new Float64Array(given.length);
  const wire = new Uint8Array(given.length);
  const faults = new Map<number, string>();
  for (let k = 0; k < given.length; k++) {
    const element = given[k]!;
    const fault = faultOf(element);
    if (fault !== undefined) faults.set(k, fault);
    if (element.kind === 'impedance') {
      kind[k] = IMPEDANCE;
      ohms[k] = element.ohms;
      reactance[k] = element.reactance;
      if (element.wire) wire[k] = 1;
    } else kind[k] = CODES[element.kind];
  }
  return { kind, ohms, reactance, wire, faults };
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
export function numberAll(given: readonly CircuitElement[]): Numbering {
  const found = new NameNumbers(given.length);
  const all = endsOf(given, found);
  const { places, repeated } = placesOf(given);
  const { names: mentioned } = found;
  const numberOf = new Int32Array(mentioned.length).fill(-1);
  const pointAt = new Int32Array(mentioned.length);
  let count = 0;
  const numbered = (column: Int32Array): Int32Array => {
    const own = new Int32Array(places.length);
    for (let e = 0; e < own.length; e++) {
      const point = column[places[e]!]!;
      own[e] = point < 0 ? -1 : numberOf[point]!;
    }
    return own;
  };
  const columns = [all.a, all.b, all.fedA, all.fedB];
  for (let e = 0; e < places.length; e++) {
    for (const column of columns) {
      const point = column[places[e]!]!;
      if (point < 0 || numberOf[point]! >= 0) continue;
      numberOf[point] = count;
      pointAt[count++] = point;
    }
  }
  const names: string[] = new Array(count);
  for (let point = 0; point < count; point++) names[point] = mentioned[pointAt[point]!]!;
  return {
    places,
    repeated,
    ends: { a: numbered(all.a), b: numbered(all.b), fedA: numbered(all.fedA), fedB: numbered(all.fedB) },
    names,
    pointOf(name) {
      const point = found.of(name);
      return point === undefined || numberOf[point]! < 0 ? undefined : numberOf[point];
    },
  };
}

function endsOf(elements: readonly CircuitElement[], points: NameNumbers): Ends {
  const a = new Int32Array(elements.length);
  const b = new Int32Array(elements.length);
  const fedA = new Int32Array(elements.length).fill(-1);
  const fedB = new Int32Array(elements.length).fill(-1);
  for (let e = 0; e < elements.length; e++) {
    const element = elements[e]!;
    a[e] = points.put(element.a);
    b[e] = points.put(element.b);
    if (element.kind !== 'source' || element.fedBy === undefined) continue;
    fedA[e] = points.put(element.fedBy.a);
    fedB[e] = points.put(element.fedBy.b);
  }
  return { a, b, fedA, fedB };
}

/** Places in the order of ids; of elements of one id the first by kind and ends counts. */
function placesOf(given: readonly CircuitElement[]): { places: Int32Array; repeated: readonly string[] } {
  const { order, hasRepeats } = orderOf(given.map(({ id }) => id));
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
