/** The shipped type library: .wiring source like any other, read once. */

import { libraryTexts } from './generated/library.js';
import { type KnownTypes, type Lowered, lowerRecord } from './lower/lower.js';
import { parseWiring, type WiringDocument } from './reading/document.js';
import { LIBRARY_SCHEME } from './protocol.js';

export interface Library extends Lowered, KnownTypes {
  readonly cableTypes: Lowered['cableTypes'];
  readonly names: Lowered['names'];
  readonly documents: readonly WiringDocument[];
  /** A library file's text by its URI; undefined where there is none such. */
  textOf(uri: string): string | undefined;
}

let known: Library | undefined;

export function libraryUri(file: string): string {
  return `${LIBRARY_SCHEME}:/${file}`;
}

export function library(): Library {
  if (known) return known;
  const documents = Object.entries(libraryTexts).map(([file, text]) => parseWiring(libraryUri(file), text));
  const texts = new Map(documents.map((document) => [document.uri, document.text]));
  const lowered = lowerRecord(documents, undefined);
  const { partTypes } = lowered.installation;
  known = { ...lowered, partTypes, documents, textOf: (uri) => texts.get(uri) };
  return known;
}
