/** Makes a network ready: figures checked, shorts merged, circuits found, and each circuit laid out once for all its states. */

import { type Layout, layOut } from './layout.js';
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
  const pointIndex = new Map(points.map((point, index) => [point, index]));
  const bad = new Map(problems.map((problem) => [problem.element, problem]));
  const layouts = new Map<string, Layout>();
  const circuits: Circuit[] = [];
  const circuitOfPoint = new Map<string, Circuit>();

  for (const group of groupsOf(sorted, points, pointIndex)) {
    const circuit = describe(group.elements, group.points);
    circuits.push(circuit);
    const problem: SolveProblem | undefined = group.elements
      .map((element) => bad.get(element.id))
      .find((found) => found);
    layouts.set(circuit.id, layOut(circuit, group.elements, problem));
    for (const point of group.points) circuitOfPoint.set(point, circuit);
  }
  const nets = permanentNets(sorted, points, pointIndex);

  return {
    circuits,
    problems,
    circuitOf: (point) => circuitOfPoint.get(point),
    netOf: (point) => nets.get(point),
    solve(circuit: Circuit, state: CircuitState): Solution {
      const layout = layouts.get(circuit.id);
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

interface Group {
  readonly elements: CircuitElement[];
  readonly points: string[];
}

function groupsOf(
  elements: readonly CircuitElement[],
  points: readonly string[],
  pointIndex: ReadonlyMap<string, number>,
): readonly Group[] {
  const sets = new UnionFind(points.length);
  for (const element of elements) {
    const a = pointIndex.get(element.a)!;
    sets.join(a, pointIndex.get(element.b)!);
    if (element.kind !== 'source' || element.fedBy === undefined) continue;
    sets.join(a, pointIndex.get(element.fedBy.a)!);
    sets.join(a, pointIndex.get(element.fedBy.b)!);
  }
  const groups = new Map<number, Group>();
  for (const element of elements) {
    const root = sets.find(pointIndex.get(element.a)!);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, { elements: [element], points: [] });
    else group.elements.push(element);
  }
  points.forEach((point, index) => {
    groups.get(sets.find(index))?.points.push(point);
  });
  return [...groups.values()];
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

function permanentNets(
  elements: readonly CircuitElement[],
  points: readonly string[],
  pointIndex: ReadonlyMap<string, number>,
): ReadonlyMap<string, string> {
  const sets = new UnionFind(points.length);
  for (const element of elements) {
    const joins =
      element.kind === 'short' ||
      (element.kind === 'impedance' && Math.abs(element.ohms) + Math.abs(element.reactance) < SMALLEST_OHMS);
    if (joins) sets.join(pointIndex.get(element.a)!, pointIndex.get(element.b)!);
  }
  return new Map(points.map((point, index) => [point, points[sets.find(index)]!]));
}
