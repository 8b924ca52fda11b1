/**
 * Every name of a record: where it is declared and where it is used, across imports and the shipped library. Go to definition,
 * references and rename read it.
 */

import type { Statement } from '../generated/ast.js';
import type { WiringDocument } from '../reading/document.js';
import type { ReadSlice } from '../reading/parser.js';
import { type Site, stretchOf } from './sites.js';
import type { NotedUse, Told } from './told.js';

export type NameKind =
  | 'supply'
  | 'device'
  | 'splice'
  | 'run'
  | 'jumper'
  | 'box'
  | 'place'
  | 'supply type'
  | 'device type'
  | 'cable type'
  | 'terminal';

export interface NameSymbol {
  readonly kind: NameKind;
  readonly name: string;
  /** Of a terminal: the type that has it. */
  readonly owner?: string;
  /** Declared in the shipped library: it can't be renamed. */
  readonly shipped: boolean;
  /** More than one where a name was given twice. */
  readonly declarations: Site[];
  readonly references: Site[];
}

/** Parts, runs, splices, boxes and jumpers share one set of names; places and types have their own. */
export type NameSpace = 'part' | 'place' | 'type';

export interface NameUse {
  readonly symbol: NameSymbol;
  readonly site: Site;
  readonly declares: boolean;
  readonly offset: number;
  readonly end: number;
}

interface NotedStatement {
  readonly statement: Statement;
  readonly uses: readonly NotedUse[];
  /** The text that the uses have still to be noted in with the symbols; absent: they have been. */
  readonly document: WiringDocument | undefined;
}

