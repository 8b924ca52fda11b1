/** Reads each statement by itself. A fact that can't be read is taken out and the rest of its statement kept. */

import {
  AstUtils,
  type AstNode,
  type CstNodeBuilder,
  createParser,
  GrammarAST,
  type LangiumCoreServices,
  LangiumParser,
  type LexerResult,
  type ParseResult,
} from 'langium';
import { type Statement, WiringFile } from '../generated/ast.js';
import type { StatementMemory } from '../lower/remembered.js';
import type { Slice, WiringLexerResult } from './lexer.js';
import { mistakeProblem, parserProblem, type SyntaxProblem, strayProblem } from './syntax-problems.js';
import type { Token } from './tokens.js';

/** What a file's tree holds beside its statements. */
export interface WiringParseResult extends ParseResult<WiringFile> {
  readonly problems: readonly SyntaxProblem[];
  readonly slices: readonly ReadSlice[];
}

/** One statement as cut from the text and as far as it could be read. */
export interface ReadSlice {
  readonly tokens: readonly Token[];
  /** From its first token to the end of its last. */
  readonly offset: number;
  readonly end: number;
  readonly statement: Statement | undefined;
  readonly problem: SyntaxProblem | undefined;
  /** The same in later texts of the file that have the statement as it is: what was made of it is kept here. */
  readonly memory: StatementMemory;
}

/** What the framework's parser keeps to itself and reading by statements has to drive. */
interface Inside {
  readonly nodeBuilder: CstNodeBuilder;
  lexerResult: Pick<LexerResult, 'hidden'> | undefined;
  readonly stack: AstNode[];
  construct(): AstNode;
  linkCstNode(node: AstNode): void;
}

const MOST_FACTS_TAKEN_OUT = 8;
/** Braces never stand deeper in a statement. */
const MOST_BRACES = 2;

const ruleOfWord: Readonly<Record<string, string>> = {
  wiring: 'Title',
  profile: 'Profile',
  import: 'Import',
  place: 'Place',
  supply: 'Supply',
  device: 'Device',
  splice: 'Splice',
  run: 'Run',
  jumper: 'Jumper',
  pigtail: 'Jumper',
  accept: 'Accept',
  cable: 'CableType',
  box: 'Box',
  ground: 'Ground',
  earth: 'Ground',
  readings: 'Readings',
  changes: 'Changes',
  replace: 'Replace',
  remove: 'Remove',
  relocate: 'Relocate',
  move: 'Move',
  land: 'Land',
  lift: 'Lift',
};

class WiringParser extends LangiumParser {
  readonly #statementCall: GrammarAST.RuleCall;

  constructor(services: LangiumCoreServices) {
    super(services);
    const entry = services.Grammar.rules.find((rule) => GrammarAST.isParserRule(rule) && rule.entry);
    this.#statementCall = AstUtils.streamAllContents(entry!).find(GrammarAST.isRuleCall)!;
  }

  override parse<T extends AstNode = AstNode>(input: string): ParseResult<T> {
    const inside = this as unknown as Inside;
    const root = inside.nodeBuilder.buildRootNode(input);
    const lexed = this.lexer.tokenize(input) as WiringLexerResult;
    const statements: Statement[] = [];
    const slices: ReadSlice[] = [];
    const problems: SyntaxProblem[] = [];
    const comments = new Comments(lexed.hidden);
    for (const slice of lexed.slices) {
      const read = { ...stretchOfTokens(slice), ...this.#readSlice(slice, comments), memory: {} };
      slices.push(read);
      if (read.statement) statements.push(read.statement);
      if (read.problem) problems.push(read.problem);
    }
    inside.nodeBuilder.addHiddenNodes(comments.upTo(Number.POSITIVE_INFINITY));
    inside.lexerResult = undefined;
    const value: WiringFile = { $type: WiringFile.$type, $cstNode: root, statements } as WiringFile;
    inside.linkCstNode(value);
    AstUtils.linkContentToContainer(value, { deep: true });
    const result: WiringParseResult = { value, lexerErrors: [], parserErrors: [], problems, slices };
    return result as unknown as ParseResult<T>;
  }

  #readSlice(slice: Slice, comments: Comments): Omit<ReadSlice, 'offset' | 'end' | 'memory'> {
    const { tokens, word } = slice;
    if (word === undefined) {
      const problem = slice.mistake ? mistakeProblem(slice, slice.mistake) : strayProblem(tokens);
      return { tokens, statement: undefined, problem };
    }
    const rule = ruleFor(word, tokens);
    let problem = slice.mistake && mistakeProblem(slice, slice.mistake);
    let left = tokens;
    for (let tries = 0; ; tries++) {
      const statement = this.#readStatement(rule, left, comments);
      const error = this.wrapper.errors[0];
      if (!error) return { tokens, statement, problem };
      problem ??= parserProblem(error, word, tokens);
      // Whatever stands behind a whole statement takes nothing from it.
      if (error.name === 'NotAllInputParsedException') return { tokens, statement, problem };
      const mended = left.includes(error.token) ? withoutFactAt(left, error.token) : closed(left);
      if (!mended || tries === MOST_FACTS_TAKEN_OUT) {
        const head = left.findIndex(({ image }) => image === '{');
        if (head < 0) return { tokens, statement, problem };
        this.#drop(statement);
        return { tokens, statement: this.#readStatement(rule, left.slice(0, head), comments), problem };
      }
      this.#drop(statement);
      left = mended;
    }
  }

  #drop(statement: Statement | undefined): void {
    if (statement?.$cstNode) (this as unknown as Inside).nodeBuilder.removeNode(statement.$cstNode);
  }

