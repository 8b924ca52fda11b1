/** Opens records for a command and says, in one line each on standard error, what could not be read. */
import { readFileSync } from 'node:fs';
import { relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CheckedRecord, LocatedFinding } from '@ohmstead/language';
import { openFiles } from '@ohmstead/language/node';
import { findRecords } from './files.js';
import type { ReportedFinding } from './report.js';
import { complain, type Surroundings } from './surroundings.js';

export interface OpenedRecord {
  readonly path: string;
  readonly record: CheckedRecord;
}

/** The records that can be read, and whether there was anything that could not. */
export function openRecords(
  here: Surroundings,
  paths: readonly string[],
  profile?: string,
): { opened: OpenedRecord[]; failed: boolean } {
  const { files, problems } = findRecords(here.cwd, paths);
  for (const problem of problems) complain(here, problem);
  const opened: OpenedRecord[] = [];
  let failed = problems.length > 0;
  const settingsFail = (problem: string) => {
    complain(here, problem);
    failed = true;
  };
  for (const result of openFiles(files, here.cwd, settingsFail, profile)) {
    if ('record' in result) opened.push(result);
    else {
      complain(here, result.message);
      failed = true;
    }
  }
  return { opened, failed };
}

/** The one record that a command is about; undefined (and said why) where it cannot be read. */
export function openRecord(here: Surroundings, path: string, profile?: string): OpenedRecord | undefined {
  const [result] = openFiles([path], here.cwd, (problem) => complain(here, problem), profile);
  if (result && 'record' in result) return result;
  if (result) complain(here, result.message);
  return undefined;
}

/** A finding with paths from the working folder in place of addresses. */
export function reported(here: Surroundings, finding: LocatedFinding): ReportedFinding {
  const { uri, range, severity, code, message, related, accepted } = finding;
  return {
    file: pathOf(here, uri),
    range,
    severity,
    code,
    message,
    related: related.map((place) => ({ file: pathOf(here, place.uri), range: place.range, message: place.message })),
    accepted: accepted !== undefined,
  };
}

/** From the working folder where the file lies in it; addresses of the shipped library stay as they are. */
function pathOf(here: Surroundings, uri: string): string {
  if (!uri.startsWith('file:')) return uri;
  const path = fileURLToPath(uri);
  const near = relative(here.cwd, path);
  return (near.startsWith('..') ? path : near).split(sep).join('/');
}

export function textOfFile(here: Surroundings, path: string): string | undefined {
  try {
    return readFileSync(resolve(here.cwd, path), 'utf8');
  } catch {
    return undefined;
  }
}
