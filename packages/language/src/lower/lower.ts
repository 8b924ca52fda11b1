/** A record's files to an installation as plain data, with the place in the text of everything it holds. */

import {
  type Acceptance,
  at,
  type Box,
  type CableType,
  type Ground,
  type Installation,
  type Part,
  type PartType,
  type Place,
  type ReadingBlock,
  type Run,
  readerChecks,
  recordChecks,
  type Splice,
} from '@ohmstead/record';
import type { Accept, Profile, Statement } from '../generated/ast.js';
import type { WiringDocument } from '../reading/document.js';
import type { ReadSlice } from '../reading/parser.js';
import { lowerCableType } from './cables.js';
import { LoweringContext, type ReaderFinding } from './context.js';
import { declareNames, type Standing } from './declare.js';
import { unknownName } from './ends.js';
import { lowerBoxFacts, lowerGround } from './line-side.js';
import { NameIndex } from './names.js';
import { lowerBox, lowerPart, lowerPlaceStatement, lowerSplice } from './parts.js';
import { planOver, type PlanPlaces, type PlanTypes } from './plan.js';
import { lowerReadings, type ReadingLookup } from './readings.js';
import { lowerJumper, lowerRun, nameJumpers, type StandingJumper } from './runs.js';
import { asBefore, meaningsBefore, NamesOfNow, rememberedStatement } from './remembered.js';
import type { SourceMap } from './source-map.js';
import { stretchOf } from './sites.js';
import { lowerPartType } from './types.js';

/** Types known before the record's own: the shipped library's. */
export interface KnownTypes {
  readonly partTypes: ReadonlyMap<string, PartType>;
  readonly cableTypes: ReadonlyMap<string, CableType>;
  readonly names: NameIndex;
}

export interface Lowered {
  readonly installation: Installation;
  readonly cableTypes: ReadonlyMap<string, CableType>;
  readonly sourceMap: SourceMap;
  readonly names: NameIndex;
  /** Of the record's own file, in order of place. */
  readonly findings: readonly ReaderFinding[];
  /** Names may be declared in a file that could not be had. */
  readonly importsAreMissing: boolean;
  /** Where a rewire plan's own lines are behind the result. */
  readonly plan?: PlanPlaces;
}

const PROFILES = ['north-america', 'europe', 'united-kingdom'];
const PLAN_STATEMENTS = new Set(['Changes', 'Replace', 'Remove', 'Relocate', 'Move', 'Land', 'Lift']);

/**
 * Lowers a record: its own file last, after those it imports. `prepare` may report what is wrong with its imports; `base` is the record
 * that a rewire plan changes.
 */
export function lowerRecord(
  documents: readonly WiringDocument[],
  library: KnownTypes | undefined,
  prepare?: (context: LoweringContext) => void,
  base?: Lowered,
): Lowered {
  const own = documents.at(-1)!;
  const names = base?.names ?? new NameIndex(library?.names);
  const context = new LoweringContext(names, library && own.uri);
  if (base?.importsAreMissing) context.importsAreMissing = true;
  if (base) context.profile = base.installation.profile;
  prepare?.(context);
  const standing = declareNames(context, documents, library === undefined);
  const plan = own.file.statements.find((statement) => statement.$type === 'Changes');
  // Of a plan whose record can't be had nothing is known but its text.
  if (plan && !base) return new Lowering(context, [], own, library).lowered();
  const lowering = new Lowering(context, standing, own, library, base?.installation, base?.cableTypes);
  const lowered = lowering.lowered();
  if (!plan || !base) return lowered;
  return planOver(base, lowered, plan, { context, document: own, standing, types: lowering.types });
}

class Lowering {
  readonly #context: LoweringContext;
  readonly #standing: readonly Standing[];
  readonly #own: WiringDocument;
  readonly #partTypes: Map<string, PartType>;
  readonly #cableTypes: Map<string, CableType>;
  readonly #shipped: boolean;
  readonly #isPlan: boolean;
  /** Names that the unnamed jumpers of the record underneath have. */
  readonly #taken: ReadonlySet<string>;
  readonly #typeOfPart = new Map<string, string>();
  readonly #places: Place[] = [];
  readonly #supplies: Part[] = [];
  readonly #devices: Part[] = [];
  readonly #splices: Splice[] = [];
  readonly #boxes: Box[] = [];
  readonly #grounds: Ground[] = [];
  readonly #runs: Run[] = [];
  readonly #jumpers: StandingJumper[] = [];
  readonly #accepts: Acceptance[] = [];
  readonly #readings: ReadingBlock[] = [];
  readonly #runsBefore: readonly Run[];
  #title: string | undefined;
  #names!: NamesOfNow;

