/**
 * A scanner for text that may be half-written: it never fails, loses nothing and knows no grammar. Formatting, completion and
 * folding use it where a parse would come too late or not at all.
 */

import { OhmsteadTerminals } from '../generated/ast.js';
import { STATEMENT_WORDS } from '../reading/tokens.js';

export type TokenKind = 'word' | 'number' | 'string' | 'comment' | 'mark' | 'broken';

export interface Token {
  readonly kind: TokenKind;
  readonly text: string;
  /** Offsets into the text, UTF-16 units; `end` is exclusive. */
  readonly start: number;
  readonly end: number;
  /** True when nothing stands between it and the token before it. */
  readonly glued: boolean;
}

/** One line of text, or several where a block comment runs over line ends. */
export interface Line {
  readonly start: number;
  /** Exclusive, without the line end. */
  readonly end: number;
  /** The line end as written; empty on a last line without one. */
  readonly eol: string;
  readonly tokens: readonly Token[];
}

const SPACE = /[ \t\f\v\u00a0\u1680\u2000-\u200b\u2028\u2029\u202f\u205f\u3000\ufeff]/;
const FEET_AND_INCHES = /\d['\u2032][ \t\u00a0]*\d+(\.\d+)?$/;
const BLOCK_COMMENT = new RegExp(OhmsteadTerminals.BLOCK_COMMENT.source, 'y');
const LETTER = /[\p{L}\p{M}_]/u;

export function isLetter(char: string | undefined): boolean {
  return char !== undefined && char !== '' && LETTER.test(char);
}

function isDigit(char: string | undefined): boolean {
  return char !== undefined && char >= '0' && char <= '9';
}

function isEol(char: string | undefined): boolean {
  return char === '\n' || char === '\r';
}

/** The whole character at an offset, so that letters outside the basic plane are one. */
function charAt(text: string, at: number): string {
  const code = text.codePointAt(at);
  return code === undefined ? '' : String.fromCodePoint(code);
}

function wordEnd(text: string, start: number): number {
  let at = start;
  while (at < text.length) {
    const char = charAt(text, at);
    if (isLetter(char) || isDigit(char)) at += char.length;
    else if (char === '-' && at > start) {
      const next = charAt(text, at + 1);
      if (!isLetter(next) && !isDigit(next)) break;
      at += 1;
    } else break;
  }
  return at;
}

function numberEnd(text: string, start: number): number {
  let at = start;
  while (isDigit(text[at])) at++;
  if (text[at] === '.' && isDigit(text[at + 1])) {
    at++;
    while (isDigit(text[at])) at++;
  }
  return at;
}

function lineEnd(text: string, start: number): number {
  let at = start;
  while (at < text.length && !isEol(text[at])) at++;
  return at;
}

const STATEMENT_LINE = new RegExp(`[\\n\\r](?=(?:${STATEMENT_WORDS.join('|')})[ \\t"])`, 'gi');

/** An unclosed comment takes no line that starts a statement. */
function unclosedCommentEnd(text: string, start: number): number {
  STATEMENT_LINE.lastIndex = start;
  const found = STATEMENT_LINE.exec(text);
  return start + text.slice(start, found ? found.index : text.length).trimEnd().length;
}

/** The token that starts at an offset where neither space nor a line end stands. */
function tokenAt(text: string, start: number, glued: boolean): Token {
  const token = (kind: TokenKind, end: number): Token => ({ kind, text: text.slice(start, end), start, end, glued });
  const char = charAt(text, start);
  if (char === '/' && text[start + 1] === '/') return token('comment', lineEnd(text, start));
  if (char === '/' && text[start + 1] === '*') {
    BLOCK_COMMENT.lastIndex = start;
    const closed = BLOCK_COMMENT.exec(text);
    if (closed) return token('comment', start + closed[0].length);
    return token('broken', unclosedCommentEnd(text, start));
  }
  // In 21' 6" the straight quote is an inch mark.
  if (char === '"' && !FEET_AND_INCHES.test(text.slice(Math.max(0, start - 24), start))) {
    let at = start + 1;
    while (at < text.length && text[at] !== '"' && !isEol(text[at])) at++;
    return text[at] === '"' ? token('string', at + 1) : token('broken', lineEnd(text, start));
  }
  if (char === "'" && !(glued && (isDigit(text[start - 1]) || text[start - 1] === "'")))
    return token('broken', lineEnd(text, start));
  if ('\u201c\u201d\u201e\u201f\u2018\u2019\u00ab\u00bb'.includes(char)) return token('broken', lineEnd(text, start));
  if (isDigit(char)) return token('number', numberEnd(text, start));
  if (isLetter(char)) return token('word', wordEnd(text, start));
  if (char === '.' && text[start + 1] === '.') return token('mark', start + 2);
  return token('mark', start + char.length);
}

/** Cuts a text into lines of tokens. Everything but white space is in exactly one token. */
export function scan(text: string): Line[] {
  const lines: Line[] = [];
  // A byte-order mark is no indentation.
  let at = text.startsWith('\ufeff') ? 1 : 0;
  let start = at;
  let tokens: Token[] = [];
  const finish = (end: number, eol: string): void => {
    lines.push({ start, end, eol, tokens });
    start = end + eol.length;
    tokens = [];
  };
  while (at < text.length) {
    const char = text[at]!;
    if (isEol(char)) {
      const eol = char === '\r' && text[at + 1] === '\n' ? '\r\n' : char;
      finish(at, eol);
      at += eol.length;
    } else if (SPACE.test(char)) at++;
    else {
      const token = tokenAt(text, at, tokens.at(-1)?.end === at);
      tokens.push(token);
      at = token.end;
    }
  }
  if (at > start || lines.length === 0) finish(at, '');
  return lines;
}

export const STATEMENTS: ReadonlySet<string> = new Set(STATEMENT_WORDS);

export function startsStatement(line: Line): boolean {
  const first = line.tokens[0];
  return first !== undefined && first.kind === 'word' && STATEMENTS.has(first.text.toLowerCase());
}

export function isIndented(line: Line): boolean {
  const first = line.tokens[0];
  return first !== undefined && first.start > line.start;
}
