/** Small helpers of wording that every sentence shares. */

import { type Analysis, pointOf } from '../analysis-types.js';

/** A name as sentences show it. */
export function quote(name: string): string {
  return `\`${name}\``;
}

/** "a", "a and b", "a, b and c". */
export function listOf(words: readonly string[], joint: 'and' | 'or' = 'and'): string {
  const last = words.at(-1);
  if (last === undefined) return '';
  return words.length === 1 ? last : `${words.slice(0, -1).join(', ')} ${joint} ${last}`;
}

/** "`a`, `b` and `c`". */
export function quotedList(names: readonly string[], joint: 'and' | 'or' = 'and'): string {
  return listOf(names.map(quote), joint);
}

/** " Did you mean `a` or `b`?", or nothing where no known name is near. */
export function didYouMean(nearest: readonly string[]): string {
  return nearest.length === 0 ? '' : ` Did you mean ${quotedList(nearest, 'or')}?`;
}

/** "an output", "a run". */
export function withArticle(noun: string): string {
  return `${/^[aeiou]/i.test(noun) ? 'an' : 'a'} ${noun}`;
}

/** "a 8 V supply" as it is said: "an 8 V supply". */
export function withRightArticles(sentence: string): string {
  return sentence.replace(/\b([Aa]) (?=8\d*(?:\.\d+)? |11 |18 )/g, '$1n ');
}

/** A jumper by its name, or by its ends where it has none of its own. */
export function jumperWords({ jumpers }: Analysis, name: string): string {
  const jumper = jumpers.get(name);
  if (jumper === undefined || jumper.named) return quote(name);
  return `the ${jumper.kind} from ${quote(pointOf(jumper.from))} to ${quote(pointOf(jumper.to))}`;
}
