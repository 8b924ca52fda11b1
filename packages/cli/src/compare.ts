import { existsSync } from 'node:fs';
import { relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type CheckedRecord, compareChecked, differingRecords } from '@ohmstead/language';
import { type FileVersion, openFiles, versionOf } from '@ohmstead/language/node';
import { type Comparison, type Severity, type WorkOrders, workOrders } from '@ohmstead/record';
import {
  compareHtml,
  compareMarkdown,
  compareText,
  workOrderHtml,
  workOrderMarkdown,
  workOrderText,
} from '@ohmstead/views';
import { openAtRevision, revisionOf, versionAtRevision } from './git.js';
import type { ExitStatus } from './main.js';
import { openRecord } from './open.js';
import { severities } from './report.js';
import { complain, type Surroundings } from './surroundings.js';

interface CompareOptions {
  readonly format: 'text' | 'json' | 'md' | 'html';
  readonly failOn: Severity;
  /** The work that leads from one to the other, in place of what differs. */
  readonly workOrder?: boolean;
  /** The record is set against itself under this profile. */
  readonly profile?: string;
}

/** Prints what changed. With one file: a plan against the record it changes, any other against its last commit. */
export function compare(
  here: Surroundings,
  before: string,
  after: string | undefined,
  options: CompareOptions,
): ExitStatus {
  const sides = sidesAsked(here, before, after, options.profile);
  const [old, now] = sides;
  if (!old || !now) return 2;
  const comparison = compareChecked(old, now);
  here.out(
    options.workOrder
      ? writtenOrder(workOrders(old.analysis, now.analysis), options.format, comparison.profile.after ?? '')
      : written(comparison, options.format),
  );
  return brings(comparison, options.failOn) ? 1 : 0;
}

function sidesAsked(
  here: Surroundings,
  before: string,
  after: string | undefined,
  profile: string | undefined,
): readonly (CheckedRecord | undefined)[] {
  if (profile === undefined) {
    const pair = after === undefined ? [`git:HEAD:${before}`, before] : [before, after];
    const differing = onlyDiffering(here, pair[0]!, pair[1]!);
    return differing ?? (after === undefined ? sidesOf(here, before) : openBoth(here, before, after));
  }
  if (after === undefined) return [openRecord(here, before)?.record, openRecord(here, before, profile)?.record];
  complain(here, '--profile sets one record against itself under another profile: name a single file.');
  return [];
}

function written(comparison: Comparison, format: CompareOptions['format']): string {
  switch (format) {
    case 'json':
      return `${JSON.stringify(comparison, null, 2)}\n`;
    case 'md':
      return compareMarkdown(comparison);
    case 'html':
      return compareHtml(comparison);
    default:
      return compareText(comparison);
  }
}

function writtenOrder(orders: WorkOrders, format: CompareOptions['format'], profile: string): string {
  switch (format) {
    case 'json':
      return `${JSON.stringify(orders, null, 2)}\n`;
    case 'md':
      return workOrderMarkdown(orders);
    case 'html':
      return workOrderHtml(orders, profile);
    default:
      return workOrderText(orders);
  }
}

/** Whether there is a new finding that nobody accepted, at or above a severity. */
export function brings({ findings }: Comparison, least: Severity): boolean {
  const limit = severities.indexOf(least);
  return findings.new.some(({ severity, accepted }) => !accepted && severities.indexOf(severity) <= limit);
}

interface SideOptions {
  /** Without a word where there is none. */
  readonly quiet?: boolean;
  /** Another version of the record. */
  readonly like?: CheckedRecord | undefined;
}

/** The one record that an argument names: a file, or `git:REV:PATH`. */
export function openSide(
  here: Surroundings,
  argument: string,
  { quiet = false, like }: SideOptions = {},
): CheckedRecord | undefined {
  // A file that is really called so is meant before a revision is.
  const revision = isRevision(here, argument) ? revisionOf(argument) : undefined;
  if (!revision) return openRecord(here, argument)?.record;
  const opened = openAtRevision(here, revision, like);
  if ('record' in opened) return opened.record;
  if (!quiet) complain(here, opened.problem);
  return undefined;
}

/** Two versions of one record, read no further than they differ; undefined where the whole of both is wanted. */
function onlyDiffering(
  here: Surroundings,
  before: string,
  after: string,
): readonly [CheckedRecord, CheckedRecord] | undefined {
  const now = versionAt(here, after);
  const old = now && versionAt(here, before);
  const records = old && differingRecords(old, now);
  if (records) for (const problem of new Set([...old.problems, ...now.problems])) complain(here, problem);
  return records;
}

function versionAt(here: Surroundings, argument: string): FileVersion | undefined {
  const revision = isRevision(here, argument) ? revisionOf(argument) : undefined;
  return revision ? versionAtRevision(here, revision) : versionOf(argument, here.cwd);
}

/** Two files are opened together, so that what they have in common is solved once. */
function openBoth(here: Surroundings, before: string, after: string): readonly (CheckedRecord | undefined)[] {
  if (isRevision(here, before) || isRevision(here, after)) {
    const now = openSide(here, after);
    return [openSide(here, before, { like: now }), now];
  }
  return openFiles([before, after], here.cwd, (problem) => complain(here, problem)).map((result) => {
    if ('record' in result) return result.record;
    complain(here, result.message);
    return undefined;
  });
}

function isRevision({ cwd }: Surroundings, argument: string): boolean {
  return !existsSync(resolve(cwd, argument)) && revisionOf(argument) !== undefined;
}

function sidesOf(here: Surroundings, file: string): readonly (CheckedRecord | undefined)[] {
  const record = openSide(here, file);
  if (!record) return [undefined, undefined];
  const { plan } = record.reading;
  if (!plan) return [openSide(here, `git:HEAD:${file}`, { like: record }), record];
  const revision = existsSync(resolve(here.cwd, file)) ? undefined : revisionOf(file);
  const base = relative(here.cwd, fileURLToPath(plan.baseUri)).split(sep).join('/');
  return [openSide(here, revision ? `git:${revision.revision}:${base}` : base, { like: record }), record];
}
