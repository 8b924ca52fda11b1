/** Every reading in the record against what the record makes one expect. */

import type { Analysis } from '../analysis-types.js';
import type { JudgedReading } from './types.js';

/** Blocks and readings in the record's order. */
export function judgeReadings(analysis: Analysis): readonly JudgedReading[] {
  return (analysis.installation.readings ?? []).flatMap(({ readings }, block) =>
    readings.map((reading, index) => ({
      block,
      index,
      reading,
      predicted: { kind: 'unknown', reason: 'nothing is worked out for readings yet' },
      agrees: undefined,
      sets: [],
    })),
  );
}
