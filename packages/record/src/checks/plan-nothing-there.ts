import type { PlanNothingThereFacts } from '../plan/types.js';
import { didYouMean, quote, withArticle } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export const planNothingThere = defineReaderCheck<PlanNothingThereFacts>({
  code: 'plan-nothing-there',
  severity: 'error',
  title: 'A plan changes what is not there',
  sentence({ doing, what, isA, isIn, nearest }) {
    if (isIn !== undefined) return `There is nothing to ${doing}: ${what} is in ${quote(isIn)} already.`;
    return isA === undefined
      ? `There is no ${what} to ${doing} in the record that this plan changes.${didYouMean(nearest)}`
      : `There is no ${what} to ${doing}: the name belongs to ${withArticle(isA)}.${doing === 'relocate' && isA === 'run' ? ' A run goes along with what it lands on.' : ''}`;
  },
});
