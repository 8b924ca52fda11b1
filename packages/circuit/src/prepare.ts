/** Makes a network ready: figures checked, shorts merged, circuits found, and each circuit laid out once for all its states. */

import { type BadFigure, type Columns, CONTACT, CURRENT, type Ends, numberAll } from './columns.js';
import { type Numbering, POWER, readColumns, readLike, SOURCE } from './columns.js';
import { Eliminations } from './elimination.js';
import { type Carried, type Layout, layOut } from './layout.js';
import { byName } from './names.js';
import type {
  Circuit,
  CircuitElement,
  CircuitState,
  Contact,
  CurrentLoad,
  Network,
  PowerLoad,
  PreparedNetwork,
  Solution,
  SolveProblem,
  Source,
} from './network.js';
import { solveLayout, unsolved } from './solve.js';
import { UnionFind } from './union-find.js';
import { SMALLEST_OHMS } from './validate.js';

/** What of a network does not depend on its figures. */
interface Frame {
  readonly columns: Columns;
  readonly numbering: Numbering;
  readonly groups: Groups;
  /** Per group. */
  readonly carried: readonly Carried[];
}

const frameOf = new WeakMap<PreparedNetwork, Frame>();

/**
 * Makes a network ready. `like` is one that was made ready before: when its points and elements are the same, in the same order, and only
 * figures differ, names are not numbered and topologies not searched anew.
 */
export function prepare(network: Network, like?: PreparedNetwork): PreparedNetwork {
  const given = network.elements;
  const before = like && frameOf.get(like);
  const alike = before && readLike(given, before.columns);
  const columns = alike ?? readColumns(given);
  const frame = alike === undefined ? newFrame(given, columns) : before!;
  const { numbering, groups, carried } = frame;
  const { places } = numbering;
  const problems = problemsOf(given, columns, numbering);
  const bad = new Map(problems.map((problem) => [problem.element, problem]));
  const layouts = groups.list.map((group, k) => layoutOf(group, given, columns, places, carried[k]!, bad));
  let nets: readonly string[] | undefined;

  const prepared: PreparedNetwork = {
    circuits: layouts.map(({ circuit }) => circuit),
    problems,
    circuitOf(name) {
      const point = numbering.pointOf(name);
      return point === undefined ? undefined : layouts[groups.groupOf[point]!]?.circuit;
    },
    netOf(name) {
      const point = numbering.pointOf(name);
      nets ??= permanentNets(given, numbering);
      return point === undefined ? undefined : nets[point];
    },
    solve(circuit: Circuit, state: CircuitState): Solution {
      const layout =
        layouts.find((one) => one.circuit === circuit) ?? layouts.find((one) => one.circuit.id === circuit.id);
      if (layout === undefined) {
        return unsolved(state, [], { kind: 'bad-figure', element: circuit.id, what: 'is no circuit of this network' });
      }
      return solveLayout(layout, state);
    },
  };
  frameOf.set(prepared, { ...frame, columns });
  return prepared;
}

/** Solves one circuit of a prepared network in one state. */
export function solve(prepared: PreparedNetwork, circuit: Circuit, state: CircuitState): Solution {
  return prepared.solve(circuit, state);
}

function newFrame(given: readonly CircuitElement[], columns: Columns): Frame {
  const numbering = numberAll(given, columns);
  const { names, ends } = numbering;
  const groups = groupsOf(names.length, ends);
  const carried = groups.list.map((group): Carried => {
    const { points } = group;
    if (points === undefined)
      return { points: names, pointOf: numbering.pointOf, eliminations: new Eliminations(), netsKept: [] };
    const pointOf = (name: string): number | undefined => {
      const point = numbering.pointOf(name);
      const place = point === undefined ? undefined : groups.placeOf[point];
      return place !== undefined && points[place] === point ? place : undefined;
    };
    return {
      points: Array.from(points, (point) => names[point]!),
      pointOf,
      eliminations: new Eliminations(),
      netsKept: [],
    };
  });
  return { columns, numbering, groups, carried };
}

function problemsOf(given: readonly CircuitElement[], { faults }: Columns, numbering: Numbering): readonly BadFigure[] {
  const { repeated, places } = numbering;
  if (repeated.length + faults.size === 0) return [];
  const problems = repeated.map(
    (id): BadFigure => ({ kind: 'bad-figure', element: id, what: 'has the same id as another element' }),
  );
  for (const place of places) {
    const what = faults.get(place);
    if (what !== undefined) problems.push({ kind: 'bad-figure', element: given[place]!.id, what });
  }
  return problems.sort((x, y) => byName(x.element, y.element));
}

/** Elements and points, by their numbers, that share current paths when all contacts are closed either way. */
interface Group {
  /** `undefined` when all there are. */
  readonly elements: Int32Array | undefined;
  readonly points: Int32Array | undefined;
  /** Ends of its elements, as places among its points. */
  readonly ends: Ends;
}

interface Groups {
  readonly list: readonly Group[];
  /** Per point: its group, and its place in that group. */
  readonly groupOf: Int32Array;
  readonly placeOf: Int32Array;
}

