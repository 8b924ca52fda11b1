import type { Severity } from '../finding.js';
import { readerChecks, recordChecks } from './registry.js';

export { readerChecks, recordChecks } from './registry.js';
export * from './types.js';
export type { DuplicateNameFacts } from './duplicate-name.js';
export type { ImportCycleFacts } from './import-cycle.js';
export type { ImportMissingFacts } from './import-missing.js';
export type { ImportOutsideFacts } from './import-outside.js';
export type { PlanCycleFacts } from './plan-cycle.js';
export type { SyntaxFacts } from './syntax.js';
export type { UnitMismatchFacts } from './unit-mismatch.js';
export type { UnknownNameFacts } from './unknown-name.js';
export type { UnknownTerminalFacts } from './unknown-terminal.js';
export type { UnknownTypeFacts } from './unknown-type.js';
export type { ValueOutOfRangeFacts } from './value-out-of-range.js';

/** What is said about a code in lists: hover on `accept`, completion, the pages. */
export interface CheckSummary {
  readonly code: string;
  readonly title: string;
  readonly severity: Severity;
  readonly forbidsAccepting: boolean;
  /** False for what is raised while the text is read: such findings can't be accepted. */
  readonly acceptable: boolean;
}

/** All codes in order of name. */
export const checkSummaries: ReadonlyMap<string, CheckSummary> = new Map(
  [
    ...Object.values(readerChecks).map(({ code, title, severity }) => ({
      code,
      title,
      severity,
      forbidsAccepting: false,
      acceptable: false,
    })),
    ...recordChecks.map(({ code, title, severities, forbidsAccepting }) => ({
      code,
      title,
      severity: severities[0] ?? ('error' as const),
      forbidsAccepting,
      acceptable: !forbidsAccepting,
    })),
  ]
    .sort((one, other) => (one.code < other.code ? -1 : 1))
    .map((summary) => [summary.code, summary] as const),
);
