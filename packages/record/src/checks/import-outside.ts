import { quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface ImportOutsideFacts {
  /** As written. */
  readonly path: string;
}

export const importOutside = defineReaderCheck<ImportOutsideFacts>({
  code: 'import-outside',
  severity: 'error',
  title: 'An import leads out of the workspace',
  sentence: ({ path }) =>
    `${quote(path)} lies outside the workspace: an import is a relative path to a file inside it.`,
});
