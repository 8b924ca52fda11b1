/** One circuit laid out for the solver: numbers for names, made once and used for every state. */

import { BYPASS, CAPACITIVE, type Columns, CONTACT, CURRENT, DIODE, IMPEDANCE, POWER } from './columns.js';
import { SHORT, SOURCE, TINY, TINY_OHMS, WIRE, ZERO_OHMS } from './columns.js';
import { Eliminations } from './elimination.js';
import type { FurtherStates } from './further-states.js';
import { byName } from './names.js';
import type { Circuit, CircuitElement, CircuitState, Phasor, SolveProblem, Source } from './network.js';
import type { Numbered } from './numbering.js';
import { polar } from './phasor.js';
import { isEqual, keptOr } from './same.js';
import { UnionFind } from './union-find.js';
import { BRANCH, FED, IDEAL, IDEAL_FED, OPEN, PINNED, PLAIN, type Wiring } from './wiring.js';

export interface Layout extends Pick<Columns, 'kind' | 'ohms' | 'reactance'> {
  readonly circuit: Circuit;
  /** An element by its number. */
  elementAt(e: number): CircuitElement;
  /** The number of an element by its id. */
  numberOf(id: string): number | undefined;
  /** Names of the points, in the order of their numbers. */
  readonly points: readonly string[];
  /** The number of a point by its name. */
  pointOf(name: string): number | undefined;
  /** Per element: its ends as point numbers. */
  readonly a: Int32Array;
  readonly b: Int32Array;
  /** Per element: the ends of the primary of a fed winding, or -1. */
  readonly fedA: Int32Array;
  readonly fedB: Int32Array;
  /** Elements that never have ohms: shorts, and impedances without any. */
  readonly ideal: Uint8Array;
  /** The same as a list, and all that is bare whatever the contacts do: these, wires and diodes. */
  readonly ideals: readonly number[];
  readonly bare: readonly number[];
  /** These in the order of their ids. */
  readonly contacts: readonly number[];
  readonly sources: readonly number[];
  readonly loads: readonly number[];
  readonly bypasses: readonly number[];
  readonly diodes: readonly number[];
  /** Whether any source is fed by another. */
  readonly hasFed: boolean;
  /** Volts that no unloaded part of the circuit passes: the scale of tolerances. */
  readonly scaleVolts: number;
  readonly problem: SolveProblem | undefined;
  /** Per element: its role in the equations with loads and bypasses off, in a circuit that has one system. */
  readonly roles: Uint8Array;
  /** The role of an impedance, a source or a bypass, were these its figures. */
  roleOf(e: number, ohms: number, reactance: number): number;
  /** Whether there is no reactance at all. */
  readonly isReal: boolean;
  /** What is known of the topologies of its states. */
  readonly eliminations: Eliminations;
  /** Nets of its states, the last ones used. */
  readonly netsKept: Nets[];
  /** How many of its states were solved in full, and what further ones share. */
  readonly shared: { inFull: number; further?: FurtherStates | 'none' };
}

/** What of a circuit does not depend on its figures, but for what sets these apart. */
export type Frame = Omit<Layout, keyof Figured>;
type Figured = Pick<
  Layout,
  'circuit' | 'elementAt' | 'ohms' | 'reactance' | 'scaleVolts' | 'problem' | 'isReal' | 'shared'
>;

