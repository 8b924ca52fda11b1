/** What a supply gives from all its windings together. */

import type { Analysis, ResolvedElement, Solved } from '../analysis-types.js';
import { ampsThrough, extreme, studyOf, voltsAcross } from './study.js';

/** The sum over a supply's windings of a figure in its worst state among those that matter; undefined where a circuit has no figures. */
export function sumOverWindings(
  analysis: Analysis,
  supply: string,
  figure: (solved: Solved, winding: ResolvedElement) => number | undefined,
  matters: (solved: Solved) => boolean,
): number | undefined {
  const study = studyOf(analysis);
  let sum = 0;
  for (const winding of analysis.parts.get(supply)?.elements ?? []) {
    if (winding.element.kind !== 'winding') continue;
    const circuit = analysis.circuitOfElement(winding.id);
    if (circuit === undefined) continue;
    if (!study.measured.includes(circuit)) return undefined;
    const states = study.figures(circuit, 'nominal').filter(matters);
    const worst = extreme(states, (solved) => figure(solved, winding), 'most');
    if (worst === undefined) return undefined;
    sum += worst.figure;
  }
  return sum;
}

export function wattsOf(solved: Solved, winding: ResolvedElement): number | undefined {
  const amps = ampsThrough(solved, winding.id);
  const volts = voltsAcross(solved, winding);
  return amps === undefined || volts === undefined ? undefined : amps * volts;
}
