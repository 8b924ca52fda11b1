/** What a meter should show between two points, in every state of what they are part of. */

import type { LoadCondition } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import { magnitude, problemWords, stateKey, withheldBecause } from '../budget/figures.js';
import { type OhmsRow, ohmsInEveryState } from './ohms.js';
import { type UnknownPoint, unknownPoint } from './points.js';

/** Volts RMS; `floating` where one point hangs free of the other, `reason` where the state has no figures. */
export interface VoltsRow {
  readonly closed: readonly string[];
  readonly loads: LoadCondition;
  readonly volts: number | null;
  readonly floating?: true;
  readonly reason?: string;
}

export interface Probe<Row> {
  readonly version: 1;
  readonly between: readonly [string, string];
  readonly solved: readonly Row[];
}

export type ProbeProblem = UnknownPoint;

export interface ProbeOptions {
  /** Ohms with the supplies' leads lifted, in place of volts. */
  readonly ohms?: boolean;
}

export function probe(
  analysis: Analysis,
  pointA: string,
  pointB: string,
  options: ProbeOptions & { readonly ohms: true },
): Probe<OhmsRow> | ProbeProblem;
export function probe(
  analysis: Analysis,
  pointA: string,
  pointB: string,
  options?: { readonly ohms?: false },
): Probe<VoltsRow> | ProbeProblem;
export function probe(
  analysis: Analysis,
  pointA: string,
  pointB: string,
  options: ProbeOptions = {},
): Probe<VoltsRow> | Probe<OhmsRow> | ProbeProblem {
  const problem = unknownPoint(analysis, pointA) ?? unknownPoint(analysis, pointB);
  if (problem !== undefined) return problem;
  const circuits = circuitsAt(analysis, pointA, pointB);
  const between = [pointA, pointB] as const;
  return options.ohms === true
    ? { version: 1, between, solved: ohmsInEveryState(analysis, circuits, pointA, pointB) }
    : { version: 1, between, solved: voltsInEveryState(analysis, circuits, pointA, pointB) };
}

/** The circuits that hold either point; none for two points with nothing on them. */
function circuitsAt(analysis: Analysis, ...points: readonly string[]): readonly CircuitAnalysis[] {
  return analysis.circuits.filter(({ circuit }) => points.some((point) => circuit.points.includes(point)));
}

function voltsInEveryState(
  analysis: Analysis,
  circuits: readonly CircuitAnalysis[],
  a: string,
  b: string,
): readonly VoltsRow[] {
  const rows = circuits.flatMap((circuit) => voltsInCircuit(analysis, circuit, a, b));
  if (a === b || rows.length === 0) {
    const same = a === b ? { volts: 0 } : { volts: null, floating: true as const };
    return rows.length === 0 ? [{ closed: [], loads: 'idle', ...same }] : rows;
  }
  return [...new Map(rows.map((row) => [`${row.loads}\n${row.closed.join('\n')}`, row])).values()];
}

function voltsInCircuit(analysis: Analysis, circuit: CircuitAnalysis, a: string, b: string): readonly VoltsRow[] {
  const reason = withheldBecause(circuit);
  if (reason !== undefined) {
    return circuit.states.map((state) => ({ ...stateKey(analysis, state), volts: null, reason }));
  }
  return circuit.solved('nominal').map((solved): VoltsRow => {
    const key = stateKey(analysis, solved.state);
    const { problem } = solved.solution;
    if (problem !== undefined) return { ...key, volts: null, reason: problemWords(problem) };
    const volts = solved.solution.between(a, b);
    return volts === null ? { ...key, volts: null, floating: true } : { ...key, volts: magnitude(volts) };
  });
}
