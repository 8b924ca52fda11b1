/** What a statement stumbled over, as the facts of the finding `syntax`: what belongs there and, where it can be told, the mend. */

import type { readerChecks } from '@ohmstead/record';
import type { ParseResult } from 'langium';
import type { Slice, Spot } from './lexer.js';
import { brokenName, meantFact, meantStatements, mendOfExpected, mendOfMark, mendOfWord } from './mends.js';
import { factWordsOf, statementNoun } from './syntax-words.js';
import { isWordy, type Token } from './tokens.js';
import { unitOf } from './units.js';

type ParserError = ParseResult<never>['parserErrors'][number];
export type SyntaxFacts = Parameters<(typeof readerChecks)['syntax']['sentence']>[0];

export interface SyntaxProblem {
  readonly facts: SyntaxFacts;
  /** Offsets into the text. */
  readonly offset: number;
  readonly end: number;
  /** What to write in place of that stretch of text, where the mend is plain. */
  readonly write?: string;
  /** Text that may have been meant as part of the record: behind a quote or in a comment that is not closed. */
  readonly hides?: string;
}

/** A mistake that the lexer recognised. */
export function mistakeProblem(slice: Slice, spot: Spot): SyntaxProblem {
  const { kind, offset, end } = spot;
  const written = slice.tokens.find((token) => token.startOffset === offset)?.image ?? '';
  switch (kind) {
    case 'DECIMAL_COMMA': {
      const write = withoutComma(written);
      const mend = written.split(',').length === 2 && !write.includes(' or ') ? { write } : {};
      return { facts: { what: 'decimal-comma', written, write }, offset, end, ...mend };
    }
    case 'GLUED_FEET_INCHES': {
      const [, feet, inches] = /^([\d.]+)\s*ft([\d.]+)/i.exec(written)!;
      const write = `${feet} ft ${inches} in`;
      return { facts: { what: 'feet-and-inches', written, write }, offset, end, write };
    }
    case 'CURLY_STRING': {
      const write = `"${written.slice(1).replace(/["\u201C-\u201F\u00BB]$/, '')}"`;
      return { facts: { what: 'curly-quotes' }, offset, end, write };
    }
    case 'UNCLOSED_STRING':
      return { facts: { what: 'unclosed-string' }, offset, end, hides: spot.text };
    case 'UNCLOSED_COMMENT':
      return { facts: { what: 'unclosed-comment' }, offset, end, hides: spot.text };
    case 'ODD_NAME': {
      const expected = 'A name of letters, digits and hyphens';
      const write = written.replace(/[^\p{L}\p{M}\p{N}]+/gu, '-').replace(/^[-\d]+|-+$/g, '');
      return { facts: { what: 'expected', expected, found: written }, offset, end, ...(write === '' ? {} : { write }) };
    }
    case 'HASH_COMMENT':
      return { facts: { what: 'hash-comment' }, offset, end, write: '//' };
    case 'MERGE_MARK':
      return { facts: { what: 'merge-mark', found: spot.text.slice(0, 7) }, offset, end };
    case 'STRAY':
      return strayMark(slice, spot);
  }
}

function strayMark({ tokens, word }: Slice, { text: found, offset, end }: Spot): SyntaxProblem {
  const placed = tokens.filter(({ image }) => image !== '');
  const after = placed.find(({ startOffset }) => startOffset >= end);
  const before = placed.findLast(({ startOffset }) => startOffset < offset);
  const depth = depthAt(placed, after ? placed.indexOf(after) : placed.length);
  const known = mendOfMark({ found, offset, word: word ?? '', before, after, inBraces: depth > 0 });
  const { mend, write } = known ?? {};
  const facts = { what: 'stray', found, ...(mend === undefined ? {} : { mend }) } as const;
  return { facts, offset, end, ...(write === undefined ? {} : { write }) };
}

/** `0,75` is 0.75; `1,000` may be a thousand or one. */
function withoutComma(written: string): string {
  const parts = written.split(',');
  if (parts.length > 2) return parts.join(', ');
  return /^[1-9]\d{0,2},\d{3}$/.test(written) ? `${parts.join('')} or ${parts.join('.')}` : parts.join('.');
}

