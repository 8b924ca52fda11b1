/** Supplies whose ends are joined by wire, joints and closed contacts alone. */

import { type Analysis, type CircuitAnalysis, type ResolvedElement, partNameOf } from '../analysis-types.js';
import { type CrowdedEnd, crowdedEnd } from './misused-contact.js';
import { studyOf } from './study.js';
import { type Edge, isBare, isDiode } from './topology.js';

export interface Short {
  readonly winding: string;
  readonly supply: string;
  readonly atRest: boolean;
  /** The least states in which it is shorted. */
  readonly states: readonly (readonly string[])[];
  /** Jumpers on the shortest path from one end to the other; where some of them bridge a part, those alone. */
  readonly jumpers: readonly string[];
  /** Whether those jumpers bridge a part; others only stand for wire. */
  readonly bridges: boolean;
  /** Parts whose diodes are on it: it conducts one way alone. */
  readonly diodes: readonly string[];
  /** Where both conductors of one run come together on it. */
  readonly crowded: CrowdedEnd | undefined;
  /** Parts whose closed contacts are on it. */
  readonly contacts: readonly string[];
  readonly runs: readonly string[];
  /** Parts that the path touches, the supply aside. */
  readonly parts: readonly string[];
}

/** One for each winding and set of parts that short it. */
export function shortsIn(analysis: Analysis, circuit: CircuitAnalysis): readonly Short[] {
  const study = studyOf(analysis);
  const found: Short[] = [];
  for (const { winding, from, to } of spansOf(study.elementsOf(circuit, 'winding'))) {
    const states = leastShortedStates(analysis, circuit, from, to);
    const byCause = new Map<string, { states: (readonly string[])[]; path: readonly Edge[] }>();
    for (const closed of states) {
      if (
        found.some((one) => one.supply === winding.part && one.states.some((least) => least.join() === closed.join()))
      )
        continue;
      const path = barePath(study.edgesOf(circuit), closed, from, to);
      const diodes = diodesOn(path);
      const jumpers = bridging(analysis, jumpersOn(path));
      const cause = [diodes, jumpers, jumpersOn(path)].find(({ length }) => length > 0);
      const key = (cause ?? path.map(({ id }) => id)).join(' ');
      const group = byCause.get(key);
      if (group) group.states.push(closed);
      else byCause.set(key, { states: [closed], path });
    }
    for (const { states: together, path } of byCause.values()) {
      const contacts = unique(
        path.flatMap(({ element }) => (element?.element.kind === 'contact' ? [element.part] : [])),
      );
      const bridges = bridging(analysis, jumpersOn(path));
      found.push({
        winding: winding.id,
        supply: winding.part,
        atRest: together[0]!.length === 0,
        states: together,
        jumpers: bridges.length > 0 ? bridges : jumpersOn(path),
        bridges: bridges.length > 0,
        diodes: diodesOn(path),
        crowded: crowdedEnd(analysis, path),
        contacts,
        runs: unique(path.flatMap(({ run }) => run ?? [])),
        parts: unique(path.flatMap(({ a, b }) => [partNameOf(a), partNameOf(b)])).filter(
          (name) => name !== winding.part,
        ),
      });
    }
  }
  return found;
}

interface Span {
  readonly winding: ResolvedElement;
  readonly from: string;
  readonly to: string;
}

/** Each winding from end to end, and then several of a supply that follow on one another: taps, or windings in series. */
function spansOf(windings: readonly ResolvedElement[]): readonly Span[] {
  const spans: Span[] = windings.map((winding) => ({ winding, from: winding.a, to: winding.b }));
  for (let first = 0; first < spans.length; first++) {
    const { winding, from, to } = spans[first]!;
    for (const next of windings) {
      if (next.part === winding.part && next.a === to && next.b !== from) spans.push({ winding, from, to: next.b });
    }
  }
  return spans;
}

/** A jumper from one terminal of a part to another of the same part bridges it; others may only stand for a wire. */
function bridging(analysis: Analysis, jumpers: readonly string[]): readonly string[] {
  return jumpers.filter((name) => {
    const jumper = analysis.jumpers.get(name);
    return jumper !== undefined && jumper.from.part === jumper.to.part;
  });
}

function jumpersOn(path: readonly Edge[]): readonly string[] {
  return unique(path.flatMap(({ jumper }) => jumper ?? []));
}

function diodesOn(path: readonly Edge[]): readonly string[] {
  return unique(path.filter(isDiode).map(({ element }) => element!.part));
}

/** States that short it and hold no smaller one that does. */
function leastShortedStates(analysis: Analysis, circuit: CircuitAnalysis, a: string, b: string) {
  const study = studyOf(analysis);
  const component = study.componentOf(circuit);
  const least: (readonly string[])[] = [];
  for (const { closed } of circuit.states) {
    if (least.some((smaller) => smaller.every((contact) => closed.includes(contact)))) continue;
    const { bare, throughDiodes } = study.joined(component, closed);
    if (bare.same(a, b) || (throughDiodes.same(a, b) && isShortedAsSolved(analysis, circuit, closed)))
      least.push(closed);
  }
  return least;
}

/** Which way a diode lets current through only the solved circuit knows. */
function isShortedAsSolved(analysis: Analysis, circuit: CircuitAnalysis, closed: readonly string[]): boolean {
  return studyOf(analysis)
    .solved(circuit, 'nominal')
    .some(({ state, solution }) => state.closed.join() === closed.join() && solution.shorted.length > 0);
}

/** The shortest way of metal alone, or else the shortest with diodes on it. */
function barePath(edges: readonly Edge[], closed: readonly string[], from: string, to: string): readonly Edge[] {
  const held = new Set(closed);
  const metal = edges.filter((edge) => isBare(edge, held));
  const bare = shortestPath(metal, from, to);
  return bare.length > 0 ? bare : shortestPath([...metal, ...edges.filter(isDiode)], from, to);
}

function shortestPath(edges: readonly Edge[], from: string, to: string): readonly Edge[] {
  const reached = new Map<string, { readonly edge: Edge; readonly before: string } | undefined>([[from, undefined]]);
  const queue = [from];
  for (let point = queue.shift(); point !== undefined && point !== to; point = queue.shift()) {
    for (const edge of edges) {
      const next = edge.a === point ? edge.b : edge.b === point ? edge.a : undefined;
      if (next === undefined || reached.has(next)) continue;
      reached.set(next, { edge, before: point });
      queue.push(next);
    }
  }
  const path: Edge[] = [];
  for (let step = reached.get(to); step !== undefined; step = reached.get(step.before)) path.unshift(step.edge);
  return path;
}

function unique<T>(items: readonly T[]): readonly T[] {
  return [...new Set(items)];
}
