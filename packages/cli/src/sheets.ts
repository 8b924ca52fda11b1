import { fileURLToPath } from 'node:url';
import {
  type PaperName,
  paperCsv,
  paperNames,
  type PapersOptions,
  papersHtml,
  papersMarkdown,
  papersOf,
  usualAllowance,
  workOrderPaper,
} from '@ohmstead/views';
import type { CheckedRecord } from '@ohmstead/language';
import { workOrders } from '@ohmstead/record';
import { openSide } from './compare.js';
import type { ExitStatus } from './main.js';
import { openRecord } from './open.js';
import { complain, type Surroundings } from './surroundings.js';

interface SheetsOptions {
  readonly format: 'md' | 'html' | 'csv';
  readonly only?: PaperName[];
  readonly date?: string;
  readonly by?: string;
  /** The record that stands, for the work order; a plan's own base otherwise. */
  readonly from?: string;
  readonly as?: 'found' | 'left';
  readonly sheet?: 'a4' | 'letter';
  /** Per cent of a run's length. */
  readonly allowance?: number;
  /** False with `--no-address`. */
  readonly address: boolean;
}

/** Papers that are one table, hence fit for CSV. */
const tableNames = paperNames.filter((name) => !['head', 'cautions'].includes(name));

/** Prints the installer's papers. */
export function sheets(here: Surroundings, file: string, options: SheetsOptions): ExitStatus {
  const { format, only, date, by, address } = options;
  if (format === 'csv' && (only?.length !== 1 || !tableNames.includes(only[0]!))) {
    complain(here, `CSV holds one table: name it with --only, one of ${tableNames.join(', ')}.`);
    return 2;
  }
  const opened = openRecord(here, file);
  if (!opened) return 2;
  const { record } = opened;
  const standing = standingRecord(here, record, options.from);
  if (standing === 'unreadable') return 2;
  const wanted: PapersOptions = {
    workOrder: standing && workOrderPaper(workOrders(standing.analysis, record.analysis)),
    only,
    date,
    by,
    condition: options.as === undefined ? undefined : `as ${options.as}`,
    withoutAddress: !address,
    findings: record.findings,
    allowance: options.allowance === undefined ? usualAllowance : { ...usualAllowance, share: options.allowance / 100 },
  };
  const made = papersOf(record.analysis, record.budget(), wanted);
  if (made.papers.length === 0) {
    complain(here, 'A work order leads from one record to another: name the one that stands with --from.');
    return 2;
  }
  here.out(written());
  return 0;

  function written(): string {
    switch (format) {
      case 'md':
        return papersMarkdown(made);
      case 'csv':
        return made.papers.map((paper) => paperCsv(paper) ?? '').join('');
      default:
        return papersHtml(made, { sheet: sheetSize() });
    }
  }

  /** What is in the printers of where the record is from, unless said otherwise. */
  function sheetSize() {
    if (options.sheet !== undefined) return options.sheet === 'a4' ? 'A4' : 'letter';
    return made.profile === 'north-america' ? 'letter' : 'A4';
  }
}

/** What is there before the work: named, or what a plan changes; a plain record stands already. */
function standingRecord(
  here: Surroundings,
  { reading }: CheckedRecord,
  from: string | undefined,
): CheckedRecord | 'unreadable' | undefined {
  if (from !== undefined) return openSide(here, from) ?? 'unreadable';
  if (reading.plan === undefined) return undefined;
  return openRecord(here, fileURLToPath(reading.plan.baseUri))?.record ?? 'unreadable';
}