/** A line that no statement word starts. */
export function strayProblem(tokens: readonly Token[]): SyntaxProblem {
  const token = tokens[0]!;
  const { startOffset: offset, image: found } = token;
  const end = offset + found.length;
  if (!isWordy(token)) return { facts: { what: 'stray', found }, offset, end };
  const nearest = meantStatements(found);
  const write = nearest.length === 1 ? { write: nearest[0]! } : {};
  return { facts: { what: 'not-a-statement', found, nearest }, offset, end, ...write };
}

/** The parser's first error in a statement. */
export function parserProblem(error: ParserError, word: string, tokens: readonly Token[]): SyntaxProblem {
  const at = tokens.indexOf(error.token);
  const closes = error.token.image === '}' && depthAt(tokens, at) > 0 && error.name !== 'NotAllInputParsedException';
  const lineEnds = at < 0 || error.token.image === '' || closes;
  const before = lastWithPlace(tokens, at < 0 ? tokens.length : at)!;
  const place = lineEnds ? before : error.token;
  const where = { offset: place.startOffset, end: place.startOffset + place.image.length };
  const noun = statementNoun(word, tokens);
  const rules = error.context.ruleStack.map((rule) => rule.replace('\u200B', ''));
  const inBraces = depthAt(tokens, at) > 0;
  const { image: found, startOffset } = place;
  const after = at < 0 ? undefined : tokens.slice(at + 1).find(({ image }) => image !== '');
  const around = { found, offset: startOffset, word, before: tokens[at - 1] ?? before, after, inBraces };
  if (at < 0 && inBraces && isComplete(before)) return { facts: { what: 'unclosed-block', of: noun }, ...where };
  const notAColour = word === 'run' && inBraces && !lineEnds ? conductorStart(tokens, at, before, rules) : undefined;
  if (notAColour) return notAColour;
  const split = error.message === ':' ? brokenName(tokens, at) : undefined;
  if (split) return splitName(split);
  const unknown = inBraces && !lineEnds ? unknownFact(error.token, rules, word, tokens) : undefined;
  if (unknown) return { facts: { ...unknown, of: noun }, ...where, ...singleMend(unknown.nearest) };
  const swallowed = swallowedWord(tokens, before, word);
  if (swallowed) return swallowed;
  if (error.name === 'NotAllInputParsedException' || (inBraces && !lineEnds && expectsEnd(error))) {
    if (!lineEnds && !inBraces && isFirstOnLine(error.token, before) && isWordy(error.token))
      if (missingBefore(error.token, before, word, tokens, inBraces) === undefined) return strayProblem([error.token]);
    const comma = lineEnds || !inBraces ? undefined : commaBetween(tokens, at, before);
    if (comma) return { facts: comma, ...where };
    const missing = lineEnds ? undefined : missingBefore(error.token, before, word, tokens, inBraces);
    if (missing) {
      const end = mendFacts(mendOfExpected(around, missing));
      return {
        facts: { what: 'expected', expected: missing, found, after: wholeEnd(tokens, before), ...end },
        ...where,
      };
    }
    const known = isWordy(place) || /^\d/.test(found) ? mendOfWord(around) : mendOfMark(around);
    return { facts: { what: 'stray', found, ...mendFacts(known) }, ...where, ...writeOf(known) };
  }
  const expected = expectedWords(rules, before, word, error);
  const says = lineEnds ? {} : { found };
  const known = mendOfExpected(around, error.message);
  return {
    facts: { what: 'expected', expected, ...says, after: wholeEnd(tokens, before), ...mendFacts(known) },
    ...where,
    ...writeOf(known),
  };
}

/** A conductor's line that starts with no colour: with an end, or with a fact of something else. */
function conductorStart(
  tokens: readonly Token[],
  at: number,
  before: Token,
  rules: readonly string[],
): SyntaxProblem | undefined {
  const lineStart = tokens[at - 2]?.image ?? '';
  if (!isWordy(before) || !['', '{', ','].includes(lineStart)) return undefined;
  const { image: found, startOffset: offset } = before;
  const where = { offset, end: offset + found.length };
  if (tokens[at]!.image === '.')
    return { facts: { what: 'expected', expected: 'The colour of a conductor', found }, ...where };
  if (!/^\d/.test(tokens[at]!.image)) return undefined;
  const of = statementNoun('run', tokens);
  const meant = meantFact(before, rules, 'run', of);
  return { facts: { what: 'unknown-fact', found, of, ...meant }, ...where, ...singleMend(meant.nearest) };
}