export function frameOf(
  { ends, sources, points, pointOf, numberOf, places }: Numbered,
  { kind, traits }: Columns,
  given: readonly CircuitElement[],
  isDirect: boolean,
): Frame {
  const count = kind.length;
  const ideal = new Uint8Array(count);
  const ideals: number[] = [];
  const bare: number[] = [];
  const contacts: number[] = [];
  const loads: number[] = [];
  const bypasses: number[] = [];
  const diodes: number[] = [];
  const tinies: number[] = [];
  const capacitors: number[] = [];
  const roles = new Uint8Array(count);
  for (let e = 0; e < count; e++) {
    const code = kind[e]!;
    if (code === IMPEDANCE) {
      const trait = traits[e]!;
      roles[e] = PLAIN;
      if (trait === 0) continue;
      if ((trait & ZERO_OHMS) !== 0) ideal[e] = 1;
      else {
        if ((trait & WIRE) !== 0) bare.push(e);
        if ((trait & TINY) !== 0) tinies.push(e);
        if ((trait & CAPACITIVE) !== 0) capacitors.push(e);
      }
    } else if (code === SHORT) ideal[e] = 1;
    else if (code === CONTACT) contacts.push(e);
    else if (code === POWER || code === CURRENT) loads.push(e);
    else if (code === BYPASS) bypasses.push(e);
    else if (code === DIODE) {
      diodes.push(e);
      bare.push(e);
    }
    if (ideal[e] !== 1) continue;
    roles[e] = OPEN;
    ideals.push(e);
    bare.push(e);
  }
  const tiny = tinies.length <= MOST_WITH_PIVOTING ? TINY_OHMS : 0;
  const fewCapacitors = capacitors.length <= MOST_WITH_PIVOTING;
  const roleOf = (e: number, ohms: number, reactance: number): number => {
    if (ohms + Math.abs(reactance) < (kind[e] === SOURCE ? TINY_OHMS : tiny)) return BRANCH;
    return reactance < 0 && fewCapacitors ? PINNED : PLAIN;
  };
  for (const e of tinies) if (tiny > 0) roles[e] = BRANCH;
  for (const e of capacitors) {
    if (isDirect) roles[e] = OPEN;
    else if (roles[e] !== BRANCH && fewCapacitors) roles[e] = PINNED;
  }
  for (const e of sources) {
    const trait = traits[e]!;
    const isFed = ends.fedA[e]! >= 0;
    if ((trait & ZERO_OHMS) !== 0) roles[e] = isFed ? IDEAL_FED : IDEAL;
    else if (isFed) roles[e] = FED;
    else if ((trait & TINY) !== 0) roles[e] = BRANCH;
    else roles[e] = (trait & CAPACITIVE) !== 0 && fewCapacitors ? PINNED : PLAIN;
  }
  const byId = (list: number[]): readonly number[] =>
    list.sort((x, y) => byName(given[places[x]!]!.id, given[places[y]!]!.id));
  const { a, b, fedA, fedB } = ends;
  return {
    a,
    b,
    fedA,
    fedB,
    numberOf,
    points,
    pointOf,
    kind,
    ideal,
    ideals,
    bare,
    contacts: byId(contacts),
    sources,
    loads: byId(loads),
    bypasses: byId(bypasses),
    diodes: byId(diodes),
    hasFed: sources.some((e) => ends.fedA[e]! >= 0),
    roles,
    roleOf,
    eliminations: new Eliminations(),
    netsKept: [],
  };
}

/** A frame with figures. */
export function layOut(
  frame: Frame,
  { ohms, reactance, isReal }: Columns,
  circuit: Circuit,
  elementAt: (e: number) => CircuitElement,
  problem: SolveProblem | undefined,
): Layout {
  // Name by name: to spread so many takes longer than to solve a small circuit.
  return {
    a: frame.a,
    b: frame.b,
    fedA: frame.fedA,
    fedB: frame.fedB,
    numberOf: frame.numberOf,
    points: frame.points,
    pointOf: frame.pointOf,
    kind: frame.kind,
    ideal: frame.ideal,
    ideals: frame.ideals,
    bare: frame.bare,
    contacts: frame.contacts,
    sources: frame.sources,
    loads: frame.loads,
    bypasses: frame.bypasses,
    diodes: frame.diodes,
    hasFed: frame.hasFed,
    roles: frame.roles,
    roleOf: frame.roleOf,
    eliminations: frame.eliminations,
    netsKept: frame.netsKept,
    circuit,
    elementAt,
    ohms,
    reactance,
    scaleVolts: voltsAtMost(frame.sources.map((e) => elementAt(e) as Source)),
    problem,
    isReal,
    shared: { inFull: 0 },
  };
}

/** What is solved with pivoting is solved densely: of more tiny impedances or capacitors than this all are eliminated like the others. */
const MOST_WITH_PIVOTING = 300;

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
  const { volts, system, phase } = layout.elementAt(e) as Source;
  return polar(volts, system === 'DC' ? 0 : phase);
}

/** Whether a contact joins its ends in a state. */
export function isMade(layout: Layout, e: number, actuated: ReadonlySet<string>): boolean {
  const element = layout.elementAt(e);
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
  let joined = layout.ideal;
  for (const e of layout.contacts) {
    if (!isMade(layout, e, actuated)) continue;
    if (joined === layout.ideal) joined = joined.slice();
    joined[e] = 1;
  }
  return keptOr(
    layout.netsKept,
    (one) => isEqual(one.joined, joined),
    NETS_KEPT,
    () => netsWhere(layout, joined),
  );
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
