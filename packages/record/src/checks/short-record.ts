import { studyOf } from '../judging/study.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const shortRecord = defineCheck({
  code: 'short-record',
  severity: 'hint',
  title: 'A run has no length, so voltages are not judged',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      // The line side is never solved: its lengths decide nothing.
      if (circuit.supplies.length === 0 || studyOf(analysis).elementsOf(circuit, 'winding').length === 0) continue;
      for (const name of circuit.unmeasuredRuns) {
        report({
          path: at.run(name),
          message: `${quote(name)} has no length: the volts of ${circuit.supplies.map(quote).join(' and ')}'s circuit are not judged until it has one (\`about 40 ft\` will do).`,
          parts: [name],
        });
      }
    }
  },
});
