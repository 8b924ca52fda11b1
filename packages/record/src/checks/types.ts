/** What a check is: one that runs over the analysis, or one whose sentence the reader of the text asks for. */

import type { Analysis } from '../analysis-types.js';
import type { RelatedPlace, Severity } from '../finding.js';
import type { RecordPath } from '../place-in-record.js';

interface CheckHead {
  /** Kebab-case, stable for ever. */
  readonly code: string;
  /** What it says in a list of checks, without figures: "A supply is shorted". */
  readonly title: string;
}

/** A conclusion on its way to becoming a finding. */
export interface Report {
  readonly path: RecordPath;
  readonly message: string;
  /** Defaults to the first of the check's severities. */
  readonly severity?: Severity;
  readonly related?: readonly RelatedPlace[];
  /** Parts, runs and jumpers it is about. */
  readonly parts: readonly string[];
}

/** Takes a report of the check that is running. */
export type ReportFinding = (report: Report) => void;

export interface RecordCheck extends CheckHead {
  readonly kind: 'record';
  /** The severities it can have, the usual one first. */
  readonly severities: readonly Severity[];
  /** True for dangers: an `accept` of it is an error. */
  readonly forbidsAccepting: boolean;
  /** Needs no solved figures: speaks on held circuits too. */
  run(analysis: Analysis, report: ReportFinding): void;
}

/** Raised while the text is read; `Facts` is what its sentence needs. */
export interface ReaderCheck<Facts> extends CheckHead {
  readonly kind: 'reader';
  readonly severity: Severity;
  sentence(facts: Facts): string;
}

/** A check of the record or its circuits. */
export function defineCheck(check: {
  readonly code: string;
  readonly severity: Severity | readonly Severity[];
  readonly title: string;
  readonly forbidsAccepting?: boolean;
  readonly run: (analysis: Analysis, report: ReportFinding) => void;
}): RecordCheck {
  const { code, severity, title, forbidsAccepting = false, run } = check;
  const severities = typeof severity === 'string' ? [severity] : severity;
  return { kind: 'record', code, severities, title, forbidsAccepting, run };
}

/** A check that the reader of the text raises. */
export function defineReaderCheck<Facts>(check: {
  readonly code: string;
  readonly severity: Severity;
  readonly title: string;
  readonly sentence: (facts: Facts) => string;
}): ReaderCheck<Facts> {
  return { kind: 'reader', ...check };
}
