import type { Analysis } from '../analysis-types.js';
import { fedEdges } from '../judging/feeding.js';
import { studyOf } from '../judging/study.js';
import type { Edge } from '../judging/topology.js';
import { labelVolts } from '../judging/units.js';
import { listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const sharedReturn = defineCheck({
  code: 'shared-return',
  severity: 'warning',
  title: 'Isolating one supply leaves the other live on a shared conductor',
  reach: 'cluster',
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const edges of circuitsOfSeveralSupplies(analysis)) {
      const supplies = [...new Set(windingsIn(edges).map(({ element }) => element!.part))].sort();
      const live = new Map(supplies.map((supply) => [supply, wiresFedBy(edges, supply)]));
      const told = new Set<string>();
      for (const [index, one] of supplies.entries()) {
        for (const other of supplies.slice(index + 1)) {
          const shared = live.get(one)!.filter((edge) => live.get(other)!.includes(edge) && !told.has(edge.id));
          const [first] = shared;
          if (first === undefined || fedTogether(analysis, one, other)) continue;
          for (const { id } of shared) told.add(id);
          const wires = shared.map(({ run, conductor }) => wireWords(analysis, run!, conductor!));
          const most = wires.length > 3 ? [...wires.slice(0, 2), `${wires.length - 2} more`] : wires;
          const carry = wires.length === 1 ? 'carries' : 'carry';
          report({
            path: at.conductor(first.run!, first.conductor!),
            message: `${listOf(most)} ${carry} the current of both ${quote(one)} and ${quote(other)}: isolate ${quote(one)}, and ${wires.length === 1 ? 'it is' : 'they are'} still live from ${quote(other)}${voltsOf(study.topology.edges, other)}. Give each circuit its own return, or isolate both.`,
            related: [one, other].map((name) => ({ path: at.part(name), message: `${quote(name)} feeds it` })),
            parts: [one, other, ...new Set(shared.map(({ run }) => run!))],
          });
        }
      }
    }
  },
});

function windingsIn(edges: readonly Edge[]): readonly Edge[] {
  return edges.filter(({ element }) => element?.element.kind === 'winding');
}

/** What hangs together and is fed by more than one supply, nothing of it held back. */
function circuitsOfSeveralSupplies(analysis: Analysis): readonly (readonly Edge[])[] {
  const { topology, circuits } = studyOf(analysis);
  const components = new Set(circuits.map(({ circuit }) => topology.componentOf(circuit.points[0]!)));
  return [...components].sort().flatMap((component) => {
    const edges = topology.edgesIn(component);
    return new Set(windingsIn(edges).map(({ element }) => element!.part)).size > 1 ? [edges] : [];
  });
}

/** Conductors in a loop with this supply while every other one is out, in order of run and conductor. */
function wiresFedBy(edges: readonly Edge[], supply: string): readonly Edge[] {
  const alone = edges.filter(({ element }) => element?.element.kind !== 'winding' || element.part === supply);
  const fed = fedEdges(alone);
  return edges
    .filter(({ kind, id }) => kind === 'wire' && fed.has(id))
    .sort((one, other) => (`${one.run}` < `${other.run}` ? -1 : `${one.run}` > `${other.run}` ? 1 : 0));
}

/** Two supplies on one branch circuit are isolated together. */
function fedTogether(analysis: Analysis, one: string, other: string): boolean {
  const [its, others] = [one, other].map((name) => lineSideOf(analysis, name));
  return its!.some((point) => others!.includes(point));
}

/** What is joined to the supply's line side by conductors, jumpers and leads. */
function lineSideOf(analysis: Analysis, name: string): readonly string[] {
  const { topology } = studyOf(analysis);
  const part = analysis.parts.get(name);
  return (part?.terminals ?? [])
    .filter(({ lineSide }) => lineSide === 'hot')
    .map((terminal) => topology.componentOf(`${name}.${terminal.name}`));
}

function wireWords(analysis: Analysis, run: string, conductor: number): string {
  const colour = analysis.runs.get(run)?.conductors.find(({ index }) => index === conductor)?.colour;
  return `${colour ?? 'a conductor'} of ${quote(run)}`;
}

function voltsOf(edges: readonly Edge[], supply: string): string {
  const rated = edges.find(({ element }) => element?.element.kind === 'winding' && element.part === supply)?.element;
  return rated?.ratedVolts === undefined ? '' : ` (${labelVolts(rated.ratedVolts)})`;
}
