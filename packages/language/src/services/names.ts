/** Definitions, references and renaming, from the index of names. */

import type { NameIndex, NameSymbol, NameUse } from '../lower/names.js';
import { rangeOf, type Site, stretchOf } from '../lower/sites.js';
import type { TextRange, WiringDocument } from '../reading/document.js';

export interface PlaceInText {
  readonly uri: string;
  readonly range: TextRange;
}

/** A record as read: its own file's document and the names of it, its imports and the library. */
export interface NamedRecord {
  readonly names: NameIndex;
  /** Every file of the record that has been read, the imported ones included. */
  readonly documents: readonly WiringDocument[];
}

export function placeOf(site: Site): PlaceInText {
  return { uri: site.document.uri, range: rangeOf(site) };
}

export function definitionsAt(names: NameIndex, document: WiringDocument, offset: number): PlaceInText[] {
  return names.at(document, offset)?.symbol.declarations.map(placeOf) ?? [];
}

/** Uses over all given records of the name at an offset, each place once, in order of file and place. */
export function referencesTo(
  symbol: NameSymbol,
  records: readonly NamedRecord[],
  declarations: boolean,
): PlaceInText[] {
  const places = new Map<string, PlaceInText>();
  for (const use of usesOf(symbol, records)) {
    if (use.declares && !declarations) continue;
    const place = placeOf(use.site);
    places.set(`${place.uri}#${use.offset}`, place);
  }
  return [...places.values()];
}

function usesOf(symbol: NameSymbol, records: readonly NamedRecord[]): NameUse[] {
  const declared = declarationKeys(symbol);
  return records.flatMap(({ names, documents }) =>
    documents.flatMap((document) =>
      names.usesIn(document).filter((use) => [...declarationKeys(use.symbol)].some((key) => declared.has(key))),
    ),
  );
}

/** Symbols of different records are one where they are declared at one place. */
const keysOfSymbols = new WeakMap<NameSymbol, ReadonlySet<string>>();

function declarationKeys(symbol: NameSymbol): ReadonlySet<string> {
  let keys = keysOfSymbols.get(symbol);
  if (!keys) {
    keys = new Set(symbol.declarations.map((site) => `${site.document.uri}#${stretchOf(site).offset}`));
    keysOfSymbols.set(symbol, keys);
  }
  return keys;
}

const NAME = /^[\p{L}][\p{L}\p{M}\p{N}-]*$/u;

export type Renaming = { readonly places: readonly PlaceInText[] } | { readonly refused: string };

/** Why a name can't be renamed at all; undefined where it can. */
export function refusalToRename(symbol: NameSymbol | undefined): string | undefined {
  if (!symbol) return 'There is no name here that can be changed.';
  if (symbol.declarations.length === 0) return `\`${symbol.name}\` is not declared anywhere.`;
  if (symbol.shipped) return `\`${symbol.name}\` belongs to the shipped library, which can't be edited.`;
  return undefined;
}

export function renamed(symbol: NameSymbol, newName: string, records: readonly NamedRecord[]): Renaming {
  const refused = refusalToRename(symbol);
  if (refused !== undefined) return { refused };
  const isTerminal = symbol.kind === 'terminal';
  if (!NAME.test(newName) && !(isTerminal && /^\d+$/.test(newName))) {
    return {
      refused: `\`${newName}\` is not a name: a name starts with a letter and goes on with letters, digits and hyphens.`,
    };
  }
  for (const { names } of records) {
    const taken = takenBy(names, symbol, newName);
    if (taken) return { refused: `\`${newName}\` is already the name of a ${taken.kind}.` };
  }
  return { places: referencesTo(symbol, records, true) };
}

function takenBy(names: NameIndex, symbol: NameSymbol, newName: string): NameSymbol | undefined {
  if (newName === symbol.name) return undefined;
  if (symbol.kind === 'terminal') return names.terminalsOf(symbol.owner ?? '')?.get(newName);
  if (symbol.kind === 'place') return names.find('place', newName);
  return names.find(symbol.kind.endsWith(' type') ? 'type' : 'part', newName);
}
