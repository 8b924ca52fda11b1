/** Both conductors of a cable on one terminal, and buttons that can do nothing: both on one terminal, or both from one and the same point. */

import { type Analysis, type CircuitAnalysis, type Landed, pointOf, partNameOf } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { at, type RecordPath } from '../place-in-record.js';
import { studyOf } from './study.js';
import type { Edge } from './topology.js';
import { quote } from './words.js';

export interface MisusedContact {
  readonly part: string;
  readonly crowded: string;
  readonly free: string;
  /** The end to move. */
  readonly path: RecordPath;
  readonly run: string;
  readonly fixes: readonly Fix[];
}

export function misusedContact(analysis: Analysis, circuit: CircuitAnalysis): MisusedContact | undefined {
  const contacts = studyOf(analysis).elementsOf(circuit, 'contact');
  for (const { part, element } of contacts) {
    for (const [crowded, free] of [
      [element.a, element.b],
      [element.b, element.a],
    ] as const) {
      if (analysis.landedOn(pointOf({ part, terminal: free })).length > 0) continue;
      const landed = analysis.landedOn(pointOf({ part, terminal: crowded }));
      if (landed.length < 2) continue;
      const ends = likeliestLast(analysis, landed);
      const wanted = ends.at(-1);
      if (wanted === undefined) continue;
      const fixes = ends.toReversed().map(
        ({ run, index, end, colour }): Fix => ({
          title: `Land ${colour} of ${quote(run)} on ${quote(`${part}.${free}`)}`,
          changes: [{ kind: 'land', run, conductor: index, end, on: { part, terminal: free } }],
        }),
      );
      const path = at.conductorEnd(wanted.run, wanted.index, wanted.end);
      return { part, crowded, free, run: wanted.run, path, fixes };
    }
  }
  return undefined;
}

type LandedConductor = Extract<Landed, { readonly kind: 'conductor' }>;

/** Conductors on a terminal, those last of which another of the same run is there too, and of them the one that its cable names last. */
function likeliestLast(analysis: Analysis, landed: readonly Landed[]): readonly LandedConductor[] {
  const ends = landed.filter((one) => one.kind === 'conductor');
  const rankOf = ({ run, colour }: LandedConductor) => {
    const together = ends.filter((other) => other.run === run).length;
    return [Math.min(together, 2), analysis.runs.get(run)?.cable?.colours.indexOf(colour) ?? -1] as const;
  };
  return ends.sort((one, other) => {
    const [mine, its] = [rankOf(one), rankOf(other)];
    return mine[0] - its[0] || mine[1] - its[1] || (one.run < other.run ? -1 : 1);
  });
}

export interface CrowdedEnd {
  readonly run: string;
  /** The point that both conductors are on. */
  readonly point: string;
  /** The terminal that one of them is missing from, where only one of that part has nothing from a cable or jumper on it. */
  readonly free: string | undefined;
  /** The end to move. */
  readonly path: RecordPath;
  readonly fixes: readonly Fix[];
}

/** The first point of a way along which it comes in by one conductor of a run and goes on by another. */
export function crowdedEnd(analysis: Analysis, way: readonly Edge[]): CrowdedEnd | undefined {
  for (const [index, edge] of way.entries()) {
    const before = way[index - 1];
    if (before === undefined || edge.run === undefined || edge.run !== before.run) continue;
    const point = edge.a === before.a || edge.a === before.b ? edge.a : edge.b;
    const { run } = edge;
    const ends = likeliestLast(analysis, analysis.landedOn(point)).filter((one) => one.run === run);
    const wanted = ends.at(-1);
    if (wanted === undefined) continue;
    const part = partNameOf(point);
    const empty = (analysis.parts.get(part)?.terminals ?? []).filter(
      ({ name, optional }) =>
        optional !== true && analysis.landedOn(pointOf({ part, terminal: name })).every(({ kind }) => kind === 'lead'),
    );
    const terminal = empty.length === 1 ? empty[0]!.name : undefined;
    const free = terminal && pointOf({ part, terminal });
    const fixes = ends.toReversed().flatMap((one): Fix[] => {
      if (terminal === undefined) return [];
      const on = { part, terminal };
      const title = `Land ${one.colour} of ${quote(run)} on ${quote(pointOf(on))}`;
      return [{ title, changes: [{ kind: 'land', run, conductor: one.index, end: one.end, on }] }];
    });
    return { run, point, free, path: at.conductorEnd(run, wanted.index, wanted.end), fixes };
  }
  return undefined;
}

export interface SameSide {
  readonly part: string;
  /** The point that both of its conductors come from. */
  readonly point: string;
  readonly run: string;
  /** The far end of the second one, on that point. */
  readonly path: RecordPath;
}

/** A button, among these edges, both of whose conductors come from one point: pressing it joins that point to itself. */
export function sameSideContact(analysis: Analysis, edges: readonly Edge[]): SameSide | undefined {
  for (const { element: resolved } of edges) {
    if (resolved?.element.kind !== 'contact') continue;
    const { part, a, b } = resolved;
    const far = [a, b].map((near) => wiresFrom(edges, near));
    for (const one of far[0]!) {
      const other = far[1]!.find(({ point }) => point === one.point);
      if (other === undefined) continue;
      const { run, conductor } = [one, other].sort((x, y) => x.conductor - y.conductor).at(-1)!.edge;
      const landed = analysis.landedOn(one.point);
      const end = landed.find((l) => l.kind === 'conductor' && l.run === run && l.index === conductor);
      if (end?.kind !== 'conductor') continue;
      return { part, point: one.point, run: end.run, path: at.conductorEnd(end.run, end.index, end.end) };
    }
  }
  return undefined;
}

function wiresFrom(edges: readonly Edge[], near: string) {
  return edges.flatMap((edge) => {
    if (edge.kind !== 'wire' || (edge.a !== near && edge.b !== near)) return [];
    return [{ edge, point: edge.a === near ? edge.b : edge.a, conductor: edge.conductor ?? 0 }];
  });
}
