/** Cuts a text at the lines that start a statement, so that what an edit does not touch need not be read again. */

import { firstIndex } from './search.js';
import { STATEMENT_WORDS } from './tokens.js';

const STATEMENT_LINE = new RegExp(`(^|[\\n\\r])(?:${STATEMENT_WORDS.join('|')})(?=[ \\t"{}:,\\n\\r]|$)`, 'gi');

/** Comments and what could be mistaken for their start; a closed comment may hold lines that look like statements. */
const COMMENT_OR_STRING = /\/\/[^\n\r]*|"[^"\n\r]*"?|\/\*((?![\n\r][ \t]*\/\*)[\s\S])*?\*\//g;

/** Stretches of the text in order, without gaps, none of which starts inside a comment. */
export function chunksOf(text: string): string[] {
  const comments = text.includes('/*') ? commentsOf(text) : [];
  const chunks: string[] = [];
  let start = 0;
  let comment = 0;
  STATEMENT_LINE.lastIndex = 0;
  for (let match = STATEMENT_LINE.exec(text); match; match = STATEMENT_LINE.exec(text)) {
    const at = match.index + match[1]!.length;
    while (comment < comments.length && comments[comment]!.end <= at) comment++;
    const isInside = comment < comments.length && comments[comment]!.start < at;
    if (at === start || isInside) continue;
    chunks.push(text.slice(start, at));
    start = at;
  }
  chunks.push(text.slice(start));
  return chunks;
}

/** A text with spaces in place of its comments, line by line. */
export function withoutComments(text: string): string {
  if (!text.includes('/')) return text;
  return text.replace(COMMENT_OR_STRING, (found) =>
    found.startsWith('/') ? found.replace(/[^\n\r]+/g, (line) => ' '.repeat(line.length)) : found,
  );
}

function commentsOf(text: string): { readonly start: number; readonly end: number }[] {
  const comments: { start: number; end: number }[] = [];
  COMMENT_OR_STRING.lastIndex = 0;
  for (let match = COMMENT_OR_STRING.exec(text); match; match = COMMENT_OR_STRING.exec(text)) {
    const [found] = match;
    if (found.startsWith('/*')) comments.push({ start: match.index, end: match.index + found.length });
  }
  return comments;
}

/** Where the stretches of a text start, in order. */
export interface Starts {
  readonly count: number;
  startOf(index: number): number;
}

/** Between two texts of a file: how many of the earlier one's stretches, from its start and from its end, are in the later one as well. */
export function sharedChunks(earlier: string, starts: Starts, later: string): { first: number; last: number } {
  // A comment that opens or closes may swallow lines far from the edit.
  if (earlier.includes('/*') || later.includes('/*')) return { first: 0, last: 0 };
  const { count, startOf } = starts;
  const { length } = earlier;
  const before = alikeAtStart(earlier, later);
  const after = alikeAtEnd(earlier, later, Math.min(length, later.length) - before);
  const endOf = (index: number): number => (index + 1 < count ? startOf(index + 1) : length);
  const first = firstIndex(count, (index) => endOf(index) + LONGEST_WORD > before);
  // The line's end before it belongs to what makes it the start of a statement.
  const behind = firstIndex(count, (index) => length - startOf(index) + 1 <= after);
  return { first, last: count - Math.max(first, behind) };
}

/** Long stretches are compared at once, which is many times as quick as by characters. */
const STRETCH = 4096;

function alikeAtStart(one: string, other: string): number {
  const most = Math.min(one.length, other.length);
  let alike = 0;
  while (alike + STRETCH <= most && one.slice(alike, alike + STRETCH) === other.slice(alike, alike + STRETCH))
    alike += STRETCH;
  while (alike < most && one.charCodeAt(alike) === other.charCodeAt(alike)) alike++;
  return alike;
}

function alikeAtEnd(one: string, other: string, most: number): number {
  const stretchOf = (text: string, alike: number): string =>
    text.slice(text.length - alike - STRETCH, text.length - alike);
  let alike = 0;
  while (alike + STRETCH <= most && stretchOf(one, alike) === stretchOf(other, alike)) alike += STRETCH;
  while (alike < most && one.charCodeAt(one.length - 1 - alike) === other.charCodeAt(other.length - 1 - alike)) alike++;
  return alike;
}

/** What stands behind a cut says whether it is one: a statement's word and the character after it. */
const LONGEST_WORD = Math.max(...STATEMENT_WORDS.map((word) => word.length)) + 1;
