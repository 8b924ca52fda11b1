/** Loads that lie in a loop with a supply and get nothing in any state, since what else is in that loop leaves them no volts. */

import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { fedEdges, feedingOf } from './feeding.js';
import { judgeLoad } from './judge-load.js';
import { studyOf, voltsAcross } from './study.js';
import { isBare } from './topology.js';

interface Starved {
  readonly part: string;
  /** Parts besides it without which it has no loop: its current has to pass through them. */
  readonly through: readonly string[];
}

/** A share of a load's rated volts that is next to nothing: common practice, no source. */
const NOTHING = 0.01;

export function starvedIn(analysis: Analysis, circuit: CircuitAnalysis): readonly Starved[] {
  const study = studyOf(analysis);
  if (study.hasLooseEnd(study.componentOf(circuit))) return [];
  const told = new Set(feedingOf(analysis).unfed.flatMap(({ parts }) => parts));
  const loads = study.elementsOf(circuit, 'load');
  return loads.flatMap((load): readonly Starved[] => {
    if (told.has(load.part) || !isWithoutVolts(analysis, circuit, load)) return [];
    const { collapse, tooLittle } = judgeLoad(analysis, circuit, load);
    if (collapse !== undefined || tooLittle !== undefined) return [];
    const through = throughWhat(analysis, circuit, load);
    if (through === undefined || through.some((one) => isToldToCollapse(analysis, circuit, loads, one))) return [];
    told.add(load.part);
    return [{ part: load.part, through }];
  });
}

function isWithoutVolts(analysis: Analysis, circuit: CircuitAnalysis, load: ResolvedElement): boolean {
  const states = studyOf(analysis).solved(circuit, 'nominal');
  return (
    states.length > 0 &&
    states.every((solved) => {
      const { problem, shorted, droppedOut, cycling } = solved.solution;
      if (problem !== undefined || shorted.length > 0) return false;
      if (droppedOut.includes(load.id) || cycling.includes(load.id)) return false;
      const isOn = solved.solution.element(load.id)?.on === true;
      return !isOn && (voltsAcross(solved, load) ?? 0) < NOTHING * (load.ratedVolts ?? 1);
    })
  );
}

/** Undefined where it has no loop, every contact conducting, or metal alone joins its ends: that is another matter. */
function throughWhat(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
): readonly string[] | undefined {
  const study = studyOf(analysis);
  const edges = study.edgesOf(circuit);
  if (study.isBypassed(load, []) || !fedEdges(edges).has(load.id)) return undefined;
  const resting = edges.filter((edge) => edge.element?.element.kind !== 'contact' || isBare(edge, new Set()));
  const loop = fedEdges(resting).has(load.id) ? resting : edges;
  const names = loop.flatMap(({ id, kind, element }) => {
    if (kind !== 'element' || element!.part === load.part || isBareElement(element!)) return [];
    return fedEdges(loop.filter((other) => other.id !== id)).has(load.id) ? [] : [element!.part];
  });
  return [...new Set(names)].sort();
}

function isBareElement({ element }: ResolvedElement): boolean {
  return element.kind === 'link' || element.kind === 'contact' || element.kind === 'winding';
}

function isToldToCollapse(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  loads: readonly ResolvedElement[],
  part: string,
): boolean {
  return loads.some((one) => one.part === part && judgeLoad(analysis, circuit, one).collapse !== undefined);
}
