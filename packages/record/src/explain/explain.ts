/** The fault finder. */

import type { Analysis } from '../analysis-types.js';
import type { Explanation, ExplainOptions } from './types.js';

/** Which faults fit the readings of the record, best first, and what to do next. */
export function explain(_analysis: Analysis, _options: ExplainOptions = {}): Explanation {
  return {
    version: 1,
    healthy: false,
    healthyLikelihood: 0,
    faults: [],
    excluded: [],
    next: null,
    bad: [],
    notes: ['nothing is worked out for readings yet'],
  };
}
