import { quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface PlanCycleFacts {
  /** Files from this one round to itself; the first and last are the same. */
  readonly chain: readonly string[];
}

export const planCycle = defineReaderCheck<PlanCycleFacts>({
  code: 'plan-cycle',
  severity: 'error',
  title: 'A plan changes itself',
  sentence: ({ chain }) => `This plan comes back to the file itself: ${chain.map(quote).join(' → ')}.`,
});
