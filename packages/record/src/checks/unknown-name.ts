import { didYouMean, quote, withArticle } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface UnknownNameFacts {
  readonly name: string;
  /** What it should have been: "part or splice", "place", "run", "check", "colour", "profile". */
  readonly kind: string;
  readonly nearest: readonly string[];
}

export const unknownName = defineReaderCheck<UnknownNameFacts>({
  code: 'unknown-name',
  severity: 'error',
  title: 'A name is not in the record',
  sentence: ({ name, kind, nearest }) =>
    `${quote(name)} is not the name of ${withArticle(kind)} in this record.${didYouMean(nearest)}`,
});
