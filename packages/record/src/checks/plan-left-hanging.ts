import type { PlanLeftHangingFacts } from '../plan/types.js';
import { listOf, quote, quotedList } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export const planLeftHanging = defineReaderCheck<PlanLeftHangingFacts>({
  code: 'plan-left-hanging',
  severity: 'error',
  title: 'A plan takes a part away with wires still on it',
  sentence({ part, ends, lacks, isBox }) {
    if (isBox) {
      const them = ends.length === 1 ? 'it' : 'them';
      return `${quote(part)} is taken out and ${listOf(ends)} ${ends.length === 1 ? 'is' : 'are'} still in it: take ${them} out too, or leave the box.`;
    }
    const left = `${listOf(ends)} ${ends.length === 1 ? 'is' : 'are'} left on it`;
    const taken =
      lacks === undefined || lacks.length === 0
        ? `${quote(part)} is taken out`
        : `${quote(part)} gives way to a part without ${quotedList(lacks)}`;
    return `${taken} and ${left}: move ${ends.length === 1 ? 'it' : 'them'} to where ${ends.length === 1 ? 'it goes' : 'they go'}, or lift ${ends.length === 1 ? 'it' : 'them'}.`;
  },
});
