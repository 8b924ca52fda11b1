import { badReading, partsOfReading } from '../judging/bad-readings.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const readingImpossible = defineCheck({
  code: 'reading-impossible',
  severity: ['warning', 'error'],
  title: "A reading that can't be right, whatever the house",
  run(analysis, report) {
    for (const [block, { readings }] of (analysis.installation.readings ?? []).entries()) {
      for (const [index, reading] of readings.entries()) {
        const bad = badReading(analysis, reading);
        if (bad === undefined) continue;
        const caution = bad.danger ? ' Stop: isolate it and prove it dead before you touch a wire.' : '';
        report({
          path: at.reading(block, index),
          severity: bad.danger ? 'error' : 'warning',
          message: `This reading can't be right: ${bad.why}.${caution}`,
          parts: partsOfReading(reading),
        });
      }
    }
  },
});
