import { quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface DuplicateNameFacts {
  readonly name: string;
  /** What already has the name: "run", "place", "device". */
  readonly kind: string;
}

export const duplicateName = defineReaderCheck<DuplicateNameFacts>({
  code: 'duplicate-name',
  severity: 'error',
  title: 'Two things have one name',
  sentence: ({ name, kind }) => `${quote(name)} is already the name of another ${kind}: give one of them another name.`,
});
