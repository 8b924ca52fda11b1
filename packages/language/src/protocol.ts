/**
 * What editor and language server say to one another beyond the language server protocol. Plain data only, so that the
 * extension's desktop and web entries, its panel and the server can all read it.
 */

import type { Budget, Comparison, Explanation, Pair, Severity, ShownReading, WorkOrders } from '@ohmstead/record';
import type { ReadingChoices } from './services/reading-choices.js';

/** Documents of the shipped library and the pages of the checks: `ohmstead-library:/…`, read-only. */
export const LIBRARY_SCHEME = 'ohmstead-library';

/** Request, BudgetParams -> BudgetAnswer. */
export const BUDGET_REQUEST = 'ohmstead/budget';
/** Request, ExplainParams -> ExplainAnswer: which faults fit the readings of a record. */
export const EXPLAIN_REQUEST = 'ohmstead/explain';
/** Request, TakeReadingParams -> TakeReadingAnswer: the edit that writes a reading into the record. */
export const TAKE_READING_REQUEST = 'ohmstead/takeReading';
/** Notification from the server, AnalysedParams: a document's findings and budget are up to date with this version. */
export const ANALYSED_NOTIFICATION = 'ohmstead/analysed';
/** Request, LibraryDocumentParams -> LibraryDocumentAnswer. */
export const LIBRARY_DOCUMENT_REQUEST = 'ohmstead/libraryDocument';

/** Request, CompareParams -> CompareAnswer. */
export const COMPARE_REQUEST = 'ohmstead/compare';
/** Request, PlanParams -> PlanBaseAnswer: the record that a plan changes. */
export const PLAN_BASE_REQUEST = 'ohmstead/planBase';
/** Request, PlanParams -> FlattenAnswer: a plan as the full record that it results in. */
export const FLATTEN_REQUEST = 'ohmstead/flatten';

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
interface ProtocolPosition {
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

/** What a record is set against: the record that it changes as a plan, another, or itself at an earlier time. */
export type ComparedWith =
  | { readonly kind: 'base' }
  | { readonly kind: 'record'; readonly uri: string }
  /** Texts of that time by URI, null where there was no such file. */
  | { readonly kind: 'earlier'; readonly texts: Readonly<Record<string, string | null>> };

export interface CompareParams {
  readonly uri: string;
  readonly against: ComparedWith;
}

export type CompareAnswer =
  | {
      readonly kind: 'compared';
      readonly comparison: Comparison;
      readonly orders: WorkOrders;
      /** The record's text can't be read at present: this is of the last that could. */
      readonly stale: boolean;
      /** What can't be read of them is left out. */
      readonly broken: Pair<boolean>;
      /** Where parts and runs are declared, by the names of each side; empty for an earlier time. */
      readonly locations: Pair<Readonly<Record<string, ProtocolLocation>>>;
    }
  /** Texts of that earlier time that are wanted too; the same question is asked again with them. */
  | { readonly kind: 'needs'; readonly uris: readonly string[] }
  | { readonly kind: 'refused'; readonly message: string };

export interface PlanParams {
  readonly uri: string;
}

export interface PlanBaseAnswer {
  /** Null for a record that is no plan. */
  readonly uri: string | null;
}

export type FlattenAnswer =
  | { readonly text: string; readonly baseUri: string }
  /** Why not, in one sentence. */
  | { readonly refused: string };

export interface ExplainParams {
  readonly uri: string;
  /** Something was worked on since the house was last right. */
  readonly recentWork?: boolean;
}

export interface ExplainAnswer {
  /** The document's version that it was worked out from; null where the document is not open. */
  readonly version: number | null;
  /** The text has statements that can't be read: it is of the last good one. */
  readonly stale: boolean;
  readonly explained: {
    readonly title: string;
    readonly profile: string;
    readonly explanation: Explanation;
    readonly readings: readonly ShownReading[];
    readonly choices: ReadingChoices;
  } | null;
  /** Where each part is declared, by name. */
  readonly locations: Readonly<Record<string, ProtocolLocation>>;
  /** Where each reading stands, by `block/index`. */
  readonly readings: Readonly<Record<string, ProtocolLocation>>;
}

export interface TakeReadingParams {
  readonly uri: string;
  /** As in a `readings` block: `idle bell-tx.a, bell-tx.b 18.7 V`. */
  readonly line: string;
  /** The day: `2026-11-20`. */
  readonly on: string;
}

export type TakeReadingAnswer =
  | { readonly edit: { readonly range: ProtocolRange; readonly newText: string }; readonly version: number }
  /** Why not, in a sentence or more. */
  | { readonly refused: string };
