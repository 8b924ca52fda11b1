/** Two checked records compared, the same for the command line and the editor. */

import {
  type ComparedFinding,
  type ComparedSide,
  type Comparison,
  compareRecords,
  type Finding,
  type Levels,
  runChecksWhereDifferent,
  withLevels,
} from '@ohmstead/record';
import type { CheckedRecord } from './pipeline.js';

/** What is concluded of circuits that are the same in both is not worked out where both have the same levels. */
export function compareChecked(before: CheckedRecord, after: CheckedRecord): Comparison {
  if (!isSame(before.levels, after.levels)) return compareRecords(comparedSide(before), comparedSide(after));
  const concluded = runChecksWhereDifferent(before.analysis, after.analysis);
  return compareRecords(sideWith(before, concluded.before), sideWith(after, concluded.after));
}

/** With everything that is concluded of the circuit: what a plan leaves to the record underneath is true of its circuit too. */
export function comparedSide(record: CheckedRecord): ComparedSide {
  return sideOf(record, record.concluded);
}

function sideWith(record: CheckedRecord, concluded: readonly Finding[]): ComparedSide {
  return sideOf(record, withLevels(concluded, record.levels));
}

function sideOf({ analysis, read }: CheckedRecord, concluded: readonly Finding[]): ComparedSide {
  return { analysis, findings: [...read, ...concluded].map(comparedFinding) };
}

function isSame(one: Levels, other: Levels): boolean {
  return one.size === other.size && [...one].every(([code, level]) => other.get(code) === level);
}

function comparedFinding(
  finding: Omit<ComparedFinding, 'accepted'> & { readonly accepted?: unknown },
): ComparedFinding {
  const { code, severity, message, parts, accepted } = finding;
  return { code, severity, message, parts, accepted: accepted !== undefined };
}
