import { quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface ImportCycleFacts {
  /** Files from this one round to itself, as written or relative to it; the first and last are the same. */
  readonly chain: readonly string[];
}

export const importCycle = defineReaderCheck<ImportCycleFacts>({
  code: 'import-cycle',
  severity: 'error',
  title: 'Files import one another in a circle',
  sentence: ({ chain }) => `This import comes back to the file itself: ${chain.map(quote).join(' → ')}.`,
});
