/**
 * Cuts the text into tokens and the tokens into statements, and marks the ends of facts' lines inside braces, before any
 * parser sees them: a broken statement can then never take its neighbours with it.
 */

import { DefaultLexer, type LangiumCoreServices, type LexerResult } from 'langium';
import {
  STATEMENT_WORDS,
  type MistakeKind,
  type Token,
  type TokenType,
  type WiringTokenBuilder,
  type WiringTokens,
} from './tokens.js';
import { unitOf } from './units.js';

/** The tokens of one statement. */
export interface Slice {
  readonly tokens: Token[];
  /** In lower case; undefined where the line starts with no statement word. */
  readonly word: string | undefined;
  /** The first mistake that the lexer saw in it. */
  mistake?: Spot;
}

export interface WiringLexerResult extends LexerResult {
  readonly slices: readonly Slice[];
}

/** At the end of an unfinished line these say that the next line goes on. */
const GOES_ON = new Set([',', ':', 'in', 'from', 'to', 'on', 'at', 'with', 'because', 'per', 'or', 'of', '.']);
const NUMBERS = new Set(['NUMBER', 'DASHED', 'FRACTION', 'BY_SIZE', 'DECIMAL_COMMA']);
const MISTAKES: ReadonlySet<string> = new Set<MistakeKind>([
  'DECIMAL_COMMA',
  'GLUED_FEET_INCHES',
  'CURLY_STRING',
  'UNCLOSED_STRING',
  'ODD_NAME',
]);
/** Beyond the basic plane the lexer does not tell letters from pictures. */
const SURROGATE = /[\uD800-\uDFFF]/;
const NAME = /^\p{L}[\p{L}\p{M}\p{N}-]*$/u;
const SPACE = /[ \t\u00A0\u2000-\u200B\u202F\u3000]/;
const statementWords: ReadonlySet<string> = new Set(STATEMENT_WORDS);

export class WiringLexer extends DefaultLexer {
  readonly #types: WiringTokens;

  constructor(services: LangiumCoreServices) {
    super(services);
    this.#types = (services.parser.TokenBuilder as WiringTokenBuilder).tokensOf(services.Grammar);
  }

  override tokenize(text: string): WiringLexerResult {
    const { tokens, hidden, errors } = super.tokenize(text);
    const slices = new StatementCut(text, this.#types).cut(tokens);
    const spots: Spot[] = [];
    for (const { offset, length } of errors)
      spots.push({ kind: 'STRAY', offset, end: offset + length, text: text.slice(offset, offset + length) });
    for (const { tokenType, startOffset, image } of hidden) {
      if (tokenType.name === 'HASH_COMMENT')
        spots.push({ kind: 'HASH_COMMENT', offset: startOffset, end: startOffset + 1, text: '#' });
      if (tokenType.name === 'MERGE_MARK')
        spots.push({ kind: 'MERGE_MARK', offset: startOffset, end: startOffset + image.length, text: image });
      if (tokenType.name !== 'UNCLOSED_COMMENT') continue;
      const lineEnd = image.search(/[\n\r]/);
      spots.push({
        kind: 'UNCLOSED_COMMENT',
        offset: startOffset,
        end: startOffset + (lineEnd < 0 ? image.length : lineEnd),
        text: image,
      });
    }
    addMistakes(text, slices, spots);
    return { tokens: slices.flatMap((slice) => slice.tokens), hidden, errors: [], slices };
  }
}

/** A stretch of text that is wrong in itself. */
export interface Spot {
  readonly kind: MistakeKind | 'STRAY';
  readonly offset: number;
  readonly end: number;
  readonly text: string;
}

/** Gives each mistake to the statement it stands in; one that stands on lines of its own makes a statement of its own. */
function addMistakes(text: string, slices: Slice[], spots: Spot[]): void {
  spots.sort((a, b) => a.offset - b.offset);
  let at = -1;
  for (const spot of spots) {
    while (at + 1 < slices.length && startOf(slices[at + 1]!) <= spot.offset) at++;
    const slice = slices[at];
    if (!slice || standsAlone(text, slice, spot)) {
      at++;
      slices.splice(at, 0, { tokens: [], word: undefined, mistake: spot });
    } else if (!slice.mistake || slice.mistake.offset > spot.offset) slice.mistake = spot;
  }
}

function startOf(slice: Slice): number {
  return slice.tokens[0]?.startOffset ?? slice.mistake!.offset;
}

function standsAlone(text: string, slice: Slice, spot: Spot): boolean {
  const last = slice.tokens.at(-1);
  const end = last ? last.startOffset + last.image.length : slice.mistake!.end;
  if (end > spot.offset || !/[\n\r]/.test(text.slice(end, spot.offset))) return false;
  let depth = 0;
  for (const { image } of slice.tokens) depth += image === '{' ? 1 : image === '}' ? -1 : 0;
  return depth <= 0;
}

/** One pass over the tokens of a text. */
class StatementCut {
  readonly #text: string;
  readonly #types: WiringTokens;
  readonly #slices: Slice[] = [];
  #slice: Slice | undefined;
  #depth = 0;
  /** The statement's braces have been closed. */
  #closed = false;
  #previous: Token | undefined;

