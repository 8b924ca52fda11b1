/** One circuit laid out for the solver: numbers for names, made once and used for every state. */

import { CONTACT, type Columns, CURRENT, DIODE, type Ends, IMPEDANCE, POWER, SHORT, SOURCE } from './columns.js';
import type { Eliminations } from './elimination.js';
import type { FurtherStates } from './further-states.js';
import type { Bypass, Circuit, CircuitElement, CircuitState, Phasor, SolveProblem, Source } from './network.js';
import { polar } from './phasor.js';
import { isEqual } from './same.js';
import { UnionFind } from './union-find.js';
import { SMALLEST_OHMS } from './validate.js';
import { BRANCH, FED, IDEAL, IDEAL_FED, OPEN, PINNED, PLAIN, type Wiring } from './wiring.js';

export interface Layout {
  readonly circuit: Circuit;
  /** Sorted by id. */
  readonly elements: readonly CircuitElement[];
  /** The number of an element by its id. */
  numberOf(id: string): number | undefined;
  /** Names of the points, in the order of their numbers. */
  readonly points: readonly string[];
  /** The number of a point by its name. */
  pointOf(name: string): number | undefined;
  /** Per element: what it is. */
  readonly kind: Uint8Array;
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
  /** The same as a list, and all that is bare whatever the contacts do: these, wires and diodes. */
  readonly ideals: readonly number[];
  readonly bare: readonly number[];
  readonly contacts: readonly number[];
  readonly sources: readonly number[];
  /** Whether any source is fed by another. */
  readonly hasFed: boolean;
  readonly loads: readonly number[];
  readonly bypasses: readonly number[];
  readonly diodes: readonly number[];
  /** Volts that no unloaded part of the circuit passes: the scale of tolerances. */
  readonly scaleVolts: number;
  readonly problem: SolveProblem | undefined;
  readonly pivoting: Pivoting;
  /** Per element: its role in the equations with loads and bypasses off, in a circuit that has one system. */
  readonly roles: Uint8Array;
  /** The role of some impedance; below `tiny` ohms it is a current unknown. */
  roleOf(ohms: number, reactance: number, tiny: number): number;
  /** Whether there is no reactance at all. */
  readonly isReal: boolean;
  /** What is known of the topologies of its states. */
  readonly eliminations: Eliminations;
  /** Nets of its states, the last ones used. */
  readonly netsKept: Nets[];
  /** How many of its states were solved in full, and what further ones share. */
  readonly shared: { inFull: number; further?: FurtherStates | 'none' };
}

/** A bypass or inductor with fewer ohms still counts as this many, so that its current has one answer. */
const LEAST_BRANCH_OHMS = 1e-6;

/** What a layout takes over from that of another network of the same points and elements. */
export type Carried = Pick<Layout, 'pointOf' | 'points' | 'eliminations' | 'netsKept'>;

/** `places` are those of the elements in the columns. */
export function layOut(
  circuit: Circuit,
  elements: readonly CircuitElement[],
  columns: Columns,
  places: Int32Array,
  ends: Ends,
  carried: Carried,
  problem: SolveProblem | undefined,
): Layout {
  const count = elements.length;
  const kind = new Uint8Array(count);
  const ohms = new Float64Array(count);
  const reactance = new Float64Array(count);
  const ideal = new Uint8Array(count);
  const ideals: number[] = [];
  const bare: number[] = [];
  const contacts: number[] = [];
  const sources: number[] = [];
  const loads: number[] = [];
  const bypasses: number[] = [];
  const diodes: number[] = [];
  const capacitors: number[] = [];
  const tinies: number[] = [];
  const roles = new Uint8Array(count);
  const isDirect = circuit.system === 'DC';
  let isReal = true;
  for (let e = 0; e < count; e++) {
    const place = places[e]!;
    const code = columns.kind[place]!;
    kind[e] = code;
    if (code === IMPEDANCE) {
      const r = columns.ohms[place]!;
      const given = columns.reactance[place]!;
      const x = isDirect && given > 0 ? 0 : given;
      ohms[e] = r;
      reactance[e] = x;
      if (x !== 0) isReal = isReal && isDirect;
      const size = r + Math.abs(x);
      if (size < SMALLEST_OHMS) ideal[e] = 1;
      else {
        if (columns.wire[place] === 1) bare.push(e);
        if (x < 0) capacitors.push(e);
        if (size < TINY_OHMS) tinies.push(e);
        roles[e] = PLAIN;
      }
    } else if (code === SHORT) ideal[e] = 1;
    else if (code === CONTACT) contacts.push(e);
    else if (code === POWER || code === CURRENT) loads.push(e);
    else if (code === DIODE) {
      diodes.push(e);
      bare.push(e);
    } else if (code === SOURCE) {
      sources.push(e);
      const element = elements[e] as Source;
      ohms[e] = element.ohms;
      reactance[e] = element.system === 'DC' ? 0 : element.reactance;
      if (ohms[e]! + Math.abs(reactance[e]!) < SMALLEST_OHMS) {
        ohms[e] = 0;
        reactance[e] = 0;
      }
    } else {
      bypasses.push(e);
      ohms[e] = Math.max((elements[e] as Bypass).ohms, LEAST_BRANCH_OHMS);
    }
    if (ideal[e] === 1) {
      ideals.push(e);
      bare.push(e);
    }
  }
  const pivoting: Pivoting = {
    tiny: tinies.length <= MOST_WITH_PIVOTING ? TINY_OHMS : 0,
    fewCapacitors: capacitors.length <= MOST_WITH_PIVOTING,
  };
  const roleOf = (r: number, x: number, tiny: number): number =>
    r + Math.abs(x) < tiny ? BRANCH : x < 0 && pivoting.fewCapacitors ? PINNED : PLAIN;
  for (const e of tinies) roles[e] = roleOf(ohms[e]!, reactance[e]!, pivoting.tiny);
  for (const e of capacitors) roles[e] = isDirect ? OPEN : roleOf(ohms[e]!, reactance[e]!, pivoting.tiny);
  for (const e of sources) {
    if (reactance[e] !== 0) isReal = false;
    roles[e] = roleOf(ohms[e]!, reactance[e]!, TINY_OHMS);
  }
  for (const e of sources) {
    const isIdeal = ohms[e] === 0 && reactance[e] === 0;
    if (ends.fedA[e]! >= 0) roles[e] = isIdeal ? IDEAL_FED : FED;
    else if (isIdeal) roles[e] = IDEAL;
  }
  return {
    circuit,
    elements,
    numberOf: (id) => numberOf(elements, id),
    ...carried,
    ...ends,
    kind,
    ohms,
    reactance,
    ideal,
    ideals,
    bare,
    contacts,
    sources,
    hasFed: sources.some((e) => ends.fedA[e]! >= 0),
    loads,
    bypasses,
    diodes,
    scaleVolts: voltsAtMost(sources.map((e) => elements[e] as Source)),
    problem,
    pivoting,
    roles,
    roleOf,
    isReal,
    shared: { inFull: 0 },
  };
}

