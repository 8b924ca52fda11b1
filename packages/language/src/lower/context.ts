/** What the parts of the lowering share while they go through one record's statements. */

import { type RecordPath, readerChecks, type Severity } from '@ohmstead/record';
import type { Statement } from '../generated/ast.js';
import type { TextRange, WiringDocument } from '../reading/document.js';
import type { ReadSlice } from '../reading/parser.js';
import { isWordy } from '../reading/tokens.js';
import type { NameIndex } from './names.js';
import { Mistakes } from './one-mistake.js';
import { rangeOf, type Site, stretchOf } from './sites.js';
import { ownerOf, SourceMap } from './source-map.js';
import { type PutSpot, Told } from './told.js';

export type ReaderCode = keyof typeof readerChecks;
export type FactsOf<Code extends ReaderCode> = Parameters<(typeof readerChecks)[Code]['sentence']>[0];

export interface TextEdit {
  readonly uri: string;
  readonly range: TextRange;
  readonly newText: string;
}

export interface TextFix {
  readonly title: string;
  readonly edits: readonly TextEdit[];
}

/** A finding of the reading itself, already at its place in the text. */
export interface ReaderFinding {
  readonly uri: string;
  readonly range: TextRange;
  readonly code: ReaderCode;
  readonly severity: Severity;
  readonly message: string;
  readonly related: readonly { readonly uri: string; readonly range: TextRange; readonly message: string }[];
  readonly parts: readonly string[];
  readonly fixes: readonly TextFix[];
  /** The place that it finds missing, and that a statement of its own would name. */
  readonly missingPlace?: string;
}

interface ReportOptions {
  readonly severity?: Severity;
  /** Sites that explain it. */
  readonly related?: readonly { readonly site: Site; readonly message: string }[];
  /** What to write in place of the site, one fix each. */
  readonly instead?: readonly string[];
  readonly missingPlace?: string;
  /** The statement stands although this is said of it. */
  readonly stands?: boolean;
}

export class LoweringContext {
  readonly mistakes = new Mistakes();
  /** Names in statements that could not be read or whose meaning is in doubt. */
  readonly broken = new Set<string>();
  /** Types whose own statements are among them. */
  readonly brokenTypes = new Set<string>();
  /** Names in statements that could not be parsed: what they would have declared is not known. */
  readonly unreadNames = new Set<string>();
  readonly sourceMap = new SourceMap();
  readonly names: NameIndex;
  /** The record's own file: what is wrong in an imported one is said when that file is checked. Absent: all are reported. */
  readonly root: string | undefined;
  profile = 'north-america';
  /** Names may be declared in a file that could not be had: none is reported as unknown then. */
  importsAreMissing = false;
  /** How often something was reported, whether or not it became a finding. */
  reports = 0;
  document!: WiringDocument;
  /** The statement whose names were last put among the broken ones. */
  #broke: ReadSlice | undefined;
  slice: ReadSlice | undefined;

  constructor(names: NameIndex, root: string | undefined) {
    this.names = names;
    this.root = root;
  }

  get findings(): readonly ReaderFinding[] {
    return this.mistakes.settled(readerChecks['unknown-terminal'].sentence);
  }

  /** Takes up a statement: what is reported from here on is about it. */
  enter(document: WiringDocument, slice: ReadSlice | undefined): void {
    this.document = document;
    this.slice = slice;
  }

  site(node: Site['node'], property?: string, index?: number): Site {
    return { document: this.document, node, property, index };
  }

  report<Code extends ReaderCode>(code: Code, facts: FactsOf<Code>, site: Site, options: ReportOptions = {}): void {
    const { offset, end } = stretchOf(site);
    this.reportAt(code, facts, offset, end, options);
  }

