import type { CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { ampsThrough, studyOf, type Study, voltsAcross } from '../judging/study.js';
import { amps, volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const coilEnergizedAtRest = defineCheck({
  code: 'coil-energized-at-rest',
  severity: 'warning',
  title: 'A coil is pulled in with nothing calling for it',
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.circuits) {
      for (const coil of study.elementsOf(circuit, 'coil')) {
        if (coil.pullsInFromVolts === undefined || coil.releasesBelowVolts !== undefined) continue;
        if (!isFed(study, circuit, coil)) continue;
        const resting = study.measured.includes(circuit) ? atRest(study, circuit) : undefined;
        const figure =
          resting === undefined
            ? 'has the supply across its coil'
            : `has ${volts(voltsAcross(resting, coil) ?? 0)} (${amps(ampsThrough(resting, coil.id) ?? 0)})`;
        report({
          path: at.part(coil.part),
          message: `${quote(coil.part)} ${figure} with nothing calling for it, so what it works is on all the time. Look for a conductor past the contact that should call it.`,
          parts: [coil.part],
        });
      }
    }
  },
});

/** By its volts where they are known, else by nothing but metal between it and the supply. */
function isFed(study: Study, circuit: CircuitAnalysis, coil: ResolvedElement): boolean {
  const resting = study.measured.includes(circuit) ? atRest(study, circuit) : undefined;
  if (resting === undefined) return study.isFullyFed(coil, []);
  return (voltsAcross(resting, coil) ?? 0) >= coil.pullsInFromVolts! - 1e-9;
}

function atRest(study: Study, circuit: CircuitAnalysis) {
  return study.figures(circuit, 'nominal').find(({ state }) => state.closed.length === 0 && state.loads === 'idle');
}
