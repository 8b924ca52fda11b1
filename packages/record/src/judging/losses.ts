/** Where volts go on their way: run by run, in words. */

import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import { ampsThrough } from './study.js';
import { lengthWords, ohms, sizeWords, volts } from './units.js';
import { listOf, quote } from './words.js';

export interface RunLoss {
  readonly run: string;
  /** Volts lost in all its conductors that carry the current; 0 where there are no figures. */
  readonly volts: number;
  readonly ohms: number;
}

/** Runs that carry at least half the element's current, the greatest loss first; without figures, by ohms. */
export function lossesTo(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  solved: Solved | undefined,
  element: ResolvedElement | undefined,
): readonly RunLoss[] {
  const through = solved === undefined || element === undefined ? undefined : ampsThrough(solved, element.id);
  const losses: RunLoss[] = [];
  for (const name of circuit.runs) {
    let lost = 0;
    let total = 0;
    for (const { id, ohms: each } of analysis.runs.get(name)?.conductors ?? []) {
      if (id === undefined || each === undefined) continue;
      const carried = solved === undefined ? undefined : ampsThrough(solved, id);
      if (through !== undefined && (carried ?? 0) < through / 2) continue;
      const value = solved?.condition === 'low' || solved?.condition === 'high' ? each[solved.condition] : each.nominal;
      total += value;
      lost += (carried ?? 0) * value;
    }
    if (total > 0) losses.push({ run: name, volts: lost, ohms: total });
  }
  return losses.sort((one, other) => other.volts - one.volts || other.ohms - one.ohms);
}

/** "`tx-to-porch` (20 AWG, 38 m)". */
export function runWords(analysis: Analysis, name: string): string {
  const run = analysis.runs.get(name);
  const size = run?.cable?.size;
  const words = [
    ...(size === undefined ? [] : [sizeWords(size)]),
    ...(run?.lengthMetres === undefined ? [] : [lengthWords(run.lengthMetres, analysis.installation.profile)]),
  ];
  if (run?.lengthMetres === undefined && run?.run.loopOhms !== undefined) {
    words.push(`${ohms(run.run.loopOhms.value)} out and back`);
  }
  return words.length === 0 ? quote(name) : `${quote(name)} (${words.join(', ')})`;
}

/** "6.1 V is lost in `tx-to-porch` (20 AWG, 38 m)"; undefined where the wire takes next to nothing. */
export function lossWords(analysis: Analysis, losses: readonly RunLoss[]): string | undefined {
  const worth = losses.filter(({ volts: lost }) => lost >= 0.3).slice(0, 2);
  if (worth.length === 0) return undefined;
  const [first, ...rest] = worth.map(({ run, volts: lost }) => ({ words: runWords(analysis, run), lost: volts(lost) }));
  const more = rest.map(({ words, lost }) => `${lost} in ${words}`);
  return listOf([`${first!.lost} is lost in ${first!.words}`, ...more]);
}
