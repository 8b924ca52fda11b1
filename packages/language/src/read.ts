/** A file and what it imports, read as one record. */

import type { Changes, Import } from './generated/ast.js';
import { library } from './library.js';
import { allDocuments, type DocumentSource, gatherFiles, type RecordFiles } from './lower/imports.js';
import { type Lowered, lowerRecord } from './lower/lower.js';
import type { WiringDocument } from './reading/document.js';

export interface Reading extends Lowered {
  /** The record's own file. */
  readonly document: WiringDocument;
  /** Imported files first, the record's own last. */
  readonly documents: readonly WiringDocument[];
  /** By the URI of an imported file: the statement of the record's own file that brought it in. */
  readonly broughtBy: ReadonlyMap<string, Import | Changes>;
  /** URIs of imported files that are not there. */
  readonly missing: readonly string[];
  /** Whether some statement could not be read. */
  readonly hasErrors: boolean;
}

const ALONE: DocumentSource = { document: () => undefined };

/** Reads a record; never throws on what its text says. */
export function readRecord(document: WiringDocument, source: DocumentSource = ALONE): Reading {
  const files = gatherFiles(document, source);
  const { broughtBy, missing } = files;
  const documents = allDocuments(files);
  const lowered = lowerFiles(files);
  const hasErrors = lowered.findings.some((finding) => finding.severity === 'error');
  return { ...lowered, document, documents, broughtBy, missing, hasErrors };
}

/**
 * The same record by the rules and habits of another profile: mains, limits and words. What its text says stays as it was read, the
 * colours of its cables included.
 */
export function underProfile(reading: Reading, profile: string): Reading {
  return { ...reading, installation: { ...reading.installation, profile } };
}

/** A plan is read on top of the record that it changes, which may be a plan itself. */
function lowerFiles({ documents, report, base }: RecordFiles): Lowered {
  return lowerRecord(documents, library(), report, base && lowerFiles(base));
}
