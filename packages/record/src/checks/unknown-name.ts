import { didYouMean, quote, quotedList, withArticle } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface UnknownNameFacts {
  readonly name: string;
  /** What it should have been: "part or splice", "place", "run", "check", "colour", "profile". */
  readonly kind: string;
  readonly nearest: readonly string[];
  /** What has that name instead: "place", "device type". */
  readonly isA?: string;
  /** All there are, where they are few. */
  readonly has?: readonly string[];
}

export const unknownName = defineReaderCheck<UnknownNameFacts>({
  code: 'unknown-name',
  severity: 'error',
  title: 'A name is not in the record',
  sentence({ name, kind, nearest, isA, has }) {
    // A run stands there in place of one of its conductors.
    if (has !== undefined && kind === `conductor of ${quote(name)}`)
      return `Say which ${kind}: there are ${quotedList(has)}.`;
    if (has !== undefined && nearest.length === 0)
      return `${quote(name)} is not ${withArticle(kind)}: there are ${quotedList(has)}.`;
    const belongs = kind === 'part or splice' ? '`part.terminal` or a splice' : `the name of ${withArticle(kind)}`;
    if (isA !== undefined)
      return `${quote(name)} is ${withArticle(isA)}, and ${belongs} belongs here.${didYouMean(nearest)}`;
    const where = has === undefined ? ' in this record' : '';
    const mend =
      kind === 'place' && nearest.length === 0
        ? ` Name it on a line of its own: ${quote(`place ${name}`)}.`
        : didYouMean(nearest);
    return `${quote(name)} is not the name of ${withArticle(kind)}${where}.${mend}`;
  },
});
