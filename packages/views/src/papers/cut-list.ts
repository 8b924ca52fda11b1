/** The cut list: what to cut each run to, cable by cable, and how the pieces come out of reels. */

import type { Analysis, Run } from '@ohmstead/record';
import { length } from '../figures.js';
import { type Block, type Cell, type Paper, type Table, tick } from './paper.js';
import { placeWords } from './trade-words.js';

/** What a piece is longer than its run. */
export interface Allowance {
  /** Of the run's length: 0.1 is a tenth. */
  readonly share: number;
  /** Metres at each end, for making up. */
  readonly eachEndMetres: number;
}

/** Common practice, no source. */
export const usualAllowance: Allowance = { share: 0.1, eachEndMetres: 0.3 };

export interface CutRow {
  readonly run: string;
  readonly cable: string;
  readonly from: string | undefined;
  readonly to: string | undefined;
  /** Undefined where the record has none: such a run is measured on site and in no total. */
  readonly lengthMetres: number | undefined;
  readonly about: boolean;
  readonly cutMetres: number | undefined;
}

interface Reel {
  readonly reelMetres: number;
  readonly runs: readonly string[];
  readonly leftMetres: number;
}

export interface CutCable {
  readonly cable: string;
  readonly rows: readonly CutRow[];
  readonly lengthMetres: number;
  readonly cutMetres: number;
  readonly reels: readonly Reel[];
  /** Longer than the longest reel: to be ordered in one length. */
  readonly tooLong: readonly string[];
}

const FOOT = 0.3048;

/** Lengths that are sold, shortest first. Common practice, no source. */
function reelsSold(profile: string): readonly number[] {
  return profile === 'north-america'
    ? [50, 100, 250, 500, 1000].map((feet) => feet * FOOT)
    : [10, 25, 50, 100, 250, 500];
}

/** By cable in order of name, runs in order of name. */
export function cutList(analysis: Analysis, allowance: Allowance = usualAllowance): CutCable[] {
  const { profile } = analysis.installation;
  const byCable = new Map<string, CutRow[]>();
  for (const { run, lengthMetres } of analysis.runs.values()) {
    const cable = cableWords(run);
    byCable.set(cable, [...(byCable.get(cable) ?? []), cutRow(run, cable, lengthMetres, allowance, profile)]);
  }
  const sold = reelsSold(profile);
  return [...byCable]
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([cable, rows]) => ({ cable, rows, ...totals(rows), ...reelsFor(rows, sold) }));
}

/** 18/2 and 18-2 are one cable. */
export function cableWords({ cableWords: written }: Run): string {
  return written.replace(/^(\d+)-(\d+)/, '$1/$2').replace(/\s+/g, ' ');
}

function cutRow(run: Run, cable: string, metres: number | undefined, allowance: Allowance, profile: string): CutRow {
  const cutMetres =
    metres === undefined ? undefined : roundedUp(metres * (1 + allowance.share) + 2 * allowance.eachEndMetres, profile);
  const about = run.length?.about === true;
  return { run: run.name, cable, from: run.fromPlace, to: run.toPlace, lengthMetres: metres, about, cutMetres };
}

const sum = (values: readonly (number | undefined)[]): number =>
  values.reduce<number>((all, each) => all + (each ?? 0), 0);

function totals(rows: readonly CutRow[]) {
  return {
    lengthMetres: sum(rows.map(({ lengthMetres }) => lengthMetres)),
    cutMetres: sum(rows.map(({ cutMetres }) => cutMetres)),
  };
}

/** Longest pieces first, each into the first reel with room; the last reel is then the shortest that holds what is in it. */
function reelsFor(rows: readonly CutRow[], sold: readonly number[]): Pick<CutCable, 'reels' | 'tooLong'> {
  const longest = sold.at(-1) ?? 0;
  const pieces = rows.flatMap(({ run, cutMetres }) => (cutMetres === undefined ? [] : [{ run, metres: cutMetres }]));
  pieces.sort((a, b) => b.metres - a.metres || (a.run < b.run ? -1 : 1));
  const tooLong = pieces.filter(({ metres }) => metres > longest).map(({ run }) => run);
  const filled: { runs: string[]; metres: number }[] = [];
  for (const { run, metres } of pieces) {
    if (metres > longest) continue;
    const reel = filled.find((each) => each.metres + metres <= longest);
    if (reel === undefined) filled.push({ runs: [run], metres });
    else {
      reel.runs.push(run);
      reel.metres += metres;
    }
  }
  const reels = filled.map(({ runs, metres }) => {
    const reelMetres = sold.find((each) => each >= metres) ?? longest;
    return { reelMetres, runs, leftMetres: reelMetres - metres };
  });
  return { reels, tooLong };
}