  /** One statement's tree, or as much of it as was read before the first token that does not fit. */
  #readStatement(rule: string, tokens: Token[], comments: Comments): Statement | undefined {
    const inside = this as unknown as Inside;
    const last = tokens.at(-1)!;
    const hidden = comments.upTo(last.startOffset);
    inside.lexerResult = { hidden };
    const node = inside.nodeBuilder.buildCompositeNode(this.#statementCall);
    this.wrapper.input = tokens;
    let result = this.wrapper.rule(this.allRules.get(rule)!) as AstNode | undefined;
    while (inside.stack.length > 0) result = inside.construct();
    if (hidden.length > 0) inside.nodeBuilder.addHiddenNodes(hidden.splice(0));
    if (!result || node.length === 0) return undefined;
    inside.linkCstNode(result);
    return result as Statement;
  }
}

function stretchOfTokens({ tokens, mistake }: Slice): { readonly offset: number; readonly end: number } {
  const first = tokens[0];
  const last = tokens.at(-1);
  if (!first || !last) return { offset: mistake?.offset ?? 0, end: mistake?.end ?? 0 };
  return { offset: first.startOffset, end: last.startOffset + last.image.length };
}

/** Comments in order, handed out with the statement they stand before or in. */
class Comments {
  readonly #tokens: readonly Token[];
  #at = 0;

  constructor(tokens: readonly Token[]) {
    this.#tokens = tokens;
  }

  upTo(offset: number): Token[] {
    const from = this.#at;
    while (this.#at < this.#tokens.length && this.#tokens[this.#at]!.startOffset < offset) this.#at++;
    return this.#tokens.slice(from, this.#at);
  }
}

function ruleFor(word: string, tokens: readonly Token[]): string {
  const second = tokens[1]?.image.toLowerCase();
  const namesAType = second === 'type' && tokens[2]?.image !== ':';
  return (word === 'supply' || word === 'device') && namesAType ? 'PartType' : ruleOfWord[word]!;
}

/** The tokens without the fact that the token stands in; undefined where it stands in no fact. */
function withoutFactAt(tokens: Token[], token: Token): Token[] | undefined {
  const at = tokens.indexOf(token);
  if (at < 0) return undefined;
  const isEnd = (image: string, index: number) => image === '' || image === '{' || image === '}' || index === 0;
  let from = at;
  // A line's end is part of the fact that it should have ended.
  if (tokens[from]!.image === '' || tokens[from]!.image === '}') from--;
  while (from > 0 && !isEnd(tokens[from]!.image, from)) from--;
  let depth = 0;
  for (let index = 0; index <= from; index++) depth += braceStep(tokens[index]!.image);
  if (depth <= 0 || from === 0) return undefined;
  let to = from + 1;
  let inner = 0;
  while (to < tokens.length) {
    const { image } = tokens[to]!;
    if (inner === 0 && (image === '' || image === '}')) break;
    inner += braceStep(image);
    to++;
  }
  if (to - from < 2) return undefined;
  const opens = tokens[from]!.image === '{';
  const keepsEnd = opens && tokens[to]?.image === '' ? to + 1 : to;
  return [...tokens.slice(0, opens ? from + 1 : from), ...tokens.slice(keepsEnd)];
}

/** The tokens with the braces closed that are still open; undefined where none is. */
function closed(tokens: Token[]): Token[] | undefined {
  let depth = 0;
  for (const { image } of tokens) depth += braceStep(image);
  const brace = tokens.find(({ image }) => image === '}') ?? tokens.find(({ image }) => image === '{');
  if (depth <= 0 || depth > MOST_BRACES || !brace) return undefined;
  const made: Token = { ...brace, image: '}', startOffset: Number.NaN, endOffset: Number.NaN };
  return [...tokens, ...Array.from({ length: depth }, () => ({ ...made }))];
}

function braceStep(image: string): number {
  return image === '{' ? 1 : image === '}' ? -1 : 0;
}

/** For the service container: a parser with the grammar's rules built in. */
export function createWiringParser(services: LangiumCoreServices): WiringParser {
  const parser = new WiringParser(services);
  createParser(services.Grammar, parser, services.parser.Lexer.definition);
  parser.finalize();
  return parser;
}
