import { badReading, contradictions, partsOfReading } from '../judging/bad-readings.js';
import { at } from '../place-in-record.js';
import { judgedReadings, whereRead } from '../readings/judge.js';
import { defineCheck } from './types.js';

export const readingImpossible = defineCheck({
  code: 'reading-impossible',
  severity: ['warning', 'error'],
  title: "A reading that can't be right, whatever the house",
  run(analysis, report) {
    const blocks = analysis.installation.readings ?? [];
    const where = whereRead(analysis);
    for (const { block, index, reading, bad: alsoBad } of judgedReadings(analysis)) {
      const bad = badReading(where, reading) ?? (alsoBad === undefined ? undefined : { why: alsoBad, danger: false });
      if (bad === undefined || (alsoBad !== undefined && contradicts(block, index))) continue;
      const caution = bad.danger ? ' Stop: isolate it and prove it dead before you touch a wire.' : '';
      report({
        path: at.reading(block, index),
        severity: bad.danger ? 'error' : 'warning',
        message: `This reading can't be right: ${bad.why}.${caution}`,
        parts: partsOfReading(reading),
      });
    }

    /** That is said by a check of its own. */
    function contradicts(block: number, index: number): boolean {
      const found = contradictions(where, blocks[block]?.readings ?? []);
      return found.some(({ among }) => among.at(-1) === index);
    }
  },
});
