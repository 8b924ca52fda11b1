/** Opens records for a command and says, in one line each on standard error, what could not be read. */
import { readFileSync } from 'node:fs';
import { relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { CheckedRecord, LocatedFinding } from '@ohmstead/language';
import { openFiles } from '@ohmstead/language/node';
import { findRecords } from './files.js';
import type { ReportedFinding } from './report.js';

export interface OpenedRecord {
  readonly path: string;
  readonly record: CheckedRecord;
}

/** The records that can be read, and whether there was anything that could not. */
export function openRecords(paths: readonly string[], profile?: string): { opened: OpenedRecord[]; failed: boolean } {
  const { files, problems } = findRecords(paths);
  for (const problem of problems) complain(problem);
  const opened: OpenedRecord[] = [];
  let failed = problems.length > 0;
  const settingsFail = (problem: string) => {
    complain(problem);
    failed = true;
  };
  for (const result of openFiles(files, process.cwd(), settingsFail, profile)) {
    if ('record' in result) opened.push(result);
    else {
      complain(result.message);
      failed = true;
    }
  }
  return { opened, failed };
}

/** The one record that a command is about; undefined (and said why) where it cannot be read. */
export function openRecord(path: string, profile?: string): OpenedRecord | undefined {
  const [result] = openFiles([path], process.cwd(), complain, profile);
  if (result && 'record' in result) return result;
  if (result) complain(result.message);
  return undefined;
}

export function complain(sentence: string): void {
  process.stderr.write(`ohmstead: ${sentence}\n`);
}

/** A finding with paths from the working folder in place of addresses. */
export function reported({ uri, range, severity, code, message, related, accepted }: LocatedFinding): ReportedFinding {
  return {
    file: pathOf(uri),
    range,
    severity,
    code,
    message,
    related: related.map((place) => ({ file: pathOf(place.uri), range: place.range, message: place.message })),
    accepted: accepted !== undefined,
  };
}

/** From the working folder where the file lies in it; addresses of the shipped library stay as they are. */
function pathOf(uri: string): string {
  if (!uri.startsWith('file:')) return uri;
  const path = fileURLToPath(uri);
  const near = relative(process.cwd(), path);
  return (near.startsWith('..') ? path : near).split(sep).join('/');
}

export function textOfFile(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}
