import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { atRest } from '../judging/judge-coil.js';
import { type MisusedContact, misusedContact } from '../judging/misused-contact.js';
import { stateWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { amps, volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const chimeEnergizedIdle = defineCheck({
  code: 'chime-energized-idle',
  severity: 'error',
  title: 'A coil is driven with nothing pressed',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      for (const coil of studyOf(analysis).elementsOf(circuit, 'coil')) {
        if (coil.ringsFromVolts === undefined || !isDriven(analysis, circuit, coil)) continue;
        const misused = misusedContact(analysis, circuit);
        report({
          path: misused?.path ?? at.part(coil.part),
          message: () => sentence(analysis, circuit, coil, misused),
          related:
            misused === undefined
              ? []
              : [{ path: at.part(coil.part), message: `${quote(coil.part)} is driven all the time` }],
          parts: misused === undefined ? [coil.part] : [coil.part, misused.part, misused.run],
          mends: () => misused?.fixes ?? [],
        });
      }
    }
  },
});

/** By its volts where they are known, else by nothing but metal between it and the supply. */
function isDriven(analysis: Analysis, circuit: CircuitAnalysis, coil: ResolvedElement): boolean {
  const resting = studyOf(analysis).measured.includes(circuit) ? atRest(analysis, circuit, coil) : undefined;
  if (resting !== undefined) return resting.volts >= coil.ringsFromVolts! - 1e-9;
  return studyOf(analysis).isFullyFed(coil, []);
}

function sentence(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
  misused: MisusedContact | undefined,
): string {
  const resting = studyOf(analysis).measured.includes(circuit) ? atRest(analysis, circuit, coil) : undefined;
  const figures =
    resting === undefined
      ? 'has the supply across its coil with nothing pressed'
      : `has ringing volts ${resting.solved.state.closed.length === 0 ? 'with nothing pressed' : stateWords(analysis, resting.solved.state.closed)} (${volts(resting.volts)}, ${amps(resting.amps)})`;
  const why =
    misused === undefined
      ? ' Its loop is closed past every button: look for conductors joined that should meet in one.'
      : ` Both conductors of ${quote(misused.part)} are on ${quote(misused.crowded)}, and nothing is on ${quote(misused.free)}.`;
  return `${quote(coil.part)} ${figures}: a coil made to ring for a moment overheats.${why}`;
}
