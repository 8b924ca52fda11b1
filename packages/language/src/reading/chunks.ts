/** Cuts a text at the lines that start a statement, so that what an edit does not touch need not be read again. */

import { STATEMENT_WORDS } from './tokens.js';

const STATEMENT_LINE = new RegExp(`(^|[\\n\\r])(?:${STATEMENT_WORDS.join('|')})(?=[ \\t"{}:,\\n\\r]|$)`, 'gi');

/** Comments and what could be mistaken for their start; a closed comment may hold lines that look like statements. */
const COMMENT_OR_STRING = /\/\/[^\n\r]*|"[^"\n\r]*|\/\*((?![\n\r][ \t]*\/\*)[\s\S])*?\*\//g;

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

function commentsOf(text: string): { readonly start: number; readonly end: number }[] {
  const comments: { start: number; end: number }[] = [];
  COMMENT_OR_STRING.lastIndex = 0;
  for (let match = COMMENT_OR_STRING.exec(text); match; match = COMMENT_OR_STRING.exec(text)) {
    const [found] = match;
    if (found.startsWith('/*')) comments.push({ start: match.index, end: match.index + found.length });
  }
  return comments;
}

/** Between two texts of a file: how many of the earlier one's stretches, from its start and from its end, are in the later one as well. */
export function sharedChunks(
  earlier: string,
  chunks: readonly string[],
  later: string,
): { first: number; last: number } {
  // A comment that opens or closes may swallow lines far from the edit.
  if (earlier.includes('/*') || later.includes('/*')) return { first: 0, last: 0 };
  const shorter = Math.min(earlier.length, later.length);
  let before = 0;
  while (before < shorter && earlier.charCodeAt(before) === later.charCodeAt(before)) before++;
  let after = 0;
  while (
    after < shorter - before &&
    earlier.charCodeAt(earlier.length - 1 - after) === later.charCodeAt(later.length - 1 - after)
  ) {
    after++;
  }
  let first = 0;
  for (let end = 0; first < chunks.length; first++) {
    end += chunks[first]!.length;
    if (end + LONGEST_WORD > before) break;
  }
  let last = 0;
  for (let length = 0; last < chunks.length - first; last++) {
    length += chunks[chunks.length - 1 - last]!.length;
    // The line's end before it belongs to what makes it the start of a statement.
    if (length + 1 > after) break;
  }
  return { first, last };
}

/** What stands behind a cut says whether it is one: a statement's word and the character after it. */
const LONGEST_WORD = Math.max(...STATEMENT_WORDS.map((word) => word.length)) + 1;
