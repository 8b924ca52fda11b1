import { quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface NotYetFacts {
  /** The statement or word as written: `readings`, `profile europe`. */
  readonly statement: string;
}

export const notYet = defineReaderCheck<NotYetFacts>({
  code: 'not-yet',
  severity: 'error',
  title: 'A statement of the notation that this version does not read',
  sentence: ({ statement }) =>
    `${quote(statement)} is not read by this version: the statement is left out of every figure.`,
});
