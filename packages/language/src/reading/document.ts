/** One file's text as read: its tree, what could not be read and where its lines are. */

import { type AstNode, AstUtils } from 'langium';
import { type Statement, WiringFile } from '../generated/ast.js';
import { chunksOf, sharedChunks } from './chunks.js';
import { lineStartsIn, PlacedLines } from './lines.js';
import { createWiringServices, type WiringServices } from './module.js';
import type { ReadSlice, WiringParseResult } from './parser.js';
import type { SyntaxProblem } from './syntax-problems.js';
import type { Token } from './tokens.js';

/** Lines and characters from 0, characters in UTF-16 units, the end exclusive. */
export interface TextRange {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

export interface WiringDocument {
  readonly uri: string;
  readonly text: string;
  /** Its nodes are shared with earlier and later texts of the file: where one stands is told by `offsetOf`. */
  readonly file: { readonly statements: readonly Statement[] };
  /** The text's statements in order, with their tokens; also those that could not be read. */
  readonly slices: readonly ReadSlice[];
  readonly problems: readonly SyntaxProblem[];
  /** What to add to a node's own offset. */
  offsetOf(node: AstNode): number;
  rangeAt(offset: number, end: number): TextRange;
  offsetAt(position: TextRange['start']): number;
}

let services: WiringServices | undefined;

/** The container that all documents are read with; built when first asked for. */
function wiringServices(): WiringServices {
  services ??= createWiringServices();
  return services;
}

/** Part of a text from one line that starts a statement to the next, with offsets from its own start. */
interface Chunk {
  readonly text: string;
  readonly file: WiringFile;
  readonly slices: readonly ReadSlice[];
  /** Where its lines start, but for the first. */
  readonly lines: readonly number[];
}

/** Chunks of each file's last text, for as long as somebody holds its document. */
const lastRead = new Map<string, WeakRef<ReadDocument>>();

/**
 * Reads a text; never throws on what it says. Statements that are as in the file's last text, or else in `like`, are not read again.
 */
export function parseWiring(uri: string, text: string, like?: WiringDocument): WiringDocument {
  const known = lastRead.get(uri)?.deref() ?? (like instanceof ReadDocument ? like : undefined);
  const document = new ReadDocument(uri, text, known);
  lastRead.set(uri, new WeakRef(document));
  return document;
}

function readChunk(text: string): Chunk {
  const parsed = wiringServices().wiring.parser.LangiumParser.parse<WiringFile>(text) as WiringParseResult;
  return { text, file: parsed.value, slices: parsed.slices, lines: lineStartsIn(text) };
}

/** A chunk at its place in a text. */
interface PlacedChunk {
  readonly chunk: Chunk;
  readonly base: number;
  readonly slices: readonly ReadSlice[];
}

class ReadDocument implements WiringDocument {
  readonly uri: string;
  readonly text: string;
  readonly file: { readonly statements: readonly Statement[] };
  readonly slices: readonly ReadSlice[];
  readonly problems: readonly SyntaxProblem[];
  readonly #chunks: readonly PlacedChunk[];
  #bases: Map<WiringFile, number> | undefined;
  #lines: PlacedLines | undefined;

  constructor(uri: string, text: string, previous: ReadDocument | undefined) {
    this.uri = uri;
    this.text = text;
    const slices: ReadSlice[] = [];
    const statements: Statement[] = [];
    const problems: SyntaxProblem[] = [];
    this.#chunks = previous ? previous.#edited(text) : placed(chunksOf(text), 0, readChunk);
    for (const { chunk, slices: own } of this.#chunks) {
      for (const slice of own) {
        slices.push(slice);
        if (slice.problem) problems.push(slice.problem);
      }
      for (const statement of chunk.file.statements) statements.push(statement);
    }
    this.file = { statements };
    this.slices = slices;
    this.problems = problems;
  }

  /** The chunks of a later text, of which those that an edit did not touch are these. */
  #edited(text: string): readonly PlacedChunk[] {
    const chunks = this.#chunks;
    const starts = { count: chunks.length, startOf: (index: number) => chunks[index]!.base };
    const { first, last } = sharedChunks(this.text, starts, text);
    const moved = text.length - this.text.length;
    const touched = chunks.slice(first, chunks.length - last);
    const from = touched[0]?.base ?? this.text.length;
    const to = (chunks[chunks.length - last]?.base ?? this.text.length) + moved;
    // A chunk stands at one place only: of two alike, one is read anew.
    const known = new Map<string, Chunk[]>();
    for (const { chunk } of touched) known.set(chunk.text, [...(known.get(chunk.text) ?? []), chunk]);
    const middle = placed(to > from ? chunksOf(text.slice(from, to)) : [], from, (part) => {
      return known.get(part)?.pop() ?? readChunk(part);
    });
    const behind = chunks.slice(chunks.length - last);
    return [
      ...chunks.slice(0, first),
      ...middle,
      ...(moved === 0 ? behind : behind.map(({ chunk, base }) => placedAt(chunk, base + moved))),
    ];
  }

  offsetOf(node: AstNode): number {
    this.#bases ??= new Map(this.#chunks.map(({ chunk, base }) => [chunk.file, base]));
    const file = AstUtils.getContainerOfType(node, isWiringFile);
    return (file && this.#bases.get(file)) ?? 0;
  }

  rangeAt(offset: number, end: number): TextRange {
    return { start: this.#placedLines().positionAt(offset), end: this.#placedLines().positionAt(end) };
  }

  offsetAt(position: TextRange['start']): number {
    return this.#placedLines().offsetAt(position);
  }

  #placedLines(): PlacedLines {
    this.#lines ??= new PlacedLines(
      this.text,
      this.#chunks.map(({ chunk, base }) => ({ base, lines: chunk.lines })),
    );
    return this.#lines;
  }
}

function placed(parts: readonly string[], from: number, read: (part: string) => Chunk): PlacedChunk[] {
  let base = from;
  return parts.map((part) => {
    const at = placedAt(read(part), base);
    base += part.length;
    return at;
  });
}

function placedAt(chunk: Chunk, base: number): PlacedChunk {
  return { chunk, base, slices: base === 0 ? chunk.slices : chunk.slices.map((slice) => new PlacedSlice(slice, base)) };
}

function isWiringFile(node: unknown): node is WiringFile {
  return (node as AstNode).$type === WiringFile.$type;
}

/** A statement at its place in the whole text. */
class PlacedSlice implements ReadSlice {
  readonly offset: number;
  readonly end: number;
  readonly statement: Statement | undefined;
  readonly problem: SyntaxProblem | undefined;
  readonly memory: ReadSlice['memory'];
  private readonly slice: ReadSlice;
  private readonly base: number;
  private placedTokens: readonly Token[] | undefined;

  constructor(slice: ReadSlice, base: number) {
    const { offset, end, statement, problem, memory } = slice;
    this.offset = offset + base;
    this.end = end + base;
    this.statement = statement;
    this.problem = problem && { ...problem, offset: problem.offset + base, end: problem.end + base };
    this.memory = memory;
    this.slice = slice;
    this.base = base;
    this.placedTokens = undefined;
  }

  get tokens(): readonly Token[] {
    this.placedTokens ??= this.slice.tokens.map((token) => ({
      ...token,
      startOffset: token.startOffset + this.base,
      endOffset: token.endOffset! + this.base,
    }));
    return this.placedTokens;
  }
}
