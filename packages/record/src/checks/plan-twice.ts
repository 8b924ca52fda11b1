import type { PlanTwiceFacts } from '../plan/types.js';
import { defineReaderCheck } from './types.js';

export const planTwice = defineReaderCheck<PlanTwiceFacts>({
  code: 'plan-twice',
  severity: 'error',
  title: 'A plan does one thing twice',
  sentence: ({ what }) => `By another line of this plan ${what} already: keep the one that is meant.`,
});