export class NameIndex {
  readonly #library: NameIndex | undefined;
  readonly #spaces = {
    part: new Map<string, NameSymbol>(),
    place: new Map<string, NameSymbol>(),
    type: new Map<string, NameSymbol>(),
  };
  /** By type, then by terminal. */
  readonly #terminals = new Map<string, Map<string, NameSymbol>>();
  /** The library's symbols with this record's uses of them. */
  readonly #borrowed = new Map<NameSymbol, NameSymbol>();
  readonly #uses = new Map<string, readonly NameUse[]>();
  /** All uses in each statement, in order of the statements. */
  readonly #noted: NotedStatement[] = [];
  /** How many of those are in `#ofStatement`, and how many are with the symbols: both when somebody asks for them. */
  #sorted = 0;
  #settled = 0;
  readonly #ofStatement = new Map<Statement, readonly NotedUse[]>();
  /** Takes what is asked and noted, while a statement is lowered that may be kept. */
  told: Told | undefined;

  constructor(library?: NameIndex) {
    this.#library = library;
  }

  find(space: NameSpace, name: string): NameSymbol | undefined {
    this.told?.ask(space, name);
    return this.#spaces[space].get(name) ?? (space === 'type' ? this.#library?.find(space, name) : undefined);
  }

  /** Terminals of a type by name; a type of the record hides one of the library with the same name. */
  terminalsOf(type: string): ReadonlyMap<string, NameSymbol> | undefined {
    return this.#spaces.type.has(type) ? this.#terminals.get(type) : this.#library?.terminalsOf(type);
  }

  /** Those of the record itself, without the library's. */
  declared(space: NameSpace): IterableIterator<NameSymbol> {
    return this.#spaces[space].values();
  }

  /** Whether the record itself declares a name. */
  declares(space: NameSpace, name: string): boolean {
    return this.#spaces[space].has(name);
  }

  *names(space: NameSpace): Generator<NameSymbol> {
    yield* this.#spaces[space].values();
    if (space !== 'type' || !this.#library) return;
    for (const symbol of this.#library.names('type')) if (!this.#spaces.type.has(symbol.name)) yield symbol;
  }

  /** Every symbol of the record itself and those of the library that it uses. */
  *symbols(): Generator<NameSymbol> {
    for (const space of Object.values(this.#spaces)) yield* space.values();
    for (const terminals of this.#terminals.values()) yield* terminals.values();
  }

  /** Answers with what had the name before, the library's types included. */
  declare(space: NameSpace, kind: NameKind, name: string, site: Site, shipped: boolean): NameSymbol | undefined {
    const symbols = this.#spaces[space];
    const known = symbols.get(name);
    if (known) {
      known.declarations.push(site);
      return known;
    }
    symbols.set(name, { kind, name, shipped, declarations: [site], references: [] });
    return space === 'type' ? this.#library?.find(space, name) : undefined;
  }

  declareTerminal(owner: string, name: string, site: Site, shipped: boolean): { readonly again: boolean } {
    let terminals = this.#terminals.get(owner);
    if (!terminals) {
      terminals = new Map();
      this.#terminals.set(owner, terminals);
    }
    const known = terminals.get(name);
    if (known) known.declarations.push(site);
    else terminals.set(name, { kind: 'terminal', name, owner, shipped, declarations: [site], references: [] });
    return { again: known !== undefined };
  }

  /** Declares a type of the library. `sites` tells where the type, or a terminal of it, is declared; it is asked when somebody wants to know. */
  declareShipped(
    name: string,
    kind: NameKind,
    terminals: readonly { readonly name: string }[],
    sites: (type: string, terminal?: string) => Site[],
  ): void {
    this.#spaces.type.set(name, new LibrarySymbol({ kind, name }, () => sites(name)));
    if (terminals.length === 0) return;
    const symbolOf = (terminal: string): NameSymbol =>
      new LibrarySymbol({ kind: 'terminal', name: terminal, owner: name }, () => sites(name, terminal));
    this.#terminals.set(name, new Map(terminals.map((one) => [one.name, symbolOf(one.name)])));
  }

  /** Notes a use. Uses of the library's names are kept with the record, so that the library itself never changes. */
  refer(symbol: NameSymbol, site: Site): void {
    this.told?.use(symbol, site);
    this.#own(symbol).references.push(site);
  }

  /** Tells what `refer` was told of while a statement was lowered. */
  noteStatement(statement: Statement, uses: readonly NotedUse[]): void {
    this.#noted.push({ statement, uses, document: undefined });
  }

  /** Notes uses as a statement had them in an earlier text. */
  referLater(document: WiringDocument, statement: Statement, uses: readonly NotedUse[]): void {
    this.#noted.push({ statement, uses, document });
  }

  #settle(): void {
    for (; this.#settled < this.#noted.length; this.#settled++) {
      const { document, uses } = this.#noted[this.#settled]!;
      if (document === undefined) continue;
      for (const use of uses) {
        const symbol = this.#symbolOf(use);
        if (symbol) this.refer(symbol, siteIn(document, use));
      }
    }
  }

  #usesOf(statement: Statement): readonly NotedUse[] | undefined {
    for (; this.#sorted < this.#noted.length; this.#sorted++) {
      const noted = this.#noted[this.#sorted]!;
      this.#ofStatement.set(noted.statement, noted.uses);
    }
    return this.#ofStatement.get(statement);
  }

  #symbolOf({ kind, name, owner }: NotedUse): NameSymbol | undefined {
    if (kind === 'terminal') return this.terminalsOf(owner ?? '')?.get(name);
    return this.find(kind === 'place' ? 'place' : kind.endsWith(' type') ? 'type' : 'part', name);
  }

  #own(symbol: NameSymbol): NameSymbol {
    if (!symbol.shipped || !this.#library) return symbol;
    const own = this.#borrowed.get(symbol);
    if (own) return own;
    const copy = new LibrarySymbol(symbol, () => symbol.declarations);
    this.#borrowed.set(symbol, copy);
    return copy;
  }

  /** The name at an offset of a file, with the symbol it means. */
  at(document: WiringDocument, offset: number): NameUse | undefined {
    const uses = this.#usesAround(document, offset) ?? this.usesIn(document);
    let low = 0;
    let high = uses.length - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const use = uses[middle]!;
      if (offset < use.offset) high = middle - 1;
      else if (offset > use.end) low = middle + 1;
      // Between two names that touch, the one that starts there is meant.
      else if (offset === use.end && uses[middle + 1]?.offset === offset) return uses[middle + 1];
      else return use;
    }
    return undefined;
  }

  /** Names in the statement at an offset; undefined where only a look at all names tells. */
  #usesAround(document: WiringDocument, offset: number): readonly NameUse[] | undefined {
    if (this.#uses.has(document.uri)) return undefined;
    const statement = sliceAt(document.slices, offset)?.statement;
    const noted = statement && this.#usesOf(statement);
    if (statement === undefined || noted === undefined) return undefined;
    const uses: NameUse[] = [];
    const add = (symbol: NameSymbol, site: Site, declares: boolean) =>
      uses.push({ symbol, site, declares, ...stretchOf(site) });
    const own = this.find(statement.$type === 'Place' ? 'place' : 'part', (statement as { name?: string }).name ?? '');
    for (const site of own?.declarations ?? []) if (site.node === statement) add(own!, site, true);
    for (const use of noted) {
      const symbol = this.#symbolOf(use);
      if (symbol) add(this.#own(symbol), siteIn(document, use), false);
    }
    return uses.sort(inOrder);
  }

  /** Names in a file in order of place. */
  usesIn(document: WiringDocument): readonly NameUse[] {
    const known = this.#uses.get(document.uri);
    if (known) return known;
    this.#settle();
    const uses: NameUse[] = [];
    const add = (symbol: NameSymbol, sites: readonly Site[], declares: boolean) => {
      for (const site of sites)
        if (site.document.uri === document.uri) uses.push({ symbol, site, declares, ...stretchOf(site) });
    };
    for (const symbol of [...this.symbols(), ...this.#borrowed.values()]) {
      if (!symbol.shipped || !this.#library) add(symbol, symbol.declarations, true);
      add(symbol, symbol.references, false);
    }
    uses.sort(inOrder);
    this.#uses.set(document.uri, uses);
    return uses;
  }
}

/** A symbol that nothing refers to yet; where it is declared is worked out when it is asked for. */
class LibrarySymbol implements NameSymbol {
  readonly kind: NameKind;
  readonly name: string;
  readonly owner?: string;
  readonly shipped = true;
  readonly references: Site[] = [];
  readonly #declarations: () => Site[];

  constructor({ kind, name, owner }: Pick<NameSymbol, 'kind' | 'name' | 'owner'>, declarations: () => Site[]) {
    this.kind = kind;
    this.name = name;
    if (owner !== undefined) this.owner = owner;
    this.#declarations = declarations;
  }

  get declarations(): Site[] {
    return this.#declarations();
  }
}

function siteIn(document: WiringDocument, { node, property, index }: NotedUse): Site {
  return { document, node, property, index };
}

function inOrder(one: NameUse, other: NameUse): number {
  return one.offset - other.offset || one.end - other.end;
}

function sliceAt(slices: readonly ReadSlice[], offset: number): ReadSlice | undefined {
  let low = 0;
  let high = slices.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const slice = slices[middle]!;
    if (offset < slice.offset) high = middle - 1;
    else if (offset > slice.end) low = middle + 1;
    else return slice;
  }
  return undefined;
}
