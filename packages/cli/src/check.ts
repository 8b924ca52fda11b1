import { newFindings, type Severity } from '@ohmstead/record';
import { openSide, sideOf } from './compare.js';
import { isAtRevision } from './git.js';
import type { ExitStatus } from './main.js';
import { complain, type OpenedRecord, openRecords, reported, textOfFile } from './open.js';
import { failsOn, findingsJson, findingsText } from './report.js';

export interface CheckCommandOptions {
  readonly format: 'text' | 'json';
  readonly failOn: Severity;
  /** A record, or a revision at which each of the records is looked up: only what these had not is told. */
  readonly against?: string;
}

/** Prints all findings of the records at the paths. */
export function check(paths: readonly string[], options: CheckCommandOptions): ExitStatus {
  const { opened, failed } = openRecords(paths);
  const { against } = options;
  if (against !== undefined && !canBeAgainst(against, opened)) return 2;
  const findings = opened.flatMap((one) =>
    (against === undefined ? one.record.findings : brought(one, against)).map(reported),
  );
  process.stdout.write(
    options.format === 'json' ? findingsJson(findings) : findingsText(findings, opened.length, textOfFile),
  );
  if (failed) return 2;
  return failsOn(findings, options.failOn) ? 1 : 0;
}

/** A record by itself can be set against one record; several can only be set against a revision. */
function canBeAgainst(against: string, opened: readonly OpenedRecord[]): boolean {
  if (isRevision(against)) return isAtRevision(against.slice('git:'.length), opened[0]?.path);
  if (opened.length > 1) complain('--against takes git:REVISION where several records are checked.');
  return opened.length <= 1 && openSide(against) !== undefined;
}

/** `git:REV` without a path. */
function isRevision(against: string): boolean {
  return against.startsWith('git:') && !against.slice('git:'.length).includes(':');
}

/** All of them where the record was not there before. */
function brought({ path, record }: OpenedRecord, against: string): OpenedRecord['record']['findings'] {
  const old = isRevision(against) ? openSide(`${against}:${path}`, true) : openSide(against);
  if (!old) return record.findings;
  return newFindings(
    { installation: old.analysis.installation, findings: sideOf(old).findings },
    { installation: record.analysis.installation, findings: record.findings },
  );
}
