/** What a check is: one that runs over the analysis, or one whose sentence the reader of the text asks for. */

import type { Analysis } from '../analysis-types.js';
import type { Fix, RelatedPlace, Severity } from '../finding.js';
import type { Installation } from '../model.js';
import type { RecordPath } from '../place-in-record.js';

interface CheckHead {
  /** Kebab-case, stable for ever. */
  readonly code: string;
  /** What it says in a list of checks, without figures: "A supply is shorted". */
  readonly title: string;
}

/** A conclusion on its way to becoming a finding. Words and mends are worked out only when they are wanted. */
export interface Report {
  readonly path: RecordPath;
  readonly message: string | (() => string);
  /** Defaults to the first of the check's severities. */
  readonly severity?: Severity;
  readonly related?: readonly RelatedPlace[];
  /** Parts, runs and jumpers it is about, the one it is mostly about first. */
  readonly parts: readonly string[];
  /** Mends, the best first; each is proved before it is offered. */
  readonly mends?: () => Iterable<Fix>;
}

/** Takes a report of the check that is running. */
export type ReportFinding = (report: Report) => void;

/** A report with the check that made it. */
export interface Raised extends Report {
  readonly check: RecordCheck;
  readonly severity: Severity;
}

export interface RecordCheck extends CheckHead {
  readonly kind: 'record';
  /** The severities it can have, the usual one first. */
  readonly severities: readonly Severity[];
  /** True for dangers: an `accept` of it is an error. */
  readonly forbidsAccepting: boolean;
  /** `cluster`: it looks at nothing beyond what a `Cluster` names, so that what it says of one holds until that changes. */
  readonly reach: 'cluster' | 'record';
  /** Whether it says of part of a record, which hangs together with nothing else, what it says of that among the rest. */
  isToldByItself(installation: Installation): boolean;
  run(analysis: Analysis, report: ReportFinding): void;
  /** Runs when all others have spoken and yielded to one another. */
  runAfter(analysis: Analysis, found: readonly Raised[], report: ReportFinding): void;
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
  /** The whole record unless it says otherwise. */
  readonly reach?: RecordCheck['reach'];
  readonly isToldByItself?: RecordCheck['isToldByItself'];
  readonly run?: RecordCheck['run'];
  readonly runAfter?: RecordCheck['runAfter'];
}): RecordCheck {
  const { code, severity, title, forbidsAccepting = false, reach = 'record' } = check;
  const { isToldByItself = () => true, run = () => {}, runAfter = () => {} } = check;
  const severities = typeof severity === 'string' ? [severity] : severity;
  return { kind: 'record', code, severities, title, forbidsAccepting, reach, isToldByItself, run, runAfter };
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
