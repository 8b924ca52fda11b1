import { existsSync } from 'node:fs';
import { relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type CheckedRecord, compareChecked } from '@ohmstead/language';
import { openFiles } from '@ohmstead/language/node';
import { type Comparison, type Severity, type WorkOrders, workOrders } from '@ohmstead/record';
import {
  compareHtml,
  compareMarkdown,
  compareText,
  workOrderHtml,
  workOrderMarkdown,
  workOrderText,
} from '@ohmstead/views';
import { openAtRevision, revisionOf } from './git.js';
import type { ExitStatus } from './main.js';
import { complain, openRecord } from './open.js';
import { severities } from './report.js';

export interface CompareOptions {
  readonly format: 'text' | 'json' | 'md' | 'html';
  readonly failOn: Severity;
  /** The work that leads from one to the other, in place of what differs. */
  readonly workOrder?: boolean;
  /** The record is set against itself under this profile. */
  readonly profile?: string;
}

/** Prints what changed. With one file: a plan against the record it changes, any other against its last commit. */
export function compare(before: string, after: string | undefined, options: CompareOptions): ExitStatus {
  const sides = sidesAsked(before, after, options.profile);
  const [old, now] = sides;
  if (!old || !now) return 2;
  const comparison = compareChecked(old, now);
  process.stdout.write(
    options.workOrder
      ? writtenOrder(workOrders(old.analysis, now.analysis), options.format, comparison.profile.after ?? '')
      : written(comparison, options.format),
  );
  return brings(comparison, options.failOn) ? 1 : 0;
}

function sidesAsked(
  before: string,
  after: string | undefined,
  profile: string | undefined,
): readonly (CheckedRecord | undefined)[] {
  if (profile === undefined) return after === undefined ? sidesOf(before) : openBoth(before, after);
  if (after === undefined) return [openRecord(before)?.record, openRecord(before, profile)?.record];
  complain('--profile sets one record against itself under another profile: name a single file.');
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

export interface SideOptions {
  /** Without a word where there is none. */
  readonly quiet?: boolean;
  /** Another version of the record. */
  readonly like?: CheckedRecord | undefined;
}

/** The one record that an argument names: a file, or `git:REV:PATH`. */
export function openSide(argument: string, { quiet = false, like }: SideOptions = {}): CheckedRecord | undefined {
  // A file that is really called so is meant before a revision is.
  const revision = isRevision(argument) ? revisionOf(argument) : undefined;
  if (!revision) return openRecord(argument)?.record;
  const opened = openAtRevision(revision, like);
  if ('record' in opened) return opened.record;
  if (!quiet) complain(opened.problem);
  return undefined;
}

/** Two files are opened together, so that what they have in common is solved once. */
function openBoth(before: string, after: string): readonly (CheckedRecord | undefined)[] {
  if (isRevision(before) || isRevision(after)) {
    const now = openSide(after);
    return [openSide(before, { like: now }), now];
  }
  return openFiles([before, after], process.cwd(), complain).map((result) => {
    if ('record' in result) return result.record;
    complain(result.message);
    return undefined;
  });
}

function isRevision(argument: string): boolean {
  return !existsSync(argument) && revisionOf(argument) !== undefined;
}

function sidesOf(file: string): readonly (CheckedRecord | undefined)[] {
  const record = openSide(file);
  if (!record) return [undefined, undefined];
  const { plan } = record.reading;
  if (!plan) return [openSide(`git:HEAD:${file}`, { like: record }), record];
  const revision = existsSync(file) ? undefined : revisionOf(file);
  const base = relative(process.cwd(), fileURLToPath(plan.baseUri)).split(sep).join('/');
  return [openSide(revision ? `git:${revision.revision}:${base}` : base, { like: record }), record];
}