type Known = ReturnType<typeof mendOfWord>;

function mendFacts(known: Known): { mend?: string } {
  return known ? { mend: known.mend } : {};
}

function writeOf(known: Known): { write?: string } {
  return known?.write === undefined ? {} : { write: known.write };
}

function splitName({ name, from, to }: NonNullable<ReturnType<typeof brokenName>>): SyntaxProblem {
  const offset = from.startOffset;
  const end = to.startOffset + to.image.length;
  const written = name.replaceAll('-', ' ');
  return { facts: { what: 'split-name', written, write: name }, offset, end, write: name, hides: name };
}

function isFirstOnLine(token: Token, before: Token): boolean {
  return token.startLine! > before.endLine!;
}

/** `16 V AC 10 VA`: both figures, where a comma is what is missing. */
function commaBetween(tokens: readonly Token[], at: number, before: Token) {
  const isPart = ({ image }: Token) => /^\d/.test(image) || /^(ac|dc)$/i.test(image) || unitOf(image) !== undefined;
  if (!/^\d/.test(tokens[at]!.image) || !isPart(before) || /^\d/.test(before.image)) return undefined;
  let from = at;
  while (from > 0 && isPart(tokens[from - 1]!)) from--;
  let to = at + 1;
  while (to < tokens.length && isPart(tokens[to]!) && !/^\d/.test(tokens[to]!.image)) to++;
  const words = (part: readonly Token[]) => part.map(({ image }) => image).join(' ');
  return { what: 'no-comma', first: words(tokens.slice(from, at)), second: words(tokens.slice(at, to)) } as const;
}

function singleMend(nearest: readonly string[]): { write?: string } {
  return nearest.length === 1 ? { write: nearest[0]! } : {};
}

function lastWithPlace(tokens: readonly Token[], before: number): Token | undefined {
  for (let index = before - 1; index >= 0; index--) if (tokens[index]!.image !== '') return tokens[index];
  return tokens[0];
}

function depthAt(tokens: readonly Token[], at: number): number {
  let depth = 0;
  const end = at < 0 ? tokens.length : at;
  for (let index = 0; index < end; index++)
    depth += tokens[index]!.image === '{' ? 1 : tokens[index]!.image === '}' ? -1 : 0;
  return depth;
}

/** `hall-chime.front` where the token is its terminal, else the token alone. */
function wholeEnd(tokens: readonly Token[], token: Token): string {
  const at = tokens.indexOf(token);
  const [part, dot] = [tokens[at - 2], tokens[at - 1]];
  return dot?.image === '.' && part !== undefined ? `${part.image}.${token.image}` : token.image;
}

const joints: Readonly<Record<string, string>> = {
  '.': 'The name of a terminal',
  in: 'The name of a place',
  from: 'The name of a place',
};

/** `device x : in hall`: the word after the colon was taken for the name that is missing. */
function swallowedWord(tokens: readonly Token[], before: Token, word: string): SyntaxProblem | undefined {
  if (!['in', 'from', 'to', 'on'].includes(before.image.toLowerCase())) return undefined;
  const joint = tokens[tokens.indexOf(before) - 1]?.image.toLowerCase() ?? '';
  const type = word === 'run' ? CABLE : `A ${word} type`;
  const expected = joint === ':' ? type : joints[joint];
  if (expected === undefined) return undefined;
  const where = { offset: before.startOffset, end: before.startOffset + before.image.length };
  return { facts: { what: 'expected', expected, found: before.image, after: joint }, ...where };
}

const CABLE = 'A cable such as `18/2`, or the name of a cable type,';

