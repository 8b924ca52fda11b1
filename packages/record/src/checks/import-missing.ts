import { quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface ImportMissingFacts {
  /** As written. */
  readonly path: string;
}

export const importMissing = defineReaderCheck<ImportMissingFacts>({
  code: 'import-missing',
  severity: 'error',
  title: 'An imported file is not there',
  sentence: ({ path }) =>
    `There is no file ${quote(path)} beside this record; the path is read from this file's folder.`,
});
