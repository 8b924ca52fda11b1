import { contradictions, partsOfReading } from '../judging/bad-readings.js';
import { at } from '../place-in-record.js';
import { whereRead } from '../readings/judge.js';
import { defineCheck } from './types.js';

export const readingsContradict = defineCheck({
  code: 'readings-contradict',
  severity: 'warning',
  title: "Readings that can't all be right",
  run(analysis, report) {
    const where = whereRead(analysis);
    (analysis.installation.readings ?? []).forEach(({ readings }, block) => {
      for (const { among, why } of contradictions(where, readings)) {
        const last = among.at(-1)!;
        report({
          path: at.reading(block, last),
          message: `${why[0]!.toUpperCase()}${why.slice(1)}. One of them is a slip, or the fault comes and goes: read again, and keep what stands.`,
          related: among.slice(0, -1).map((index) => ({
            path: at.reading(block, index),
            message: "It can't stand beside this one.",
          })),
          parts: [...new Set(among.flatMap((index) => partsOfReading(readings[index]!)))],
        });
      }
    });
  },
});
