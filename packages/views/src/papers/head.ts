/** The head of the papers: what they are about, what is assumed, and what is still wrong with it. */

import { type Analysis, type Budget, isBranchCircuit } from '@ohmstead/record';
import { ratingWords } from './materials.js';
import { type Block, type Cell, type Paper, write } from './paper.js';
import { placeWords } from './trade-words.js';
import type { ShownFinding } from '../budget-view.js';
import { countWords, listed, profileWords, severityWords, worstFirst } from '../words.js';

export interface HeadOptions {
  /** As it is to be printed. Without one there is room to write it. */
  readonly date?: string;
  readonly by?: string;
  readonly condition?: 'as found' | 'as left';
  /** Leaves out the title, which carries the address, notes and photos. */
  readonly withoutAddress?: boolean;
  /** Findings as the reader of the text has them; the budget's own otherwise. */
  readonly findings?: readonly ShownFinding[];
}

/** What stands at the top of every paper. */
export function siteWords(budget: Budget, { withoutAddress }: HeadOptions): string {
  if (withoutAddress === true) return 'Site left out';
  return budget.title.trim() === '' ? 'Untitled record' : budget.title;
}

export function headPaper(analysis: Analysis, budget: Budget, options: HeadOptions): Paper {
  const { date, by, condition } = options;
  const given = (words: string | undefined): Cell[] => [words ?? write];
  const conditionCells: Cell[] =
    condition === undefined ? ['as found', { write: 'narrow' }, 'as left', { write: 'narrow' }] : [condition];
  const facts: Block = {
    kind: 'facts',
    rows: [
      ['Site', [siteWords(budget, options)]],
      ['Date', given(date)],
      ['By', given(by)],
      ['Condition', conditionCells],
      ['Breaker and panel', branchCells(budget)],
      ['Habits of', [profileWords(budget.profile)]],
    ],
  };
  const assumed: Block[] = [
    { kind: 'heading', text: 'Assumed' },
    budget.assumptions.length === 0
      ? { kind: 'words', text: 'Nothing beyond what the record states.' }
      : { kind: 'list', items: assumptionItems(analysis) },
  ];
  return {
    name: 'head',
    title: 'Installation record',
    blocks: [
      facts,
      ...supplyBlocks(analysis, options),
      ...noteBlocks(analysis, options),
      ...assumed,
      ...findingBlocks(options.findings ?? budget.findings),
    ],
  };
}

/** What is assumed alike of several parts once, under all their names. */
function assumptionItems({ assumptions }: Analysis): string[] {
  const alike = new Map<string, Set<string>>();
  for (const { part, words } of assumptions) alike.set(words, (alike.get(words) ?? new Set()).add(part));
  return [...alike].map(([words, parts]) => plain(`${listed([...parts])}: ${words}`));
}

/** "basement-circuit: circuit 7, 15 A"; room to write where none is recorded. */
function branchCells({ branches = [] }: Budget): Cell[] {
  const known = branches.map(({ name, circuit, breakerAmps }) => {
    const words = [
      ...(circuit === null ? [] : [`circuit ${circuit}`]),
      ...(breakerAmps === null ? [] : [`${breakerAmps} A`]),
    ];
    return words.length === 0 ? name : `${name}: ${words.join(', ')}`;
  });
  return known.length === 0 ? [write] : known;
}

/** Each supply with its label word for word, where it is and how to reach it. */
function supplyBlocks(analysis: Analysis, { withoutAddress }: HeadOptions): Block[] {
  const supplies = [...analysis.parts.values()].filter((part) => part.kind === 'supply' && !isBranchCircuit(part));
  return supplies.flatMap((part): Block[] => {
    const { facts, type, place, name } = part;
    const label: Cell[] = facts.labels.length === 0 ? [write] : facts.labels.map((words) => `“${words}”`);
    const reach: Cell[] = facts.notes.length === 0 || withoutAddress === true ? [write] : [...facts.notes];
    const photos =
      withoutAddress === true || facts.photos.length === 0 ? [] : [['Photos', [facts.photos.join(', ')]] as const];
    return [
      { kind: 'heading', text: name },
      {
        kind: 'facts',
        rows: [
          ['What it is', [type?.words ?? type?.name ?? 'unknown type']],
          ['Rated', [ratingWords(part) === '' ? write : ratingWords(part)]],
          ['Its label, word for word', label],
          ['Where', [placeWords(analysis, place?.name)]],
          ['How to reach it', reach],
          ...(facts.installed === undefined ? [] : [['Installed', [facts.installed]] as const]),
          ...photos,
        ],
      },
    ];
  });
}

/** Notes and photos of everything but supplies. */
function noteBlocks({ parts, installation }: Analysis, { withoutAddress }: HeadOptions): Block[] {
  const devices = [...parts.values()].filter(({ kind }) => kind === 'device');
  const labels = devices.flatMap(({ name, facts }) => facts.labels.map((words) => `${name}, its label: “${words}”`));
  const notes = [
    ...devices.flatMap(({ name, facts }) => [
      ...facts.notes.map((note) => `${name}: ${note}`),
      ...facts.photos.map((photo) => `${name}, photo: ${photo}`),
    ]),
    ...[...installation.splices, ...installation.runs].flatMap(({ name, notes }) =>
      notes.map((note) => `${name}: ${note}`),
    ),
  ];
  const items = withoutAddress === true ? labels : [...labels, ...notes];
  return items.length === 0
    ? []
    : [
        { kind: 'heading', text: 'Labels and notes' },
        { kind: 'list', items },
      ];
}

/** Papers of a record with findings say so before anybody follows them. */
function findingBlocks(findings: readonly ShownFinding[]): Block[] {
  const items = worstFirst(findings).map(({ severity, message, accepted }) => {
    const because = typeof accepted === 'object' ? `: ${accepted.because}` : '';
    return `${severityWords[severity]}${accepted ? ` (accepted${because})` : ''}: ${plain(message)}`;
  });
  return [
    { kind: 'heading', text: 'Findings' },
    { kind: 'words', text: `${countWords(findings)}.` },
    ...(items.length === 0 ? [] : [{ kind: 'list' as const, items }]),
  ];
}

/** Without the marks that set names apart on a screen. */
const plain = (words: string): string => words.replaceAll('`', '');