  constructor(text: string, types: WiringTokens) {
    this.#text = text;
    this.#types = types;
  }

  cut(tokens: readonly Token[]): Slice[] {
    for (const [index, token] of tokens.entries()) this.#take(token, tokens[index + 1]);
    return this.#slices;
  }

  #take(token: Token, next: Token | undefined): void {
    const previous = this.#previous;
    const firstOnLine = previous === undefined || token.startLine! > previous.endLine!;
    const word = this.#settleWord(token, firstOnLine ? undefined : previous);
    if (firstOnLine && this.#startsSlice(token, word, next)) {
      this.#slice = { tokens: [], word: word !== undefined && statementWords.has(word) ? word : undefined };
      this.#slices.push(this.#slice);
      this.#depth = 0;
      this.#closed = false;
    } else if (firstOnLine && this.#depth > 0 && endsFact(previous!, token)) {
      this.#slice!.tokens.push(lineEndAfter(previous!, this.#types.lineEnd));
    }
    const slice = this.#slice!;
    // In `never together a, b, together at most 2` the last comma ends the fact, and `together` is none of its contacts.
    const endsNever = word === 'together' && previous?.image === ',' && next?.image.toLowerCase() === 'at';
    if (endsNever && slice.tokens.at(-1) === previous)
      slice.tokens.splice(-1, 1, lineEndAfter(previous, this.#types.lineEnd));
    slice.tokens.push(token);
    const isOdd = word !== undefined && SURROGATE.test(token.image) && !NAME.test(token.image);
    if ((isOdd || MISTAKES.has(token.tokenType.name)) && !slice.mistake) {
      slice.mistake = {
        kind: isOdd ? 'ODD_NAME' : (token.tokenType.name as MistakeKind),
        offset: token.startOffset,
        end: token.startOffset + token.image.length,
        text: token.image,
      };
    }
    if (token.image === '{') this.#depth++;
    else if (token.image === '}') {
      this.#depth = Math.max(0, this.#depth - 1);
      if (this.#depth === 0) this.#closed = true;
    }
    this.#previous = token;
  }

  /** Tells statement words, fact words and units from other words; answers with the word in lower case if it is a word at all. */
  #settleWord(token: Token, before: Token | undefined): string | undefined {
    const { name } = token.tokenType;
    if (name === 'ODD_NAME') return token.image;
    if (name !== 'ID') return undefined;
    const lower = token.image.toLowerCase();
    if (before && NUMBERS.has(before.tokenType.name) && unitOf(token.image)) setType(token, this.#types.unit);
    else {
      const keyword = this.#types.keywords.get(lower);
      if (keyword) setType(token, keyword);
    }
    return lower;
  }

  /** Whether the first token of a line starts a statement, or a broken one that must not become part of the one before. */
  #startsSlice(token: Token, word: string | undefined, next: Token | undefined): boolean {
    const slice = this.#slice;
    if (!slice) return true;
    const isStatementWord = word !== undefined && statementWords.has(word);
    const indent = this.#indentOf(token);
    if (indent === 0 && isStatementWord) return true;
    if (this.#depth > 0) return false;
    const last = slice.tokens.at(-1)!;
    // A single space is what a deleted word leaves behind.
    if (indent > 1) return isStatementWord && !GOES_ON.has(last.image.toLowerCase());
    if (last.image === ',') return false;
    const spansLines = last.endLine! > slice.tokens[0]!.startLine!;
    if (token.image === '}') return !spansLines || (this.#closed && last.image === '}');
    const isAlone = next === undefined || next.startLine! > token.startLine!;
    return !(token.image === '{' && isAlone && !this.#closed);
  }

  /** White space before the first token of a line: 0, 1 or more. */
  #indentOf(token: Token): number {
    const text = this.#text;
    const lineStart = token.startOffset - token.startColumn! + 1;
    const first = text[lineStart] === '\uFEFF' ? lineStart + 1 : lineStart;
    if (first === token.startOffset || !SPACE.test(text[first]!)) return 0;
    return text[first] === ' ' && !SPACE.test(text[first + 1]!) ? 1 : 2;
  }
}

/** Inside braces, whether a new line starts after `previous`: it goes on after a comma, and a brace may stand on its own line. */
function endsFact(previous: Token, next: Token): boolean {
  if (previous.image === ',' || previous.image === '{') return false;
  return next.image !== '}' && next.image !== '{' && next.image !== ',';
}

function setType(token: Token, type: TokenType): void {
  token.tokenType = type;
  token.tokenTypeIdx = type.tokenTypeIdx!;
}

/** A token without a place in the text, so that no node is made of it. */
function lineEndAfter(previous: Token, type: TokenType): Token {
  return {
    image: '',
    startOffset: Number.NaN,
    startLine: previous.endLine,
    endLine: previous.endLine,
    tokenType: type,
    tokenTypeIdx: type.tokenTypeIdx!,
  } as Token;
}
