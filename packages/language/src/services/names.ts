/** Definitions and references, from the index of names. */

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

export function usesOf(symbol: NameSymbol, records: readonly NamedRecord[]): NameUse[] {
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
