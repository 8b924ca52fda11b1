/** The installer's papers from one record: pure functions of what was concluded from it. */

import type { Analysis, Budget } from '@ohmstead/record';
import { cautionPaper } from './cautions.js';
import { type Allowance, cutPaper, usualAllowance } from './cut-list.js';
import { type HeadOptions, headPaper, siteWords } from './head.js';
import { labelPaper } from './labels.js';
import { materialsPaper } from './materials.js';
import { type Paper, type PaperName, paperNames } from './paper.js';
import { terminationPaper } from './terminations.js';
import { hasLock } from '../words.js';
import { testPaper } from './test-sheet.js';

export interface PapersOptions extends HeadOptions {
  readonly allowance?: Allowance;
  /** Those that are wanted; all of them otherwise. */
  readonly only?: readonly PaperName[];
  /** The steps from one record to the next come from a comparison; a record alone has none. */
  readonly workOrder?: Paper;
}

export interface Papers {
  readonly site: string;
  /** "2026-11-25, as left", or empty. */
  readonly subtitle: string;
  readonly profile: string;
  readonly papers: readonly Paper[];
}

export function papersOf(analysis: Analysis, budget: Budget, options: PapersOptions = {}): Papers {
  const { allowance = usualAllowance, only, workOrder, date, condition } = options;
  const make: Record<PaperName, () => Paper | undefined> = {
    head: () => headPaper(analysis, budget, options),
    'work-order': () => workOrder,
    terminations: () => terminationPaper(analysis),
    'cut-list': () => cutPaper(analysis, allowance),
    materials: () => materialsPaper(analysis, allowance),
    'test-sheet': () => testPaper(analysis),
    labels: () => labelPaper(analysis),
    cautions: () => cautionPaper(budget.profile, hasLock(budget)),
  };
  const wanted = paperNames.filter((name) => only === undefined || only.includes(name));
  return {
    site: siteWords(budget, options),
    subtitle: [date, condition].filter((words) => words !== undefined).join(', '),
    profile: budget.profile,
    papers: wanted.flatMap((name) => make[name]() ?? []),
  };
}
