import {
  type PaperName,
  paperCsv,
  paperNames,
  type PapersOptions,
  papersHtml,
  papersMarkdown,
  papersOf,
  usualAllowance,
} from '@ohmstead/views';
import type { ExitStatus } from './main.js';
import { complain, openRecord } from './open.js';

export interface SheetsOptions {
  readonly format: 'md' | 'html' | 'csv';
  readonly only?: PaperName[];
  readonly date?: string;
  readonly by?: string;
  readonly as?: 'found' | 'left';
  readonly sheet?: 'a4' | 'letter';
  /** Per cent of a run's length. */
  readonly allowance?: number;
  /** False with `--no-address`. */
  readonly address: boolean;
}

/** Papers that are one table, hence fit for CSV. */
export const tableNames = paperNames.filter((name) => !['head', 'work-order', 'cautions'].includes(name));

/** Prints the installer's papers. */
export function sheets(file: string, options: SheetsOptions): ExitStatus {
  const { format, only, date, by, address } = options;
  if (format === 'csv' && (only?.length !== 1 || !tableNames.includes(only[0]!))) {
    complain(`CSV holds one table: name it with --only, one of ${tableNames.join(', ')}.`);
    return 2;
  }
  const opened = openRecord(file);
  if (!opened) return 2;
  const { record } = opened;
  const wanted: PapersOptions = {
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
    complain('A work order comes from comparing two records; one record has none.');
    return 2;
  }
  process.stdout.write(written());
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
