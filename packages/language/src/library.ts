/** What every record needs of the shipped type library: its types, as they were read from its text when the program was built. */

import { libraryTexts } from './generated/library.js';
import { libraryTypes } from './generated/library-types.js';
import type { KnownTypes } from './lower/lower.js';
import { NameIndex } from './lower/names.js';
import type { Site } from './lower/sites.js';
import { type LibraryTypes, libraryUri, readLibrary } from './read-library.js';

export interface Library extends KnownTypes {
  /** A library file's text by its URI; undefined where there is none such. */
  textOf(uri: string): string | undefined;
}

let known: Library | undefined;

export function library(): Library {
  if (known) return known;
  const { parts, cables, names } = JSON.parse(libraryTypes) as LibraryTypes;
  const partTypes = new Map(parts.map((type) => [type.name, type]));
  const cableTypes = new Map(cables.map((type) => [type.name, type]));
  const index = new NameIndex();
  for (const name of names) {
    const type = partTypes.get(name);
    index.declareShipped(name, type ? `${type.of} type` : 'cable type', type?.terminals ?? [], sitesInLibrary);
  }
  const texts = new Map(Object.entries(libraryTexts).map(([file, text]) => [libraryUri(file), text]));
  known = { partTypes, cableTypes, names: index, textOf: (uri) => texts.get(uri) };
  return known;
}

/** Where the library's text declares a type, or one of its terminals. */
function sitesInLibrary(type: string, terminal?: string): Site[] {
  const { names } = readLibrary();
  const symbol = terminal === undefined ? names.find('type', type) : names.terminalsOf(type)?.get(terminal);
  return symbol?.declarations ?? [];
}
