/** Whether a coil rings when it should and rests when it should. */

import type { Analysis, CircuitAnalysis, Condition, ResolvedElement, Solved } from '../analysis-types.js';
import { ampsThrough, extreme, studyOf, voltsAcross } from './study.js';

export interface CoilShortfall {
  readonly severity: 'error' | 'warning';
  readonly condition: Condition;
  readonly solved: Solved;
  readonly volts: number;
  readonly ringsFrom: number;
}

/** A coil that a contact should ring and that gets less than its ringing volts; the worst such state. */
export function judgeRinging(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
): CoilShortfall | undefined {
  const study = studyOf(analysis);
  const ringsFrom = coil.ringsFromVolts;
  if (ringsFrom === undefined) return undefined;
  const found: CoilShortfall[] = [];
  for (const condition of ['nominal', 'low'] as const) {
    for (const solved of study.figures(circuit, condition)) {
      const { closed } = solved.state;
      const pressed = closed.filter((contact) => analysis.momentary.has(contact));
      if (!study.isFullyFed(coil, closed) || study.isFullyFed(coil, without(closed, pressed))) continue;
      const alone = pressed.length === 1;
      if (condition === 'low' && !alone) continue;
      const volts = voltsAcross(solved, coil);
      if (volts === undefined || volts >= ringsFrom - 1e-9) continue;
      const severity = condition === 'nominal' && alone ? 'error' : 'warning';
      found.push({ severity, condition, solved, volts, ringsFrom });
    }
  }
  const errors = found.filter(({ severity }) => severity === 'error');
  return extreme(errors.length > 0 ? errors : found, ({ volts }) => volts, 'least')?.item;
}

function without(closed: readonly string[], pressed: readonly string[]): readonly string[] {
  return closed.filter((contact) => !pressed.includes(contact));
}

/** The lasting state in which a coil that should be at rest sees the most volts. */
export function atRest(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
): { readonly solved: Solved; readonly volts: number; readonly amps: number } | undefined {
  const study = studyOf(analysis);
  const lasting = study.figures(circuit, 'nominal').filter(({ state }) => study.lasts(state));
  const resting = lasting.filter(({ state }) => state.closed.length === 0 || !study.isFullyFed(coil, state.closed));
  const most = extreme(resting, (solved) => ampsThrough(solved, coil.id), 'most');
  if (most === undefined) return undefined;
  return { solved: most.item, amps: most.figure, volts: voltsAcross(most.item, coil) ?? 0 };
}
