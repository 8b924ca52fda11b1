/** The token types: those of the grammar's terminals, its words, and mistakes that are worth a sentence of their own. */

import { AstUtils, DefaultTokenBuilder, type Grammar, GrammarAST, GrammarUtils, type LexerResult } from 'langium';

export type Token = LexerResult['tokens'][number];
export type TokenType = Token['tokenType'];

/** Whether a token is a word, whatever it is used for. */
export function isWordy(token: Token): boolean {
  return /^[\p{L}_]/u.test(token.image);
}

/** Words that start a statement at the beginning of a line. */
export const STATEMENT_WORDS: readonly string[] = [
  'wiring',
  'profile',
  'import',
  'place',
  'supply',
  'device',
  'splice',
  'run',
  'jumper',
  'pigtail',
  'accept',
  'cable',
  'box',
  'ground',
  'earth',
  'readings',
  'changes',
  'replace',
  'remove',
  'relocate',
  'move',
  'land',
  'lift',
];

/** Mistakes that the lexer recognises; each stands in for the token that was meant, so that its statement can still be read. */
export type MistakeKind =
  | 'DECIMAL_COMMA'
  | 'GLUED_FEET_INCHES'
  | 'CURLY_STRING'
  | 'UNCLOSED_STRING'
  | 'UNCLOSED_COMMENT'
  | 'HASH_COMMENT'
  | 'MERGE_MARK'
  | 'ODD_NAME';

const LETTERS =
  'A-Za-z\\u00AA\\u00B5\\u00BA\\u00C0-\\u00D6\\u00D8-\\u00F6\\u00F8-\\u02C1\\u0300-\\u1FFF\\u2071-\\u209C\\u2100-\\u2188\\u2C00-\\u2DFF\\u3005-\\u3007\\u3021-\\uD7FF\\uD800-\\uDFFF\\uF900-\\uFDFF\\uFE70-\\uFEFC\\uFF21-\\uFF3A\\uFF41-\\uFFDC';

/** Up to a line that starts a statement: an unclosed comment must not swallow its neighbours. */
const UNCLOSED_COMMENT = new RegExp(
  `/\\*[^\\n\\r]*(?:(?:\\r\\n|\\n|\\r)(?!(?:${STATEMENT_WORDS.join('|')})[ \\t"])[^\\n\\r]*)*`,
  'i',
);

/** What git writes around two versions of a text that it could not merge. */
const MERGE_MARK = /(?:<{7}|\|{7}|={7}|>{7})[^\n\r]*/;

const mistakes: readonly (readonly [MistakeKind, RegExp, standsFor: string, before: string])[] = [
  ['CURLY_STRING', /[\u201C-\u201F\u00AB][^"\u201C-\u201F\u00BB\n\r]*["\u201C-\u201F\u00BB]?/, 'STRING', 'DATE'],
  ['UNCLOSED_STRING', /"[^"\n\r]*/, 'STRING', 'DATE'],
  ['DECIMAL_COMMA', /\d+(,\d+)+(\.\d+)?/, 'NUMBER', 'DATE'],
  ['GLUED_FEET_INCHES', /\d+(\.\d+)?[ \t]*ft\d+(\.\d+)?[ \t]*in(?![A-Za-z0-9-])/i, 'FEET_INCHES', 'FEET_INCHES'],
  ['ODD_NAME', new RegExp(`[${LETTERS}_][-0-9${LETTERS}]*_[-_0-9${LETTERS}]*|_[-0-9${LETTERS}]+`), 'ID', 'ID'],
];

const MADE_BY_THE_TOKEN_PASS = new Set(['LINE_END', 'WORD', 'UNIT']);

/** Matches nothing: for tokens that the token pass makes out of others. */
function neverMatched(name: string, categories: TokenType[]): TokenType {
  return { name, PATTERN: () => null, START_CHARS_HINT: [], LINE_BREAKS: false, CATEGORIES: categories };
}

export interface WiringTokens {
  readonly all: readonly TokenType[];
  readonly word: TokenType;
  readonly unit: TokenType;
  readonly lineEnd: TokenType;
  /** Statement and fact words in lower case. */
  readonly keywords: ReadonlyMap<string, TokenType>;
}

/** Lays out the token types: what is hidden first, then the longer patterns before the shorter. */
export class WiringTokenBuilder extends DefaultTokenBuilder {
  #built: WiringTokens | undefined;

  override buildTokens(grammar: Grammar): TokenType[] {
    return [...this.tokensOf(grammar).all];
  }

  tokensOf(grammar: Grammar): WiringTokens {
    this.#built ??= this.#layOut(grammar);
    return this.#built;
  }

  #layOut(grammar: Grammar): WiringTokens {
    const rules = GrammarUtils.getAllReachableRules(grammar, false);
    const word = neverMatched('WORD', []);
    const unit = neverMatched('UNIT', [word]);
    const lineEnd = neverMatched('LINE_END', []);
    const hidden: TokenType[] = [];
    const patterns: TokenType[] = [];
    const keywords = new Map<string, TokenType>();
    const marks = new Map<string, TokenType>();
    for (const rule of rules) {
      if (!GrammarAST.isTerminalRule(rule)) {
        gatherWords(rule, keywords, marks, word);
      } else if (!MADE_BY_THE_TOKEN_PASS.has(rule.name)) {
        const type = this.buildTerminalToken(rule);
        if (rule.name === 'ID') type.CATEGORIES = [word];
        (rule.hidden ? hidden : patterns).push(type);
      }
    }
    hidden.push({ name: 'UNCLOSED_COMMENT', PATTERN: UNCLOSED_COMMENT, GROUP: 'hidden', LINE_BREAKS: true });
    hidden.push({ name: 'HASH_COMMENT', PATTERN: /#[^\n\r]*/, GROUP: 'hidden', LINE_BREAKS: false });
    hidden.push({ name: 'MERGE_MARK', PATTERN: MERGE_MARK, GROUP: 'hidden', LINE_BREAKS: false });
    for (const [name, pattern, standsFor, before] of mistakes) {
      const meant = patterns.find((type) => type.name === standsFor)!;
      const at = patterns.findIndex((type) => type.name === before);
      patterns.splice(at, 0, { name, PATTERN: pattern, CATEGORIES: [meant] });
    }
    patterns.push({ name: 'DEGREES', PATTERN: /\u00B0[ \t]?[CcFf]/, CATEGORIES: [unit] });
    const longestFirst = [...marks.values()].sort((a, b) => b.name.length - a.name.length);
    const all = [...hidden, ...patterns, ...longestFirst, ...keywords.values(), unit, word, lineEnd];
    return { all, word, unit, lineEnd, keywords };
  }
}

function gatherWords(
  rule: GrammarAST.AbstractRule,
  keywords: Map<string, TokenType>,
  marks: Map<string, TokenType>,
  word: TokenType,
): void {
  for (const node of AstUtils.streamAllContents(rule)) {
    if (!GrammarAST.isKeyword(node)) continue;
    const { value } = node;
    if (!/^[a-z]/i.test(value)) {
      if (!marks.has(value)) marks.set(value, { name: value, PATTERN: value });
    } else if (!keywords.has(value.toLowerCase())) {
      keywords.set(value.toLowerCase(), neverMatched(value, [word]));
    }
  }
}