  constructor(
    context: LoweringContext,
    standing: readonly Standing[],
    own: WiringDocument,
    library: KnownTypes | undefined,
    base?: Installation,
    cableTypes = library?.cableTypes,
  ) {
    this.#context = context;
    this.#standing = standing;
    this.#own = own;
    this.#shipped = library === undefined;
    this.#partTypes = new Map(base?.partTypes ?? library?.partTypes);
    this.#cableTypes = new Map(cableTypes);
    this.#isPlan = base !== undefined;
    this.#runsBefore = base?.runs ?? [];
    this.#taken = new Set(base?.jumpers.map((jumper) => jumper.name));
    for (const part of base ? [...base.supplies, ...base.devices] : []) {
      if (part.type !== undefined) this.#typeOfPart.set(part.name, part.type);
    }
  }

  get types(): PlanTypes {
    return { partTypes: this.#partTypes, cableTypes: this.#cableTypes, typeOfPart: this.#typeOfPart };
  }

  lowered(): Lowered {
    const context = this.#context;
    const own = this.#own;
    context.enter(own, undefined);
    const { statements } = own.file;
    const title = statements.find((statement) => statement.$type === 'Title') ?? statements[0];
    if (title) context.put(at.record(), title);
    for (const one of this.#standing) this.#lowerType(one);
    for (const { statement } of this.#standing) this.#noteTypeOfPart(statement);
    this.#names = new NamesOfNow(context, this.types, meaningsBefore(own.slices));
    for (const one of this.#standing) this.#lowerStatement(one);
    for (const one of this.#standing) this.#lowerReadings(one);
    const jumpers = nameJumpers(context, this.#jumpers, this.#taken);
    this.#holdBackUsersOfBrokenTypes();
    return {
      installation: {
        ...(this.#title === undefined ? {} : { title: this.#title }),
        profile: context.profile,
        places: this.#places,
        supplies: this.#supplies,
        devices: this.#devices,
        splices: this.#splices,
        runs: this.#runs,
        jumpers,
        ...(this.#boxes.length > 0 ? { boxes: this.#boxes } : {}),
        ...(this.#grounds.length > 0 ? { grounds: this.#grounds } : {}),
        accepts: this.#accepts,
        ...(this.#readings.length === 0 ? {} : { readings: this.#readings }),
        partTypes: this.#partTypes,
        broken: context.broken,
      },
      cableTypes: this.#cableTypes,
      sourceMap: context.sourceMap,
      names: context.names,
      findings: inOrder(context.findings),
      importsAreMissing: context.importsAreMissing,
    };
  }

  /** Types and the profile: what the other statements lean on. */
  #lowerType({ document, slice, statement }: Standing): void {
    const context = this.#context;
    context.enter(document, slice);
    if (slice.problem && !isWhole(statement)) return;
    if (statement.$type === 'PartType') {
      this.#partTypes.set(statement.name, asBefore(statement, lowerPartType(context, statement, this.#shipped)));
    } else if (statement.$type === 'CableType') {
      this.#cableTypes.set(statement.name, asBefore(statement, lowerCableType(context, statement, this.#shipped)));
    } else if (statement.$type === 'Profile' && document === this.#own) this.#lowerProfile(statement);
  }

  /** Only of types that fit: a device of a supply's type is one mistake, and its terminals are not a second. */
  #noteTypeOfPart(statement: Statement): void {
    if (statement.$type === 'Replace') {
      const type = statement.type ?? this.#typeOfPart.get(statement.name);
      if (type !== undefined) this.#typeOfPart.set(statement.newName ?? statement.name, type);
      return;
    }
    if (statement.$type !== 'Supply' && statement.$type !== 'Device') return;
    const of = statement.$type === 'Supply' ? 'supply' : 'device';
    if (statement.type !== undefined && (this.#partTypes.get(statement.type)?.of ?? of) === of) {
      this.#typeOfPart.set(statement.name, statement.type);
    }
  }

  #lowerProfile(statement: Profile): void {
    const context = this.#context;
    const name = statement.name.toLowerCase();
    context.put(at.profile(), statement);
    if (!PROFILES.includes(name)) {
      unknownName(context, statement, 'name', statement.name, 'profile', PROFILES);
      return;
    }
    context.profile = name;
  }

  #lowerStatement({ document, slice, statement }: Standing): void {
    const context = this.#context;
    context.enter(document, slice);
    const { types } = this;
    // What the parser left half-built is known by name alone.
    if (slice.problem && !isWhole(statement)) return;
    switch (statement.$type) {
      case 'Title':
        if (document === this.#own) this.#title = statement.title;
        return;
      case 'Place':
        this.#places.push(this.#kept(slice, statement, () => lowerPlaceStatement(context, statement)));
        return;
      case 'Box':
        this.#places.push(lowerBox(context, statement));
        this.#boxes.push(lowerBoxFacts(context, statement));
        return;
      case 'Supply':
        this.#supplies.push(this.#kept(slice, statement, () => lowerPart(context, statement, types)));
        return;
      case 'Device':
        this.#devices.push(this.#kept(slice, statement, () => lowerPart(context, statement, types)));
        return;
      case 'Splice':
        this.#splices.push(this.#kept(slice, statement, () => lowerSplice(context, statement)));
        return;
      case 'Run':
        this.#runs.push(this.#kept(slice, statement, () => lowerRun(context, statement, types)));
        return;
      case 'Jumper': {
        const jumper = this.#kept(slice, statement, () => lowerJumper(context, statement, types));
        if (jumper) this.#jumpers.push({ ...jumper, document, slice });
        return;
      }
      case 'Ground': {
        const ground = lowerGround(context, statement, types, this.#grounds.length);
        if (ground) this.#grounds.push(ground);
        return;
      }
      case 'Accept':
        if (document === this.#own) this.#lowerAccept(statement);
        return;
      default:
        if (PLAN_STATEMENTS.has(statement.$type) && !this.#isPlan && document === this.#own) this.#noPlan(statement);
    }
  }

  #kept<T>({ memory }: ReadSlice, node: Statement, lower: () => T): T {
    return rememberedStatement(this.#context, { node, memory }, this.#names, lower);
  }

  /** When all parts and runs are known. */
  #lowerReadings({ document, slice, statement }: Standing): void {
    if (statement.$type !== 'Readings') return;
    this.#context.enter(document, slice);
    const runs = new Map([...this.#runsBefore, ...this.#runs].map((run) => [run.name, run]));
    const lookup: ReadingLookup = { ...this.types, runs };
    const block = lowerReadings(this.#context, statement, this.#readings.length, lookup);
    if (block) this.#readings.push(block);
  }

  /** What changes a record, in a file that names none. */
  #noPlan(statement: Statement): void {
    const context = this.#context;
    const word = statement.$type.toLowerCase();
    const { offset } = stretchOf(context.site(statement));
    const expected = 'A line `changes "…"` that names the record to be changed';
    context.reportAt('syntax', { what: 'expected', expected, found: word }, offset, offset + word.length);
  }

  #lowerAccept(statement: Accept): void {
    const context = this.#context;
    const known = [...recordChecks.map((check) => check.code), ...Object.keys(readerChecks)];
    if (!known.includes(statement.code)) unknownName(context, statement, 'code', statement.code, 'check', known);
    if (statement.on !== undefined) {
      const symbol = context.names.find('part', statement.on);
      if (symbol) context.names.refer(symbol, context.site(statement, 'on'));
      else {
        const parts = [...context.names.names('part')].map((part) => part.name);
        unknownName(context, statement, 'on', statement.on, 'part or run', parts);
      }
    }
    context.put(at.accept(this.#accepts.length), statement);
    const { code, on, reason } = statement;
    this.#accepts.push({ code, ...(on === undefined ? {} : { on }), because: reason });
  }

  /** A part of a type that could not be read is in doubt itself. */
  #holdBackUsersOfBrokenTypes(): void {
    const { broken, brokenTypes } = this.#context;
    if (brokenTypes.size === 0) return;
    for (const [part, type] of this.#typeOfPart) if (brokenTypes.has(type)) broken.add(part);
    for (const run of this.#runs) if (run.cable && brokenTypes.has(run.cable.name)) broken.add(run.name);
  }
}

/** Whether a statement that could not be read to its end still says what it is about. */
function isWhole(statement: Statement): boolean {
  switch (statement.$type) {
    case 'Supply':
    case 'Device':
      return statement.name !== undefined && statement.type !== undefined;
    case 'Run':
      return statement.name !== undefined && statement.cable !== undefined;
    case 'Place':
    case 'Splice':
    case 'Box':
    case 'PartType':
    case 'CableType':
    case 'Profile':
      return statement.name !== undefined;
    case 'Jumper':
      return statement.from?.part !== undefined && statement.to?.part !== undefined;
    case 'Title':
      return statement.title !== undefined;
    default:
      return false;
  }
}

export function inOrder(findings: readonly ReaderFinding[]): ReaderFinding[] {
  return [...findings].sort(
    (a, b) => a.range.start.line - b.range.start.line || a.range.start.character - b.range.start.character,
  );
}
