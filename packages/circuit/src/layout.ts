/** One circuit laid out for the solver: numbers for names, made once and used for every state. */

import { Eliminations } from './elimination.js';
import type { Circuit, CircuitElement, CircuitState, SolveProblem, Source } from './network.js';
import { UnionFind } from './union-find.js';
import { SMALLEST_OHMS } from './validate.js';

export interface Layout {
  readonly circuit: Circuit;
  /** Sorted by id. */
  readonly elements: readonly CircuitElement[];
  /** The number of an element by its id. */
  numberOf(id: string): number | undefined;
  readonly points: readonly string[];
  /** The number of a point by its name. */
  pointOf(name: string): number | undefined;
  /** Per element: its ends as point numbers. */
  readonly a: Int32Array;
  readonly b: Int32Array;
  /** Per element: the ends of the primary of a fed winding, or -1. */
  readonly fedA: Int32Array;
  readonly fedB: Int32Array;
  /** Per element: ohms and reactance as the circuit's system sees them. */
  readonly ohms: Float64Array;
  readonly reactance: Float64Array;
  /** Elements that never have ohms: shorts, and impedances without any. */
  readonly ideal: Uint8Array;
  readonly contacts: readonly number[];
  readonly sources: readonly number[];
  readonly loads: readonly number[];
  readonly bypasses: readonly number[];
  readonly diodes: readonly number[];
  /** Volts that no unloaded part of the circuit passes: the scale of tolerances. */
  readonly scaleVolts: number;
  readonly problem: SolveProblem | undefined;
  readonly pivoting: Pivoting;
  /** What is known of the topologies of its states. */
  readonly eliminations: Eliminations;
}

/** Per element: its ends as point numbers, and those of what feeds it or -1. */
export interface Ends {
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly fedA: Int32Array;
  readonly fedB: Int32Array;
}

/** A bypass or inductor with fewer ohms still counts as this many, so that its current has one answer. */
const LEAST_BRANCH_OHMS = 1e-6;

/** `pointOf` gives a point's place in the circuit's list of points. */
export function layOut(
  circuit: Circuit,
  elements: readonly CircuitElement[],
  ends: Ends,
  pointOf: (name: string) => number | undefined,
  problem: SolveProblem | undefined,
): Layout {
  let numbers: ReadonlyMap<string, number> | undefined;
  const count = elements.length;
  const { a, b, fedA, fedB } = ends;
  const ohms = new Float64Array(count);
  const reactance = new Float64Array(count);
  const ideal = new Uint8Array(count);
  const contacts: number[] = [];
  const sources: number[] = [];
  const loads: number[] = [];
  const bypasses: number[] = [];
  const diodes: number[] = [];
  elements.forEach((element, e) => {
    if (element.kind === 'short') ideal[e] = 1;
    else if (element.kind === 'contact') contacts.push(e);
    else if (element.kind === 'diode') diodes.push(e);
    else if (element.kind === 'power' || element.kind === 'current') loads.push(e);
    else if (element.kind === 'bypass') {
      bypasses.push(e);
      ohms[e] = Math.max(element.ohms, LEAST_BRANCH_OHMS);
    } else if (element.kind === 'impedance') {
      ohms[e] = element.ohms;
      reactance[e] = circuit.system === 'DC' && element.reactance > 0 ? 0 : element.reactance;
      if (ohms[e]! + Math.abs(reactance[e]!) < SMALLEST_OHMS) ideal[e] = 1;
    } else if (element.kind === 'source') {
      sources.push(e);
      ohms[e] = element.ohms;
      reactance[e] = element.system === 'DC' ? 0 : element.reactance;
      if (ohms[e]! + Math.abs(reactance[e]!) < SMALLEST_OHMS) {
        ohms[e] = 0;
        reactance[e] = 0;
      }
    }
  });
  return {
    circuit,
    elements,
    numberOf(id) {
      numbers ??= new Map(elements.map((element, index) => [element.id, index]));
      return numbers.get(id);
    },
    points: circuit.points,
    pointOf,
    a,
    b,
    fedA,
    fedB,
    ohms,
    reactance,
    ideal,
    contacts,
    sources,
    loads,
    bypasses,
    diodes,
    scaleVolts: voltsAtMost(elements),
    problem,
    pivoting: pivotingOf(elements, ohms, reactance, ideal),
    eliminations: new Eliminations(),
  };
}

/** An impedance below this many ohms gets a current unknown: its current would drown in the rounding of its ends' volts. */
const TINY_OHMS = 1e-5;

/** What is solved with pivoting is solved densely: of more tiny impedances or capacitors than this all are eliminated like the others. */
const MOST_WITH_PIVOTING = 300;

/** Which impedances are left to the part that is solved with pivoting. */
export interface Pivoting {
  /** Those of fewer ohms. */
  readonly tiny: number;
  readonly fewCapacitors: boolean;
}

function pivotingOf(
  elements: readonly CircuitElement[],
  ohms: Float64Array,
  reactance: Float64Array,
  ideal: Uint8Array,
): Pivoting {
  let tiny = 0;
  let capacitors = 0;
  for (let e = 0; e < elements.length; e++) {
    if (elements[e]!.kind !== 'impedance' || ideal[e] === 1) continue;
    if (ohms[e]! + Math.abs(reactance[e]!) < TINY_OHMS) tiny++;
    if (reactance[e]! < 0) capacitors++;
  }
  return { tiny: tiny <= MOST_WITH_PIVOTING ? TINY_OHMS : 0, fewCapacitors: capacitors <= MOST_WITH_PIVOTING };
}

function voltsAtMost(elements: readonly CircuitElement[]): number {
  const sources = elements.filter((element): element is Source => element.kind === 'source');
  let independent = 0;
  for (const source of sources) if (source.fedBy === undefined) independent += Math.abs(source.volts);
  let total = independent;
  for (const source of sources) {
    if (source.fedBy !== undefined)
      total += Math.max(Math.abs(source.volts), Math.abs(source.fedBy.ratio) * independent);
  }
  return total;
}

/** Whether a contact joins its ends in a state. */
export function isMade(layout: Layout, e: number, actuated: ReadonlySet<string>): boolean {
  const element = layout.elements[e]!;
  return element.kind === 'contact' && actuated.has(element.contact) === (element.normally === 'open');
}

/** The nets of one state: points joined by shorts, impedances without ohms, and made contacts. */
export interface Nets {
  readonly count: number;
  /** Per point. */
  readonly netOf: Int32Array;
  /** Per element: an ideal connection that joins in this state. */
  readonly joined: Uint8Array;
}

export function netsOf(layout: Layout, state: CircuitState): Nets {
  const actuated = new Set(state.closed);
  const sets = new UnionFind(layout.points.length);
  const joined = new Uint8Array(layout.ideal);
  for (const e of layout.contacts) if (isMade(layout, e, actuated)) joined[e] = 1;
  for (let e = 0; e < joined.length; e++) if (joined[e] === 1) sets.join(layout.a[e]!, layout.b[e]!);
  const netOf = new Int32Array(layout.points.length);
  let count = 0;
  for (let point = 0; point < netOf.length; point++) {
    const root = sets.find(point);
    netOf[point] = root === point ? count++ : netOf[root]!;
  }
  return { count, netOf, joined };
}
