/** Where volts go on their way: run by run, in words. */

import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import { ampsThrough, studyOf, voltsAcross } from './study.js';
import { lengthWords, ohms, sizeWords, volts } from './units.js';
import { wayTo } from './way.js';
import { listOf, quote } from './words.js';

export interface RunLoss {
  readonly run: string;
  /** Volts lost in all its conductors that carry the current; 0 where there are no figures. */
  readonly volts: number;
  readonly ohms: number;
}

/** What a part in the way takes of the volts; 0 V where there are no figures. */
export interface PartLoss {
  readonly part: string;
  /** A bypass kit: out of the way, a coil would be in it. */
  readonly isKit: boolean;
  readonly volts: number;
  readonly ohms: number;
}

/** Runs on the element's way that carry at least half its current, the greatest loss first; without figures, by ohms. */
export function lossesTo(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  solved: Solved | undefined,
  element: ResolvedElement,
): readonly RunLoss[] {
  const { edges } = wayTo(analysis, circuit, element, solved?.state.closed);
  const through = solved === undefined ? undefined : ampsThrough(solved, element.id);
  const losses: RunLoss[] = [];
  for (const name of circuit.runs) {
    let lost = 0;
    let total = 0;
    for (const { id, index, ohms: each } of analysis.runs.get(name)?.conductors ?? []) {
      if (id === undefined || each === undefined || !edges.has(`${name}/${index}`)) continue;
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

/** Bypass kits and resistors on the element's way that carry at least half its current, the greatest loss first; without figures, by ohms. */
export function partLossesTo(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  solved: Solved | undefined,
  element: ResolvedElement,
): readonly PartLoss[] {
  const { edges } = wayTo(analysis, circuit, element, solved?.state.closed);
  const through = solved === undefined ? undefined : ampsThrough(solved, element.id);
  const inTheWay = studyOf(analysis)
    .elementsOf(circuit, 'bypass', 'resistor', 'impedance')
    .filter(({ id }) => edges.has(id) && (through === undefined || (ampsThrough(solved!, id) ?? 0) >= through / 2));
  return inTheWay
    .map((one) => ({
      part: one.part,
      isKit: one.element.kind === 'bypass',
      volts: solved === undefined ? 0 : (voltsAcross(solved, one) ?? 0),
      ohms: one.ohms ?? 0,
    }))
    .sort((one, other) => other.volts - one.volts || other.ohms - one.ohms);
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

/** "6.1 V is lost in `tx-to-porch` (20 AWG, 38 m)"; undefined where wire, and parts in the way, take next to nothing. */
export function lossWords(
  analysis: Analysis,
  losses: readonly RunLoss[],
  inParts: readonly PartLoss[] = [],
): string | undefined {
  const all = [
    ...losses.map((loss) => ({ words: () => runWords(analysis, loss.run), volts: loss.volts })),
    ...inParts.map((loss) => ({ words: () => quote(loss.part), volts: loss.volts })),
  ].sort((one, other) => other.volts - one.volts);
  const most = all[0]?.volts ?? 0;
  const worth = all.filter(({ volts: lost }) => lost >= Math.max(0.3, most / 4)).slice(0, 2);
  if (worth.length === 0) return undefined;
  const [first, ...rest] = worth.map(({ words, volts: lost }) => ({ words: words(), lost: volts(lost) }));
  const more = rest.map(({ words, lost }) => `${lost} in ${words}`);
  return listOf([`${first!.lost} is lost in ${first!.words}`, ...more]);
}
