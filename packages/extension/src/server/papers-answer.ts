/** The installer's papers of a checked record, in the form that is asked for. */

import type { CheckedRecord } from '@ohmstead/language/server';
import { workOrders } from '@ohmstead/record';
import {
  type Papers,
  paperCsv,
  papersHtml,
  papersMarkdown,
  papersOf,
  usualAllowance,
  workOrderPaper,
} from '@ohmstead/views';
import type { PapersAnswer, PapersParams } from '../panel/pictures.js';

/** `base` is what a plan changes: the work order leads from there. */
export function papersAnswer(
  record: CheckedRecord | undefined,
  base: CheckedRecord | undefined,
  { form, only, date, withoutAddress, nonce }: Omit<PapersParams, 'uri'>,
): PapersAnswer {
  if (record === undefined) return { text: null, tables: [] };
  const made = papersOf(record.analysis, record.budget(), {
    date,
    withoutAddress,
    findings: record.findings,
    allowance: usualAllowance,
    ...(base && { workOrder: workOrderPaper(workOrders(base.analysis, record.analysis)) }),
  });
  const tables = made.papers.flatMap(({ name, title, table }) => (table === undefined ? [] : [{ name, title }]));
  return { text: written(made, { form, only, nonce }), tables };
}

function written(made: Papers, { form, only, nonce }: Pick<PapersParams, 'form' | 'only' | 'nonce'>): string | null {
  switch (form) {
    case 'page':
      return papersHtml(made, nonce === undefined ? {} : { nonce });
    case 'html':
      return papersHtml(made, { sheet: made.profile === 'north-america' ? 'letter' : 'A4' });
    case 'md':
      return papersMarkdown(made);
    case 'csv': {
      const paper = made.papers.find(({ name }) => name === only);
      return (paper && paperCsv(paper)) ?? null;
    }
  }
}
