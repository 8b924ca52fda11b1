import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { ampsThrough, studyOf, type Study, voltsAcross } from '../judging/study.js';
import { amps, volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const coilEnergizedAtRest = defineCheck({
  code: 'coil-energized-at-rest',
  severity: 'warning',
  title: 'A coil is pulled in with nothing calling for it',
  reach: 'cluster',
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.circuits) {
      for (const called of study.elementsOf(circuit, 'coil', 'load')) {
        const from = calledFrom(analysis, called);
        if (from === undefined || !isFed(study, circuit, called, from)) continue;
        const resting = study.measured.includes(circuit) ? atRest(study, circuit) : undefined;
        const figure =
          resting === undefined
            ? 'has the supply across it'
            : `has ${volts(voltsAcross(resting, called) ?? 0)} (${amps(ampsThrough(resting, called.id) ?? 0)})`;
        report({
          path: at.part(called.part),
          message: `${quote(inputOf(analysis, called) ?? called.part)} ${figure} with nothing calling for it, so what it works is on all the time. Look for a conductor past the contact that should call it.`,
          parts: [called.part],
        });
      }
    }
  },
});

/** The volts from which something is called: a coil that pulls in, or an input of a board that a supply is part of. */
function calledFrom(analysis: Analysis, element: ResolvedElement): number | undefined {
  if (element.element.kind === 'load')
    return inputOf(analysis, element) === undefined ? undefined : (element.staysOnFrom ?? element.ratedVolts);
  return element.releasesBelowVolts === undefined ? element.pullsInFromVolts : undefined;
}

/** The terminal of a supply at which its own load is called by what is outside; undefined for loads of devices. */
function inputOf(analysis: Analysis, { part, a, b, element }: ResolvedElement): string | undefined {
  const owner = analysis.parts.get(part);
  if (element.kind !== 'load' || owner?.kind !== 'supply') return undefined;
  const own = new Set(owner.elements.filter((one) => one.element.kind === 'winding').flatMap((one) => [one.a, one.b]));
  return own.has(a) === own.has(b) ? undefined : own.has(a) ? b : a;
}

/** By its volts where they are known, else by nothing but metal between it and the supply. */
function isFed(study: Study, circuit: CircuitAnalysis, called: ResolvedElement, from: number): boolean {
  const resting = study.measured.includes(circuit) ? atRest(study, circuit) : undefined;
  if (resting === undefined) return study.isFullyFed(called, []);
  return (voltsAcross(resting, called) ?? 0) >= from - 1e-9;
}

function atRest(study: Study, circuit: CircuitAnalysis) {
  return study.figures(circuit, 'nominal').find(({ state }) => state.closed.length === 0 && state.loads === 'idle');
}