function groupsOf(points: number, ends: Ends): Groups {
  const { a, b, fedA, fedB } = ends;
  const sets = new UnionFind(points);
  for (let e = 0; e < a.length; e++) {
    sets.join(a[e]!, b[e]!);
    if (fedA[e]! < 0) continue;
    sets.join(a[e]!, fedA[e]!);
    sets.join(a[e]!, fedB[e]!);
  }
  const groupOf = new Int32Array(points);
  const placeOf = new Int32Array(points);
  const numberOf = new Int32Array(points).fill(-1);
  const sizes: number[] = [];
  for (let e = 0; e < a.length; e++) {
    const root = sets.find(a[e]!);
    if (numberOf[root] === -1) numberOf[root] = sizes.push(0) - 1;
    sizes[numberOf[root]!]!++;
  }
  if (sizes.length < 2) {
    for (let point = 0; point < points; point++) placeOf[point] = point;
    return { list: sizes.map(() => ({ elements: undefined, points: undefined, ends })), groupOf, placeOf };
  }
  const held = sizes.map((size) => ({ elements: new Int32Array(size), count: 0, points: [] as number[] }));
  for (let point = 0; point < points; point++) {
    const group = numberOf[sets.find(point)]!;
    groupOf[point] = group;
    placeOf[point] = held[group]!.points.push(point) - 1;
  }
  for (let e = 0; e < a.length; e++) {
    const group = held[groupOf[a[e]!]!]!;
    group.elements[group.count++] = e;
  }
  const placed = (column: Int32Array, own: Int32Array): Int32Array =>
    own.map((e) => (column[e]! < 0 ? -1 : placeOf[column[e]!]!));
  const list = held.map(
    ({ elements: own, points: inIt }): Group => ({
      elements: own,
      points: Int32Array.from(inIt),
      ends: { a: placed(a, own), b: placed(b, own), fedA: placed(fedA, own), fedB: placed(fedB, own) },
    }),
  );
  return { list, groupOf, placeOf };
}

function layoutOf(
  group: Group,
  given: readonly CircuitElement[],
  columns: Columns,
  places: Int32Array,
  carried: Carried,
  bad: ReadonlyMap<string, SolveProblem>,
): Layout {
  const own = group.elements?.map((e) => places[e]!) ?? places;
  const elements: CircuitElement[] = new Array(own.length);
  for (let e = 0; e < own.length; e++) elements[e] = given[own[e]!]!;
  const first = bad.size === 0 ? undefined : elements.find(({ id }) => bad.has(id));
  const circuit = describe(elements, own, columns, carried.points);
  return layOut(circuit, elements, columns, own, group.ends, carried, first && bad.get(first.id));
}

function describe(
  elements: readonly CircuitElement[],
  places: Int32Array,
  { kind }: Columns,
  points: readonly string[],
): Circuit {
  const contacts = new Set<string>();
  const sources: string[] = [];
  const systems = new Set<'AC' | 'DC'>();
  const frequencies = new Set<number>();
  let hasPeak = false;
  for (let e = 0; e < elements.length; e++) {
    const code = kind[places[e]!]!;
    if (code === CONTACT) contacts.add((elements[e] as Contact).contact);
    else if (code === POWER) {
      const asked = (elements[e] as PowerLoad).voltAmperes;
      hasPeak ||= asked?.idle !== asked?.peak;
    } else if (code === CURRENT) {
      const asked = (elements[e] as CurrentLoad).amps;
      hasPeak ||= asked?.idle !== asked?.peak;
    } else if (code === SOURCE) {
      const { id, system, frequency } = elements[e] as Source;
      sources.push(id);
      systems.add(system);
      if (system === 'AC' && frequency !== 0) frequencies.add(frequency);
    }
  }
  const [first] = systems;
  let ids: readonly string[] | undefined;
  let names: readonly string[] | undefined;
  return {
    id: elements[0]!.id,
    get elements() {
      ids ??= elements.map((element) => element.id);
      return ids;
    },
    get points() {
      names ??= [...points].sort(byName);
      return names;
    },
    contacts: [...contacts].sort(byName),
    sources,
    system: systems.size > 1 || frequencies.size > 1 ? 'mixed' : (first ?? 'none'),
    hasPeak,
  };
}

/** Per point: the first, by name, of those that it is always one with. */
function permanentNets(given: readonly CircuitElement[], { places, ends, names }: Numbering): readonly string[] {
  const sets = new UnionFind(names.length);
  for (let e = 0; e < places.length; e++) {
    const element = given[places[e]!]!;
    const joins =
      element.kind === 'short' ||
      (element.kind === 'impedance' && Math.abs(element.ohms) + Math.abs(element.reactance) < SMALLEST_OHMS);
    if (joins) sets.join(ends.a[e]!, ends.b[e]!);
  }
  const firsts = new Map<number, string>();
  for (let point = 0; point < names.length; point++) {
    const root = sets.find(point);
    const known = firsts.get(root);
    if (known === undefined || names[point]! < known) firsts.set(root, names[point]!);
  }
  return names.map((_, point) => firsts.get(sets.find(point))!);
}
