/** Whether a part sees more volts than its label or data sheet allows. */

import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import { limits } from './limits.js';
import { extreme, studyOf, voltsAcross } from './study.js';

export interface TooMuch {
  readonly element: ResolvedElement;
  readonly solved: Solved;
  readonly volts: number;
  /** The label's most, and what is judged by. */
  readonly most: number;
  readonly limit: number;
  readonly exact: boolean;
}

/** Parts that see too much, each in its worst state, in order of name. */
export function tooMuchOfEach(analysis: Analysis, circuit: CircuitAnalysis): readonly TooMuch[] {
  const byPart = new Map<string, TooMuch>();
  for (const element of studyOf(analysis).elementsOf(circuit, 'load', 'coil', 'lamp')) {
    const found = tooMuchAt(analysis, circuit, element);
    const known = byPart.get(element.part);
    if (found !== undefined && (known === undefined || found.volts > known.volts)) byPart.set(element.part, found);
  }
  return [...byPart.values()];
}

function tooMuchAt(analysis: Analysis, circuit: CircuitAnalysis, element: ResolvedElement): TooMuch | undefined {
  const asks = mostOf(analysis, element);
  if (asks === undefined) return undefined;
  const conditions = asks.exact ? (['nominal', 'high', 'low'] as const) : (['labels'] as const);
  const states = conditions.flatMap((condition) => studyOf(analysis).figures(circuit, condition));
  const worst = extreme(
    states.filter(({ state }) => state.loads === 'idle'),
    (solved) => voltsAcross(solved, element),
    'most',
  );
  const limit = asks.exact ? asks.most : asks.most * limits.tooMuch;
  if (worst === undefined || worst.figure <= limit + 1e-9) return undefined;
  return { element, solved: worst.item, volts: worst.figure, most: asks.most, limit, exact: asks.exact };
}

function mostOf(analysis: Analysis, element: ResolvedElement): { most: number; exact: boolean } | undefined {
  const part = analysis.parts.get(element.part);
  if (part?.facts.limits !== undefined) return { most: part.facts.limits.most, exact: true };
  const own = element.element.kind === 'load' ? undefined : element.ratedVolts;
  const rated = part?.rating?.volts?.most;
  const most = element.element.asRated ? (rated ?? own) : (own ?? rated);
  return most === undefined ? undefined : { most, exact: false };
}