/** "10 % and 12 in at each end". */
function allowanceWords({ share, eachEndMetres }: Allowance, profile: string): string {
  return `${Number((share * 100).toFixed(1))} % of the length and ${length(eachEndMetres, profile)} at each end for making up`;
}

/** Up to the next half foot, or tenth of a metre: nobody cuts to an inch, and the pieces on the paper add up to its totals. */
function roundedUp(metres: number, profile: string): number {
  const step = profile === 'north-america' ? FOOT / 2 : 0.1;
  return Math.ceil(metres / step - 1e-9) * step;
}

export function cutPaper(analysis: Analysis, allowance: Allowance = usualAllowance): Paper {
  const { profile } = analysis.installation;
  const cables = cutList(analysis, allowance);
  const cells = (row: CutRow): Cell[] => [
    row.run,
    placeWords(analysis, row.from),
    placeWords(analysis, row.to),
    row.lengthMetres === undefined ? 'measure' : `${row.about ? 'about ' : ''}${length(row.lengthMetres, profile)}`,
    row.cutMetres === undefined ? { write: 'wide' } : length(row.cutMetres, profile),
  ];
  const head = ['Run', 'From', 'To', 'Length', 'Cut to'];
  const blocks = cables.flatMap((cable): Block[] => [
    { kind: 'heading', text: cable.cable },
    {
      kind: 'table',
      head: [...head, 'Done'],
      rows: cable.rows.map((row) => [...cells(row), tick]),
      numbers: [3, 4],
      widths: [26, 20, 20, 14, 12, 8],
    },
    { kind: 'words', text: totalWords(cable, profile) },
    { kind: 'list', items: reelWords(cable, profile) },
  ]);
  const table: Table = {
    kind: 'table',
    head: ['Cable', ...head, 'Length m', 'Cut m'],
    rows: cables.flatMap(({ cable, rows }) =>
      rows.map((row) => [cable, ...cells(row), metresCell(row.lengthMetres), metresCell(row.cutMetres)]),
    ),
  };
  const intro: Block = {
    kind: 'words',
    text:
      cables.length === 0
        ? 'The record has no run yet.'
        : `Each piece is as long as its run and, added to that, ${allowanceWords(allowance, profile)} (a usual allowance, no source), rounded up. Each run is one piece.`,
  };
  return { name: 'cut-list', title: 'Cut list', blocks: [intro, ...blocks, ...jumperNote(analysis)], table };
}

const metresCell = (metres: number | undefined): string => (metres === undefined ? '' : metres.toFixed(3));

function totalWords({ rows, lengthMetres, cutMetres }: CutCable, profile: string): string {
  const unmeasured = rows.filter((row) => row.lengthMetres === undefined).length;
  if (unmeasured === rows.length) return 'The record has no length for any of these: nothing can be added up.';
  const missing =
    unmeasured === 0
      ? ''
      : ` Without ${unmeasured === 1 ? 'one run' : `${unmeasured} runs`} that the record has no length for.`;
  return `In all ${length(lengthMetres, profile)} of run, ${length(cutMetres, profile)} of cable with the allowance.${missing}`;
}

function reelWords({ reels, tooLong }: CutCable, profile: string): string[] {
  return [
    ...reels.map(
      ({ reelMetres, runs, leftMetres }) =>
        `Reel of ${length(reelMetres, profile)}: ${runs.join(', ')}; ${length(leftMetres, profile)} left.`,
    ),
    ...tooLong.map((run) => `${run} is longer than any usual reel: order it in one length.`),
  ];
}

function jumperNote({ jumpers }: Analysis): Block[] {
  if (jumpers.size === 0) return [];
  const one = jumpers.size === 1;
  return [
    {
      kind: 'words',
      text: `${one ? 'One short link' : `${jumpers.size} short links`} between screws: cut from what is left over, to fit.`,
    },
  ];
}
