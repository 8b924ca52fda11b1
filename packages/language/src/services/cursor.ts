/**
 * Where the cursor stands in a statement that may be half-written: told from the tokens before it alone, because the text of a
 * line that is being typed is broken nearly always.
 */

import { scan, STATEMENTS, type Token } from './scan.js';

export interface Cursor {
  /** The statement's tokens before its first brace, without what is being typed. */
  readonly header: readonly Token[];
  /** How many braces are open at the cursor. */
  readonly depth: number;
  /** In braces: the tokens of the fact being written, since its line or brace began. */
  readonly fact: readonly Token[];
  /** Those of them after the last comma. */
  readonly item: readonly Token[];
  /** In braces: the fact before the cursor ends with braces of its own, so that a comma or line has to come first. */
  readonly closed: boolean;
  /** In a second pair of braces: the tokens before it, since their own line or brace began. */
  readonly opener: readonly Token[];
  /** What is being typed: a word, a number or `part.terminal`, up to the cursor. */
  readonly typed: string;
  /** Offsets of what is being typed; `end` takes in the rest of the word behind the cursor. */
  readonly start: number;
  readonly end: number;
  /** Nothing but what is being typed stands before the cursor in its line. */
  readonly first: boolean;
  /** The line is not indented. */
  readonly unindented: boolean;
  /** In a string or a comment: nothing to complete. */
  readonly quiet: boolean;
}

/** Offset of the unindented statement word at or above an offset; 0 when there is none. */
export function statementStart(text: string, offset: number): number {
  let lineStart = startOfLine(text, offset);
  for (;;) {
    const word = /^[A-Za-z]+/.exec(text.slice(lineStart, lineStart + 12))?.[0].toLowerCase();
    if (word !== undefined && STATEMENTS.has(word) && lineStart + word.length < offset) return lineStart;
    if (lineStart === 0) return 0;
    lineStart = startOfLine(text, lineStart - 1);
  }
}

/** Offset of the unindented statement word below an offset, or of the text's end. */
export function statementEnd(text: string, offset: number): number {
  for (const { index, 0: word } of text.slice(offset).matchAll(/(?<=[\n\r])[A-Za-z]+/g)) {
    if (STATEMENTS.has(word.toLowerCase())) return offset + index;
  }
  return text.length;
}

function startOfLine(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text[at - 1] !== '\n' && text[at - 1] !== '\r') at--;
  return at;
}

const NAME_PART = /[\p{L}\p{M}\p{N}_.-]/u;

export function cursorAt(text: string, offset: number): Cursor {
  const from = statementStart(text, offset);
  let start = offset;
  while (start > from && NAME_PART.test(text[start - 1]!) && text.slice(start - 2, start) !== '..') start--;
  let end = offset;
  while (end < text.length && NAME_PART.test(text[end]!)) end++;
  const lines = scan(text.slice(from, start));
  const state = { depth: 0, header: [] as Token[], fact: [] as Token[], item: [] as Token[] };
  const openers: Token[][] = [];
  let continued = true;
  let closed = false;
  for (const line of lines) {
    closed = false;
    if (!continued && state.depth > 0) {
      state.fact = [];
      state.item = [];
    }
    for (const token of line.tokens) {
      if (token.kind === 'comment') continue;
      step(state, openers, token);
      closed = token.text === '}' && state.depth > 0;
      continued = token.text === ',' || state.depth === 0;
    }
    if (line.tokens.length === 0 && state.depth > 0) continued = false;
  }
  const lastLine = lines.at(-1)!;
  // Of a line that has nothing yet there is none in what was scanned.
  if (lastLine.eol !== '' && !continued) {
    state.fact = [];
    state.item = [];
    closed = false;
  }
  const last = lastLine.tokens.at(-1);
  const lineStart = startOfLine(text, start);
  return {
    header: state.header,
    depth: state.depth,
    closed,
    fact: state.fact,
    item: state.item,
    opener: openers.at(-1) ?? [],
    typed: text.slice(start, offset),
    start,
    end,
    first: text.slice(lineStart, start).trim() === '',
    unindented: lineStart === start,
    quiet:
      last !== undefined &&
      (last.kind === 'broken' || (last.kind === 'comment' && last.text.startsWith('//'))) &&
      last.end === start - from,
  };
}

function step(
  state: { depth: number; header: Token[]; fact: Token[]; item: Token[] },
  openers: Token[][],
  token: Token,
): void {
  if (token.kind === 'mark' && token.text === '{') {
    openers.push(state.fact);
    state.depth++;
    state.fact = [];
    state.item = [];
  } else if (token.kind === 'mark' && token.text === '}') {
    openers.pop();
    state.depth = Math.max(0, state.depth - 1);
    state.fact = [];
    state.item = [];
  } else if (state.depth === 0) state.header.push(token);
  else {
    state.fact.push(token);
    if (token.text === ',') state.item = [];
    else state.item.push(token);
  }
}
