import type { PlanEndElsewhereFacts } from '../plan/types.js';
import { quote, quotedList } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export const planEndElsewhere = defineReaderCheck<PlanEndElsewhereFacts>({
  code: 'plan-end-elsewhere',
  severity: 'error',
  title: 'A conductor is not where the plan says',
  sentence({ run, colour, from, is }) {
    const conductor = `${quote(colour)} of ${quote(run)}`;
    const found = is.length === 0 ? 'it is spare' : `it is landed on ${quotedList(is)}`;
    return from === undefined
      ? `${conductor} is not spare: ${found}.`
      : `${conductor} is not on ${quote(from)}: ${found}.`;
  },
});
