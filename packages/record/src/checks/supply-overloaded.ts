import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import type { Severity } from '../finding.js';
import { limits } from '../judging/limits.js';
import { asFix, circuitIn, plainSupply, supplySizeThatHolds } from '../judging/mends.js';
import { loadWords, stateWords } from '../judging/state-words.js';
import { ampsThrough, studyOf } from '../judging/study.js';
import { amps } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { severityRank } from '../judging/raise.js';
import { defineCheck } from './types.js';

interface Overload {
  readonly severity: Severity;
  readonly solved: Solved;
  readonly amps: number;
  readonly rated: number;
  readonly limit: number;
}

export const supplyOverloaded = defineCheck({
  code: 'supply-overloaded',
  severity: ['error', 'warning', 'info'],
  title: 'More is drawn from a supply than its rating',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      for (const winding of studyOf(analysis).elementsOf(circuit, 'winding')) {
        const worst = worstOverload(analysis, circuit, winding);
        if (worst === undefined) continue;
        report({
          path: at.fact(winding.part, 'output'),
          severity: worst.severity,
          message: () => sentence(analysis, circuit, winding, worst),
          parts: [winding.part, ...drawing(analysis, circuit, worst)],
          mends: () => {
            const mend = mendOf(analysis, circuit);
            return mend === undefined ? [] : [asFix(mend)];
          },
        });
      }
    }
  },
});

function worstOverload(analysis: Analysis, circuit: CircuitAnalysis, winding: ResolvedElement): Overload | undefined {
  const rated = winding.ratedAmps;
  if (rated === undefined || rated <= 0) return undefined;
  let worst: Overload | undefined;
  for (const solved of studyOf(analysis).figures(circuit, 'nominal')) {
    const drawn = ampsThrough(solved, winding.id);
    if (drawn === undefined) continue;
    const verdict = judge(analysis, winding, solved, drawn / rated);
    if (verdict === undefined) continue;
    const worse =
      worst === undefined ||
      severityRank[verdict.severity] < severityRank[worst.severity] ||
      (verdict.severity === worst.severity && drawn > worst.amps + 1e-9);
    if (worse) worst = { ...verdict, solved, amps: drawn, rated };
  }
  return worst;
}

/** Devices that carry some of it in that state. */
function drawing(analysis: Analysis, circuit: CircuitAnalysis, { solved, amps: total }: Overload): readonly string[] {
  const carrying = studyOf(analysis)
    .elementsOf(circuit, 'load', 'coil', 'lamp', 'resistor', 'impedance')
    .filter(({ id }) => (ampsThrough(solved, id) ?? 0) > total / 20);
  return [...new Set(carrying.map(({ part }) => part))];
}

function judge(
  analysis: Analysis,
  winding: ResolvedElement,
  { state }: Solved,
  share: number,
): { readonly severity: Severity; readonly limit: number } | undefined {
  const over = (limit: number, severity: Severity) => (share > limit + 1e-9 ? { severity, limit } : undefined);
  const regulated = winding.system === 'DC' && analysis.parts.get(winding.part)?.facts.regulated === true;
  if (regulated) return over(limits.overloadRegulated, 'error');
  if (studyOf(analysis).lasts(state)) return over(limits.overloadLasting, 'error');
  if (state.closed.length > 1) return over(limits.overloadMomentaryWarning, 'info');
  return over(limits.overloadMomentaryError, 'error') ?? over(limits.overloadMomentaryWarning, 'warning');
}

function mendOf(analysis: Analysis, circuit: CircuitAnalysis) {
  const supply = plainSupply(analysis, circuit);
  return (
    supply &&
    supplySizeThatHolds(analysis, supply, (after) => {
      const same = after.elements.get(supply.id);
      const around = circuitIn(after, supply);
      if (same === undefined || around === undefined) return undefined;
      return worstOverload(after, around, same) === undefined ? 0 : undefined;
    })
  );
}

function sentence(analysis: Analysis, circuit: CircuitAnalysis, winding: ResolvedElement, worst: Overload): string {
  const { solved, rated, limit } = worst;
  const mend = mendOf(analysis, circuit);
  const change =
    mend === undefined ? '' : ` A ${mend.words} supply carries it; its mains side is for a licensed electrician.`;
  const when = stateWords(analysis, solved.state.closed) + loadWords(solved.state);
  const held = studyOf(analysis).lasts(solved.state) ? 'what lasts' : 'a moment';
  return `${quote(winding.part)} gives ${amps(worst.amps)} ${when}, ${(worst.amps / rated).toFixed(1)} times its ${amps(rated)}; ${limit} times is the limit for ${held}, and beyond it the winding overheats.${change}`;
}
