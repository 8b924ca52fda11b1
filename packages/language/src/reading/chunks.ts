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
