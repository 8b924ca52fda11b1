import { comparedSide, type LocatedFinding } from '@ohmstead/language';
import { newFindings, type Severity } from '@ohmstead/record';
import manifest from '../package.json' with { type: 'json' };
import { openSide } from './compare.js';
import { isAtRevision } from './git.js';
import type { ExitStatus } from './main.js';
import { type OpenedRecord, openRecords, reported, textOfFile } from './open.js';
import { failsOn, findingsJson, findingsText } from './report.js';
import { findingsGithub } from './report-github.js';
import { findingsSarif } from './report-sarif.js';
import { complain, type Surroundings } from './surroundings.js';

interface CheckCommandOptions {
  readonly format: 'text' | 'json' | 'sarif' | 'github';
  readonly failOn: Severity;
  /** A record, or a revision at which each of the records is looked up: only what these had not is told. */
  readonly against?: string;
  /** Judged by in place of the records' own. */
  readonly profile?: string;
}

/** Prints all findings of the records at the paths. */
export function check(here: Surroundings, paths: readonly string[], options: CheckCommandOptions): ExitStatus {
  const { opened, failed } = openRecords(here, paths, options.profile);
  const { against } = options;
  if (against !== undefined && !canBeAgainst(here, against, opened)) return 2;
  const found = opened.flatMap((one) => (against === undefined ? one.record.findings : brought(here, one, against)));
  here.out(written(here, found, options.format, { files: opened.length, complete: !failed }));
  if (failed) return 2;
  return failsOn(
    found.map((one) => reported(here, one)),
    options.failOn,
  )
    ? 1
    : 0;
}

interface Checked {
  readonly files: number;
  /** False where something could not be read. */
  readonly complete: boolean;
}

function written(
  here: Surroundings,
  found: readonly LocatedFinding[],
  format: CheckCommandOptions['format'],
  { files, complete }: Checked,
): string {
  const findings = found.map((one) => reported(here, one));
  switch (format) {
    case 'json':
      return findingsJson(findings);
    case 'sarif': {
      const explained = found.map((one) => ({ ...reported(here, one), because: one.accepted?.because }));
      return findingsSarif(explained, { version: manifest.version, complete });
    }
    case 'github': {
      return findingsGithub(findings, files, {
        workspace: here.env['GITHUB_WORKSPACE'] || here.cwd,
        folder: here.cwd,
      });
    }
    default:
      return findingsText(findings, files, (file) => textOfFile(here, file));
  }
}

/** A record by itself can be set against one record; several can only be set against a revision. */
function canBeAgainst(here: Surroundings, against: string, opened: readonly OpenedRecord[]): boolean {
  if (isRevision(against)) return isAtRevision(here, against.slice('git:'.length), opened[0]?.path);
  if (opened.length > 1) complain(here, '--against takes git:REVISION where several records are checked.');
  return opened.length <= 1 && openSide(here, against) !== undefined;
}

/** `git:REV` without a path. */
function isRevision(against: string): boolean {
  return against.startsWith('git:') && !against.slice('git:'.length).includes(':');
}

/** All of them where the record was not there before. */
function brought(
  here: Surroundings,
  { path, record }: OpenedRecord,
  against: string,
): OpenedRecord['record']['findings'] {
  const old = isRevision(against)
    ? openSide(here, `${against}:${path}`, { quiet: true, like: record })
    : openSide(here, against, { like: record });
  if (!old) return record.findings;
  return newFindings(
    { installation: old.analysis.installation, findings: comparedSide(old).findings },
    { installation: record.analysis.installation, findings: record.findings },
  );
}
