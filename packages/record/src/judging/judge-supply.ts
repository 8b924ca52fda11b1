/** Whether a supply gives more than its rating. */

import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import type { Severity } from '../finding.js';
import { limits } from './limits.js';
import { severityRank } from './raise.js';
import { ampsThrough, studyOf } from './study.js';

export interface Overload {
  readonly severity: Severity;
  readonly solved: Solved;
  readonly amps: number;
  readonly rated: number;
  readonly limit: number;
}

/** The state in which most is asked of a winding beyond what it may give. */
export function worstOverload(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  winding: ResolvedElement,
): Overload | undefined {
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
