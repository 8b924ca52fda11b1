/** A file and what it imports, read as one record. */

import type { Import } from './generated/ast.js';
import { library } from './library.js';
import { type DocumentSource, gatherFiles } from './lower/imports.js';
import { type Lowered, lowerRecord } from './lower/lower.js';
import type { WiringDocument } from './reading/document.js';

export interface Reading extends Lowered {
  /** The record's own file. */
  readonly document: WiringDocument;
  /** Imported files first, the record's own last. */
  readonly documents: readonly WiringDocument[];
  /** By the URI of an imported file: the statement of the record's own file that brought it in. */
  readonly broughtBy: ReadonlyMap<string, Import>;
  /** URIs of imported files that are not there. */
  readonly missing: readonly string[];
  /** Whether some statement could not be read. */
  readonly hasErrors: boolean;
}

const ALONE: DocumentSource = { document: () => undefined };

/** Reads a record; never throws on what its text says. */
export function readRecord(document: WiringDocument, source: DocumentSource = ALONE): Reading {
  const { documents, broughtBy, missing, report } = gatherFiles(document, source);
  const lowered = lowerRecord(documents, library(), report);
  const hasErrors = lowered.findings.some((finding) => finding.severity === 'error');
  return { ...lowered, document, documents, broughtBy, missing, hasErrors };
}
