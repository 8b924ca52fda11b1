import { atRest } from '../judging/judge-coil.js';
import { loadWords, stateWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { amps, share } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const chimeHums = defineCheck({
  code: 'chime-hums',
  severity: 'warning',
  title: 'A coil may hum at rest',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      for (const coil of studyOf(analysis).elementsOf(circuit, 'coil')) {
        const { humsFromAmps, ratedAmps, ringsFromVolts } = coil;
        if (humsFromAmps === undefined || ratedAmps === undefined) continue;
        const resting = atRest(analysis, circuit, coil);
        if (resting === undefined || resting.amps < humsFromAmps - 1e-9) continue;
        if (ringsFromVolts !== undefined && resting.volts >= ringsFromVolts) continue;
        const { solved } = resting;
        const when = stateWords(analysis, solved.state.closed) + loadWords(solved.state);
        report({
          path: at.part(coil.part),
          message: `${quote(coil.part)} carries ${amps(resting.amps)} ${when}, ${share(resting.amps / ratedAmps)} of its ${amps(ratedAmps)}; from ${share(humsFromAmps / ratedAmps)} a coil may hum and get warm.`,
          parts: [coil.part],
        });
      }
    }
  },
});