  reportAt<Code extends ReaderCode>(
    code: Code,
    facts: FactsOf<Code>,
    offset: number,
    end: number,
    options: ReportOptions = {},
  ): void {
    this.reports++;
    if (!options.stands) this.breakStatement();
    if (this.importsAreMissing && (code === 'unknown-name' || code === 'unknown-type')) return;
    if (this.#isSaid(offset, code)) return;
    const { uri } = this.document;
    if (this.root !== undefined && uri !== this.root) return;
    const check = readerChecks[code];
    const sentence = check.sentence as (facts: FactsOf<Code>) => string;
    const range = this.document.rangeAt(offset, end);
    const named = (this.slice?.statement as { name?: string } | undefined)?.name;
    this.mistakes.add(code, facts, {
      uri,
      range,
      code,
      severity: options.severity ?? check.severity,
      message: sentence(facts),
      related: (options.related ?? []).map(({ site, message }) => ({
        uri: site.document.uri,
        range: rangeOf(site),
        message,
      })),
      parts: named === undefined ? [] : [named],
      fixes: (options.instead ?? []).map((newText) => ({
        title: `Write \`${newText}\``,
        edits: [{ uri, range, newText }],
      })),
      ...(options.missingPlace === undefined ? {} : { missingPlace: options.missingPlace }),
    });
  }

  /** On a line that could not be read, and in a whole type of which some line could not be, whatever else seems wrong follows from that. */
  #isSaid(offset: number, code: ReaderCode): boolean {
    const problem = this.slice?.problem;
    if (!problem || (code === 'syntax' && problem.offset === offset)) return false;
    if (this.slice?.statement?.$type === 'PartType') return true;
    const [from, to] = problem.offset < offset ? [problem.offset, offset] : [offset, problem.offset];
    return !/[\n\r]/.test(this.document.text.slice(from, to));
  }

  /** Puts the names of the statement among those in doubt: what it says of them is not known whole. */
  breakStatement(): void {
    this.reports++;
    if (!this.slice || this.#broke === this.slice || isReadings(this.slice)) return;
    this.#broke = this.slice;
    const { statement, problem } = this.slice;
    const unread = problem !== undefined;
    if (statement?.$type === 'PartType' || statement?.$type === 'CableType') this.brokenTypes.add(statement.name);
    for (const name of namesIn(this.slice)) {
      this.broken.add(name);
      if (unread) this.unreadNames.add(name);
    }
  }

  noteRightTerminal(part: string): void {
    this.names.told?.rightlyNamed.push(part);
    this.mistakes.noteRightTerminals([part]);
  }

  /** Puts the places within a part or run; `places` may run much later. */
  putLater(owner: RecordPath, places: (put: PutSpot) => void): void {
    this.names.told?.put(owner, places);
    this.sourceMap.putLater(this.document, [{ owner, puts: [places] }]);
  }

  put(path: RecordPath, node: Site['node'], property?: string, index?: number): void {
    this.names.told?.put(ownerOf(path), (put) => put(path, node, property, index));
    this.sourceMap.put(path, this.site(node, property, index));
  }

  /** Takes down what is asked and noted from here on, so that it can be replayed. */
  record(): Told {
    const told = new Told();
    this.names.told = told;
    return told;
  }

  endRecord(): void {
    this.names.told = undefined;
  }

  /** Notes what an earlier lowering of the same statement noted, at its place in this text. */
  replay(statement: Statement, { uses, rightlyNamed, places }: Told): void {
    this.names.referLater(this.document, statement, uses);
    if (rightlyNamed.length > 0) this.mistakes.noteRightTerminals(rightlyNamed);
    if (places.length > 0) this.sourceMap.putLater(this.document, places);
  }
}

/** What was read with a meter leaves the wiring as it is known. */
function isReadings({ tokens }: ReadSlice): boolean {
  return tokens[0]?.image.toLowerCase() === 'readings';
}

const WORDS = /[\p{L}][\p{L}\p{M}\p{N}-]*/gu;

/** Words of a statement that may be names: all but its statement and fact words; its own name even if it is one of these. */
function namesIn({ tokens, problem }: ReadSlice): readonly string[] {
  const names: string[] = [...(problem?.hides?.match(WORDS) ?? [])];
  const ownName = tokens[1]?.image.toLowerCase() === 'type' && tokens[2]?.image !== ':' ? 2 : 1;
  for (const [index, token] of tokens.entries()) {
    const { name } = token.tokenType;
    const beforeDot = tokens[index + 1]?.image === '.';
    const afterDot = tokens[index - 1]?.image === '.';
    if (afterDot) continue;
    if (name === 'ID' || name === 'ODD_NAME' || beforeDot || (index === ownName && isWordy(token)))
      names.push(token.image);
  }
  return names;
}
