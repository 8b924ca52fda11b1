/** The shipped type library as text: .wiring source like any other. What every record needs of it is made from it at build time. */

import type { CableType, PartType } from '@ohmstead/record';
import { libraryTexts } from './generated/library.js';
import { type Lowered, lowerRecord } from './lower/lower.js';
import { LIBRARY_SCHEME } from './protocol.js';
import { parseWiring, type WiringDocument } from './reading/document.js';

interface ReadLibrary extends Lowered {
  readonly documents: readonly WiringDocument[];
}

let known: ReadLibrary | undefined;

export function libraryUri(file: string): string {
  return `${LIBRARY_SCHEME}:/${file}`;
}

/** All of it, with its places in the text; read once, when it is first asked for. */
export function readLibrary(): ReadLibrary {
  if (known) return known;
  const documents = Object.entries(libraryTexts).map(([file, text]) => parseWiring(libraryUri(file), text));
  known = { ...lowerRecord(documents, undefined), documents };
  return known;
}

/** Its types as plain data, in order of the text. */
export interface LibraryTypes {
  readonly parts: readonly PartType[];
  readonly cables: readonly CableType[];
  readonly names: readonly string[];
}

export function typesOfLibrary(): LibraryTypes {
  const { installation, cableTypes, names } = readLibrary();
  return {
    parts: [...installation.partTypes.values()],
    cables: [...cableTypes.values()],
    names: [...names.declared('type')].map(({ name }) => name),
  };
}
