/**
 * What editor and language server say to one another beyond the language server protocol. Plain data only, so that the
 * extension's desktop and web entries, its panel and the server can all read it.
 */

import type { Budget, Severity } from '@ohmstead/record';

/** Documents of the shipped library and the pages of the checks: `ohmstead-library:/…`, read-only. */
export const LIBRARY_SCHEME = 'ohmstead-library';

/** Request, BudgetParams -> BudgetAnswer. */
export const BUDGET_REQUEST = 'ohmstead/budget';
/** Notification from the server, AnalysedParams: a document's findings and budget are up to date with this version. */
export const ANALYSED_NOTIFICATION = 'ohmstead/analysed';
/** Request, LibraryDocumentParams -> LibraryDocumentAnswer. */
export const LIBRARY_DOCUMENT_REQUEST = 'ohmstead/libraryDocument';

/** Request to the editor, ReadFileParams -> ReadFileAnswer: a file that the server can't reach by itself. */
export const READ_FILE_REQUEST = 'ohmstead/readFile';
/** Request to the editor, ListFilesParams -> ListFilesAnswer: the `.wiring` files under a folder. */
export const LIST_FILES_REQUEST = 'ohmstead/listFiles';

/** What an editor says of itself when it starts the server; all of it may be left out. */
export interface InitializationOptions {
  /** Commands that it has and that code lenses may call. */
  readonly commands?: readonly string[];
  /** It answers the requests for files. */
  readonly files?: boolean;
}

export interface ReadFileParams {
  readonly uri: string;
}

export interface ReadFileAnswer {
  /** Null where there is no such file, or none that is text. */
  readonly text: string | null;
}

export interface ListFilesParams {
  readonly folderUri: string;
}

export interface ListFilesAnswer {
  readonly uris: readonly string[];
}

/** Lines and characters from 0, characters in UTF-16 units, as in the language server protocol. */
export interface ProtocolPosition {
  readonly line: number;
  readonly character: number;
}

export interface ProtocolRange {
  readonly start: ProtocolPosition;
  readonly end: ProtocolPosition;
}

export interface ProtocolLocation {
  readonly uri: string;
  readonly range: ProtocolRange;
}

export interface BudgetParams {
  readonly uri: string;
}

export interface LocatedFinding extends ProtocolLocation {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  /** Names of the parts it is about. */
  readonly parts: readonly string[];
  /** Somebody took responsibility for it, and why. */
  readonly accepted?: { readonly because: string };
}

export interface BudgetAnswer {
  /** The document's version that the budget was computed from; null where the document is not open. */
  readonly version: number | null;
  /** The text has statements that can't be read, or was edited since: the budget is the last good one. */
  readonly stale: boolean;
  readonly budget: Budget | null;
  /** Where each supply, device, splice, run and jumper is declared, by name. */
  readonly locations: Readonly<Record<string, ProtocolLocation>>;
  readonly findings: readonly LocatedFinding[];
}

export interface AnalysedParams {
  readonly uri: string;
  readonly version: number | null;
}

export interface LibraryDocumentParams {
  readonly uri: string;
}

export interface LibraryDocumentAnswer {
  /** Null where there is no such document. */
  readonly text: string | null;
}
