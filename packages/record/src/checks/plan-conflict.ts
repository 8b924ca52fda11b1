import type { PlanConflictFacts } from '../plan/types.js';
import { defineReaderCheck } from './types.js';

export const planConflict = defineReaderCheck<PlanConflictFacts>({
  code: 'plan-conflict',
  severity: 'error',
  title: 'Two lines of a plan contradict each other',
  sentence: ({ one, other }) =>
    `Both can't be done: ${one}, and ${other}. Neither is carried out until one of them is gone.`,
});
