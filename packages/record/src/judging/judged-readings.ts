/** The readings of a record judged once, however many ask. */

import type { Analysis } from '../analysis-types.js';
import { judgeReadings } from '../readings/judge.js';
import type { JudgedReading } from '../readings/types.js';

const judged = new WeakMap<Analysis, readonly JudgedReading[]>();

export function judgedReadings(analysis: Analysis): readonly JudgedReading[] {
  const known = judged.get(analysis) ?? judgeReadings(analysis);
  judged.set(analysis, known);
  return known;
}
