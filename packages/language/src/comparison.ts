/** Two checked records compared, the same for the command line and the editor. */

import {
  type ComparedFinding,
  type ComparedSide,
  type Comparison,
  compareRecords,
  type Finding,
  isToldByItself,
  type Levels,
  runChecksApart,
  runChecksWhereDifferent,
  withLevels,
} from '@ohmstead/record';
import { differingText } from './differing-text.js';
import { type CheckedRecord, checkRecord } from './pipeline.js';
import { readRecord } from './read.js';
import { parseWiring } from './reading/document.js';

/** What is concluded of circuits that are the same in both is not worked out where both have the same levels. */
export function compareChecked(before: CheckedRecord, after: CheckedRecord): Comparison {
  const isAlike = isSame(before.levels, after.levels);
  const concluded = isAlike
    ? runChecksWhereDifferent(before.analysis, after.analysis)
    : { before: runChecksApart(before.analysis), after: runChecksApart(after.analysis) };
  const [one, other] = [sideWith(before, concluded.before), sideWith(after, concluded.after)];
  return compareRecords(forgets(after) ? unread(one) : one, forgets(before) ? unread(other) : other);
}

/** What was read before the work that a plan asks for says nothing of the circuit after it: what was found of it has not gone either. */
function forgets({ reading, analysis }: CheckedRecord): boolean {
  return reading.plan !== undefined && (analysis.installation.readings ?? []).length === 0;
}

function unread(side: ComparedSide): ComparedSide {
  return { ...side, findings: side.findings.filter(({ code }) => !/^readings?-/.test(code)) };
}

/** A record's own text, which may import or change others. */
export interface VersionText {
  readonly uri: string;
  readonly text: string;
  readonly levels?: Levels;
}

/**
 * Two versions of a record with only as much in them as differs and what that hangs together with: their comparison and their work orders
 * are those of the whole. Undefined where that can be told from the whole alone.
 */
export function differingRecords(
  before: VersionText,
  after: VersionText,
): readonly [CheckedRecord, CheckedRecord] | undefined {
  const { levels = new Map() } = before;
  const texts = isSame(levels, after.levels ?? new Map()) ? differingText(before.text, after.text) : undefined;
  if (!texts) return undefined;
  // Under addresses of their own: nobody is to take them for the files.
  const read = ({ uri }: VersionText, text: string) => readRecord(parseWiring(`${DIFFERING}${uri}`, text));
  const old = checkRecord(read(before, texts.before), { levels });
  const now = checkRecord(read(after, texts.after), { levels, previous: old });
  // A mistake is explained by all the names there are.
  const isApart = ({ reading }: CheckedRecord) => reading.findings.length === 0 && isToldByItself(reading.installation);
  return [old, now].every(isApart) ? [old, now] : undefined;
}

const DIFFERING = 'differing:';

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
