/** Makes a network ready: figures checked, shorts merged, circuits found, and each circuit laid out once for all its states. */

import { type Ends, type Layout, layOut } from './layout.js';
import type {
  Circuit,
  CircuitElement,
  CircuitState,
  Network,
  PreparedNetwork,
  Solution,
  SolveProblem,
} from './network.js';
import { solveLayout, unsolved } from './solve.js';
import { UnionFind } from './union-find.js';
import { byName, SMALLEST_OHMS, sortAndCheck } from './validate.js';

export function prepare(network: Network): PreparedNetwork {
  const { sorted, problems } = sortAndCheck(network.elements);
  const points = pointsOf(sorted);
  const pointIndex = new Map<string, number>();
  for (let point = 0; point < points.length; point++) pointIndex.set(points[point]!, point);
  const ends = endsOf(sorted, pointIndex);
  const bad = new Map(problems.map((problem) => [problem.element, problem]));
  const groups = groupsOf(sorted, points, ends);
  const layouts = groups.list.map((group) => layoutOf(group, sorted, ends, groups.placeOf, bad, pointIndex));
  let nets: readonly string[] | undefined;

  return {
    circuits: layouts.map(({ circuit }) => circuit),
    problems,
    circuitOf(name) {
      const point = pointIndex.get(name);
      return point === undefined ? undefined : layouts[groups.groupOf[point]!]?.circuit;
    },
    netOf(name) {
      const point = pointIndex.get(name);
      nets ??= permanentNets(sorted, points, ends);
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
}

/** Solves one circuit of a prepared network in one state. */
export function solve(prepared: PreparedNetwork, circuit: Circuit, state: CircuitState): Solution {
  return prepared.solve(circuit, state);
}

function pointsOf(elements: readonly CircuitElement[]): readonly string[] {
  const points = new Set<string>();
  for (const element of elements) {
    points.add(element.a).add(element.b);
    if (element.kind === 'source' && element.fedBy !== undefined) points.add(element.fedBy.a).add(element.fedBy.b);
  }
  return [...points].sort(byName);
}

function endsOf(elements: readonly CircuitElement[], pointIndex: ReadonlyMap<string, number>): Ends {
  const a = new Int32Array(elements.length);
  const b = new Int32Array(elements.length);
  const fedA = new Int32Array(elements.length).fill(-1);
  const fedB = new Int32Array(elements.length).fill(-1);
  for (let e = 0; e < elements.length; e++) {
    const element = elements[e]!;
    a[e] = pointIndex.get(element.a)!;
    b[e] = pointIndex.get(element.b)!;
    if (element.kind !== 'source' || element.fedBy === undefined) continue;
    fedA[e] = pointIndex.get(element.fedBy.a)!;
    fedB[e] = pointIndex.get(element.fedBy.b)!;
  }
  return { a, b, fedA, fedB };
}

/** Elements and points, by their numbers, that share current paths when all contacts are closed either way. */
interface Group {
  readonly elements: number[];
  readonly points: string[];
}

interface Groups {
  readonly list: readonly Group[];
  /** Per point: its group, and its place in that group's list. */
  readonly groupOf: Int32Array;
  readonly placeOf: Int32Array;
}

function groupsOf(elements: readonly CircuitElement[], points: readonly string[], ends: Ends): Groups {
  const sets = new UnionFind(points.length);
  for (let e = 0; e < elements.length; e++) {
    sets.join(ends.a[e]!, ends.b[e]!);
    if (ends.fedA[e]! < 0) continue;
    sets.join(ends.a[e]!, ends.fedA[e]!);
    sets.join(ends.a[e]!, ends.fedB[e]!);
  }
  const list: Group[] = [];
  const numberOf = new Int32Array(points.length).fill(-1);
  for (let e = 0; e < elements.length; e++) {
    const root = sets.find(ends.a[e]!);
    if (numberOf[root] === -1) {
      numberOf[root] = list.length;
      list.push({ elements: [], points: [] });
    }
    list[numberOf[root]!]!.elements.push(e);
  }
  const groupOf = new Int32Array(points.length);
  const placeOf = new Int32Array(points.length);
  for (let point = 0; point < points.length; point++) {
    const group = numberOf[sets.find(point)]!;
    groupOf[point] = group;
    placeOf[point] = list[group]!.points.push(points[point]!) - 1;
  }
  return { list, groupOf, placeOf };
}

function layoutOf(
  group: Group,
  all: readonly CircuitElement[],
  ends: Ends,
  placeOf: Int32Array,
  bad: ReadonlyMap<string, SolveProblem>,
  pointIndex: ReadonlyMap<string, number>,
): Layout {
  const elements = group.elements.map((e) => all[e]!);
  const placed = (column: Int32Array): Int32Array => {
    const own = new Int32Array(elements.length);
    for (let k = 0; k < own.length; k++) {
      const point = column[group.elements[k]!]!;
      own[k] = point < 0 ? -1 : placeOf[point]!;
    }
    return own;
  };
  const own = { a: placed(ends.a), b: placed(ends.b), fedA: placed(ends.fedA), fedB: placed(ends.fedB) };
  const first = bad.size === 0 ? undefined : elements.find(({ id }) => bad.has(id));
  const circuit = describe(elements, group.points);
  const pointOf = (name: string): number | undefined => {
    const point = pointIndex.get(name);
    const place = point === undefined ? undefined : placeOf[point];
    return place !== undefined && group.points[place] === name ? place : undefined;
  };
  return layOut(circuit, elements, own, pointOf, first && bad.get(first.id));
}

function describe(elements: readonly CircuitElement[], points: readonly string[]): Circuit {
  const contacts = new Set<string>();
  const sources: string[] = [];
  const systems = new Set<'AC' | 'DC'>();
  const frequencies = new Set<number>();
  let hasPeak = false;
  for (const element of elements) {
    if (element.kind === 'contact') contacts.add(element.contact);
    else if (element.kind === 'power') hasPeak ||= element.voltAmperes?.idle !== element.voltAmperes?.peak;
    else if (element.kind === 'current') hasPeak ||= element.amps?.idle !== element.amps?.peak;
    else if (element.kind === 'source') {
      sources.push(element.id);
      systems.add(element.system);
      if (element.system === 'AC' && element.frequency !== 0) frequencies.add(element.frequency);
    }
  }
  const [first] = systems;
  return {
    id: elements[0]!.id,
    elements: elements.map((element) => element.id),
    points,
    contacts: [...contacts].sort(byName),
    sources,
    system: systems.size > 1 || frequencies.size > 1 ? 'mixed' : (first ?? 'none'),
    hasPeak,
  };
}

/** Per point: the first point that it is always one with. */
function permanentNets(elements: readonly CircuitElement[], points: readonly string[], ends: Ends): readonly string[] {
  const sets = new UnionFind(points.length);
  for (let e = 0; e < elements.length; e++) {
    const element = elements[e]!;
    const joins =
      element.kind === 'short' ||
      (element.kind === 'impedance' && Math.abs(element.ohms) + Math.abs(element.reactance) < SMALLEST_OHMS);
    if (joins) sets.join(ends.a[e]!, ends.b[e]!);
  }
  return points.map((_, point) => points[sets.find(point)]!);
}