/** Where an id is among elements sorted by id. */
function numberOf(elements: readonly CircuitElement[], id: string): number | undefined {
  let low = 0;
  let high = elements.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (elements[middle]!.id < id) low = middle + 1;
    else high = middle;
  }
  return elements[low]?.id === id ? low : undefined;
}

/** What has fewer ohms gets a current unknown: its current would drown in the rounding of its ends' volts. */
export const TINY_OHMS = 1e-5;

/** What is solved with pivoting is solved densely: of more tiny impedances or capacitors than this all are eliminated like the others. */
const MOST_WITH_PIVOTING = 300;

/** Which impedances are left to the part that is solved with pivoting. */
export interface Pivoting {
  /** Those of fewer ohms. */
  readonly tiny: number;
  readonly fewCapacitors: boolean;
}

function voltsAtMost(sources: readonly Source[]): number {
  let independent = 0;
  for (const source of sources) if (source.fedBy === undefined) independent += Math.abs(source.volts);
  let total = independent;
  for (const source of sources) {
    if (source.fedBy !== undefined)
      total += Math.max(Math.abs(source.volts), Math.abs(source.fedBy.ratio) * independent);
  }
  return total;
}

/** EMF of a source. */
export function emfOf(layout: Layout, e: number): Phasor {
  const { volts, system, phase } = layout.elements[e] as Source;
  return polar(volts, system === 'DC' ? 0 : phase);
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
  /** What is known of what is joined by the rest, by the roles of elements. */
  readonly wirings: Wiring[];
  /** Per net: its part without loads and bypasses, once it has been asked for; and the roles that it holds for. */
  withoutLoads?: { readonly roles: Uint8Array; readonly parts: Int32Array };
}

/** How many sets of nets are kept: as many as a circuit usually has states. */
const NETS_KEPT = 24;

export function netsOf(layout: Layout, state: CircuitState): Nets {
  const actuated = new Set(state.closed);
  const { netsKept } = layout;
  let joined = layout.ideal;
  for (const e of layout.contacts) {
    if (!isMade(layout, e, actuated)) continue;
    if (joined === layout.ideal) joined = joined.slice();
    joined[e] = 1;
  }
  const at = netsKept.findIndex((one) => isEqual(one.joined, joined));
  if (at === 0) return netsKept[0]!;
  const nets = at < 0 ? netsWhere(layout, joined) : netsKept.splice(at, 1)[0]!;
  netsKept.unshift(nets);
  if (netsKept.length > NETS_KEPT) netsKept.pop();
  return nets;
}

/** The nets where these ideal connections join. */
export function netsWhere({ a, b, points, ideals, contacts }: Layout, joined: Uint8Array): Nets {
  const sets = new UnionFind(points.length);
  for (const e of ideals) sets.join(a[e]!, b[e]!);
  for (const e of contacts) if (joined[e] === 1) sets.join(a[e]!, b[e]!);
  const netOf = sets.parent;
  let count = 0;
  // Parents come before their members, so that each can be given its number where its parent stood.
  for (let point = 0; point < netOf.length; point++) {
    const above = netOf[point]!;
    netOf[point] = above === point ? count++ : netOf[above]!;
  }
  return { count, netOf, joined, wirings: [] };
}
