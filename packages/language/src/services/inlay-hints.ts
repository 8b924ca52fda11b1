/** Computed volts at the ends of runs: what a meter shows there from a run's first conductor to each of the others. */

import { formatVolts } from '@ohmstead/circuit';
import {
  type Analysis,
  at,
  loadWords,
  pointOf,
  type ResolvedConductor,
  type Solved,
  stateWords,
} from '@ohmstead/record';
import type { CheckedRecord } from '../pipeline.js';
import type { TextRange } from '../reading/document.js';
import { stretchOfSlice } from './statement-at.js';

export interface VoltsHint {
  readonly position: TextRange['start'];
  /** "15.9 V". */
  readonly label: string;
  /** Which two points, and the volts in every state, in Markdown. */
  readonly tooltip: string;
}

/** More states than these are left out of a tooltip: it is read at a glance. */
const MOST_STATES = 8;

/** Of the runs that touch a stretch of the record's own file. */
export function voltsHints(
  { reading, analysis }: CheckedRecord,
  within: { readonly offset: number; readonly end: number },
): VoltsHint[] {
  return reading.document.slices.flatMap((slice) => {
    const stretch = stretchOfSlice(slice);
    const { statement } = slice;
    if (!stretch || stretch.end < within.offset || stretch.offset > within.end) return [];
    if (statement?.$type !== 'Run' || !statement.name) return [];
    return runHints(analysis, statement.name, (path) => {
      const place = reading.sourceMap.exact(path) && reading.sourceMap.locate(path);
      return place && place.uri === reading.document.uri ? place.range.end : undefined;
    });
  });
}

function runHints(
  analysis: Analysis,
  run: string,
  endOf: (path: string) => TextRange['start'] | undefined,
): VoltsHint[] {
  const landed = (analysis.runs.get(run)?.conductors ?? []).filter(({ from, to }) => from && to);
  const [first, ...others] = landed;
  if (!first) return [];
  return others.flatMap((conductor) =>
    (['from', 'to'] as const).flatMap((end) => {
      const position = endOf(at.conductorEnd(run, conductor.index, end));
      const hint = position && hintAt(analysis, first, conductor, end);
      return hint ? [{ position, ...hint }] : [];
    }),
  );
}

function hintAt(
  analysis: Analysis,
  first: ResolvedConductor,
  conductor: ResolvedConductor,
  end: 'from' | 'to',
): Omit<VoltsHint, 'position'> | undefined {
  const [one, other] = [first[end], conductor[end]];
  const circuit = conductor.id === undefined ? undefined : analysis.circuitOfElement(conductor.id);
  if (!one || !other || !circuit || circuit.held || circuit.unsolved.length > 0) return undefined;
  const [a, b] = [pointOf(one), pointOf(other)];
  const solved = circuit.solved('nominal').flatMap((each) => {
    const volts = each.solution.problem === undefined ? each.solution.between(a, b) : null;
    return volts ? [{ each, volts: Math.hypot(volts.re, volts.im), amps: ampsIn(each, conductor.id!) }] : [];
  });
  const shown = solved.reduce<(typeof solved)[number] | undefined>(
    (most, next) => (most === undefined || next.amps > most.amps ? next : most),
    undefined,
  );
  if (!shown) return undefined;
  const when = ({ state }: Solved): string => stateWords(analysis, state.closed) + loadWords(state);
  const rows = solved.slice(0, MOST_STATES).map(({ each, volts }) => `- ${formatVolts(volts)} ${when(each)}`);
  const title = `From \`${a}\` (${first.colour}) to \`${b}\` (${conductor.colour}); shown is ${when(shown.each)}:`;
  return { label: formatVolts(shown.volts), tooltip: [title, '', ...rows].join('\n') };
}

function ampsIn({ solution }: Solved, id: string): number {
  const amps = solution.element(id)?.amps;
  return amps ? Math.hypot(amps.re, amps.im) : 0;
}