/** What was left out before a token that has no business where it stands. */
function missingBefore(
  token: Token,
  before: Token,
  word: string,
  tokens: readonly Token[],
  inBraces: boolean,
): string | undefined {
  if (/^\d/.test(token.image) && !/^[{},:]?$/.test(before.image)) {
    const isType = tokens[1]?.image.toLowerCase() === 'type' && isWordy(before);
    return inBraces ? (isType ? '`{`' : 'A comma') : undefined;
  }
  if (!isWordy(token)) return undefined;
  if (!inBraces) {
    const opensFacts = token.startLine! > before.endLine! && !tokens.some(({ image }) => image === '{');
    const isFact = factWordsOf(word, []).includes(token.image.toLowerCase()) || word === 'run';
    return opensFacts && isFact ? '`{`' : undefined;
  }
  if (word !== 'run') return undefined;
  let start = tokens.indexOf(token);
  while (start > 0 && !['', '{', ','].includes(tokens[start - 1]!.image)) start--;
  const line = tokens.slice(start, tokens.indexOf(token)).map(({ image }) => image.toLowerCase());
  return line.length > 1 && !line.includes('to') ? '`to`' : undefined;
}

/** Whether a brace was open and nothing else was under way. */
function isComplete(before: Token): boolean {
  return !['to', 'from', 'on', 'at', 'in', ':', ',', '.', '..'].includes(before.image.toLowerCase());
}

function expectsEnd(error: ParserError): boolean {
  return /^(\}|LINE_END)$/.test(error.message) && error.name === 'MismatchedTokenException';
}

/** The first word of a fact that is none of the facts that belong there. */
function unknownFact(
  token: Token,
  rules: readonly string[],
  word: string,
  tokens: readonly Token[],
):
  | {
      readonly what: 'unknown-fact';
      readonly found: string;
      readonly nearest: readonly string[];
      readonly mend?: string;
    }
  | undefined {
  const at = tokens.indexOf(token);
  const before = tokens[at - 1]!.image;
  if (before !== '' && before !== '{' && before !== ',') return undefined;
  if (!isWordy(token)) return undefined;
  const meant = meantFact(token, rules, word, statementNoun(word, tokens));
  const isLost = word === 'readings' && meant.nearest.length === 0 && meant.mend === undefined;
  return { what: 'unknown-fact', found: token.image, ...meant, ...(isLost ? { mend: READING } : {}) };
}

const READING = 'a line starts with `idle`, `pressed` or `bridged` and a push, `off`, or `mains`';

/** What belongs where the parser stopped, in a few words. */
function expectedWords(rules: readonly string[], before: Token, word: string, error: ParserError): string {
  const inner = rules.at(-1)!;
  const outer = rules.at(-2) ?? '';
  const previous = before.image.toLowerCase();
  const missing = error.message;
  const isNamed = isWordy(error.token) && !['in', 'from', 'to'].includes(error.token.image.toLowerCase());
  if (inner === 'RunExtent' || (inner === 'Run' && previous === ','))
    return 'A length such as `9 m`, or `from PLACE to PLACE`,';
  if (inner === 'Quantity' || inner === 'RunLength') return 'A figure with its unit, such as `16 V` or `9 m`,';
  if (missing === 'STRING') return 'Text in straight quotes';
  if (missing === 'DATE') return 'A date such as `2026-11-20`';
  if (missing === 'NUMBER') return 'A number';
  if (outer === 'End' || inner === 'End' || inner === 'Landing' || inner === 'Conductor') {
    return 'A place to land, `part.terminal` or a splice,';
  }
  if (inner === 'Cable' || outer === 'Cable') return CABLE;
  if (inner === 'TerminalName') return 'The name of a terminal';
  if (inner === 'Name' && previous === ':') return `A ${word} type`;
  if (inner === 'Name' && (previous === 'in' || outer === 'RunPlaces')) return 'The name of a place';
  if (inner === 'Name') return 'A name';
  if (missing === ':' && !['run', 'device', 'supply'].includes(word)) return '`:`';
  if (missing === ':' && (!isNamed || error.token.image === '{' || error.token.image === ''))
    return `\`:\` with ${word === 'run' ? 'a cable such as `18/2`' : `a ${word} type`}`;
  if (missing === ',' && word === 'readings' && !isWordy(error.token)) return 'A comma with a second point';
  if (missing !== '') return `\`${missing}\``;
  return word === 'readings' ? 'A pair of points, or a part with what was seen of it,' : 'Something else';
}
