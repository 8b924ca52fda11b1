/** Hidden houses with one fault each, and sound ones, gone through with the finder; what came of it, counted. */

import {
  type Analysis,
  type Explanation,
  type MeterPoint,
  pointOf,
  type Reading,
} from '../../packages/record/src/index.js';
import { drawsFrom } from './draws.js';
import { HiddenHouse } from './hidden-house.js';
import { hunt, placeOf } from './hunt.js';
import { sheetHunt } from './sheet.js';
import { trueFaults } from './true-faults.js';
import { isVisible, pick, soundHouses } from './visible.js';

export interface Case {
  readonly record: string;
  /** `sound` for a house without a fault. */
  readonly kind: string;
  readonly id: string | undefined;
  readonly visible: boolean;
  readonly place: number | undefined;
  readonly readings: number;
  readonly effort: number;
  readonly wasExcluded: boolean;
  readonly healthy: boolean;
  readonly excludedBy: string | undefined;
  readonly steps: readonly Reading[];
  readonly told: Explanation;
  readonly sheet?: { readonly readings: number; readonly place: number | undefined };
}

export interface ProofOptions {
  /** Of each record so many faults, drawn; all where absent. */
  readonly faults?: number;
  readonly soundHouses: number;
  readonly seed: number;
  readonly sheet?: boolean;
  /** Only faults whose id has this in it. */
  readonly only?: string;
}

export function casesOf(record: string, analysis: Analysis, options: ProofOptions): readonly Case[] {
  const { seed } = options;
  const draws = drawsFrom(seed);
  const { only = '' } = options;
  const all = trueFaults(analysis).filter(({ id }) => id.includes(only));
  const faults = options.faults === undefined ? all : pick(draws, all, options.faults);
  const sound = soundHouses(analysis, seed);
  const houses = [...Array.from({ length: options.soundHouses }, () => undefined), ...faults];
  return houses.map((fault, k): Case => {
    const make = (): HiddenHouse => {
      const own = drawsFrom(seed * 1009 + k);
      const house = new HiddenHouse(analysis, own);
      fault?.put(house, own);
      return house;
    };
    const { place, readings, wasExcluded, excludedBy, last, effort } = hunt(analysis, make(), fault?.id);
    const found = {
      record,
      kind: fault?.kind ?? 'sound',
      id: fault?.id,
      place,
      readings: readings.length,
      wasExcluded,
      excludedBy,
      effort,
      steps: readings,
      told: last,
    };
    const visible = fault === undefined || isVisible(make(), sound);
    if (options.sheet !== true) return { ...found, visible, healthy: last.healthy };
    const bySheet = sheetHunt(analysis, make());
    return {
      ...found,
      visible,
      healthy: last.healthy,
      sheet: { readings: bySheet.readings.length, place: placeOf(bySheet.last, fault?.id) },
    };
  });
}

export interface Tally {
  readonly kind: string;
  readonly cases: number;
  readonly hidden: number;
  /** Of the visible ones, shares. */
  readonly first: number;
  readonly firstThree: number;
  readonly medianReadings: number;
  readonly medianEffort: number;
  readonly excluded: number;
  readonly sheetReadings: number | undefined;
  readonly sheetFirst: number | undefined;
}

export function tally(kind: string, cases: readonly Case[]): Tally {
  const visible = cases.filter((one) => one.visible);
  const share = (of: (one: Case) => boolean): number =>
    visible.length === 0 ? 1 : visible.filter(of).length / visible.length;
  const sheets = visible.flatMap(({ sheet }) => sheet ?? []);
  return {
    kind,
    cases: cases.length,
    hidden: cases.length - visible.length,
    first: share(({ place }) => place === 1),
    firstThree: share(({ place }) => place !== undefined && place <= 3),
    medianReadings: median(visible.map(({ readings }) => readings)),
    medianEffort: median(visible.map(({ effort }) => effort)),
    excluded: cases.filter(({ wasExcluded }) => wasExcluded).length,
    sheetReadings: sheets.length === 0 ? undefined : median(sheets.map(({ readings }) => readings)),
    sheetFirst: sheets.length === 0 ? undefined : sheets.filter(({ place }) => place === 1).length / sheets.length,
  };
}

/** What the finder is held to: shares of the faults that show somewhere, and of the sound houses. */
export const WANTED = { first: 0.9, firstThree: 0.99, medianReadings: 4, excluded: 0, healthy: 0.98 } as const;

/** Which of the wanted figures a lot of cases falls short of, in words; none where all is well. */
export function shortfalls(cases: readonly Case[]): readonly string[] {
  const faults = tally(
    'all faults',
    cases.filter(({ kind }) => kind !== 'sound'),
  );
  const sound = cases.filter(({ kind }) => kind === 'sound');
  const healthy = sound.length === 0 ? 1 : sound.filter((one) => one.healthy).length / sound.length;
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
  return [
    ...(faults.first < WANTED.first ? [`first in ${percent(faults.first)}`] : []),
    ...(faults.firstThree < WANTED.firstThree ? [`in the first three in ${percent(faults.firstThree)}`] : []),
    ...(faults.medianReadings > WANTED.medianReadings ? [`${faults.medianReadings} readings, median`] : []),
    ...(faults.excluded > WANTED.excluded ? [`the truth excluded ${faults.excluded} times`] : []),
    ...(healthy < WANTED.healthy ? [`sound houses called healthy in ${percent(healthy)}`] : []),
  ];
}

/** Rows by kind of fault, then for the random records, the examples and all; sound houses last. */
export function tallies(cases: readonly Case[]): readonly Tally[] {
  const kinds = [...new Set(cases.map(({ kind }) => kind))].filter((kind) => kind !== 'sound').sort();
  const isExample = ({ record }: Case): boolean => record.endsWith('.wiring');
  const faults = cases.filter(({ kind }) => kind !== 'sound');
  return [
    ...kinds.map((kind) =>
      tally(
        kind,
        cases.filter((one) => one.kind === kind),
      ),
    ),
    tally(
      'random records',
      faults.filter((one) => !isExample(one)),
    ),
    tally('examples', faults.filter(isExample)),
    tally('all faults', faults),
    tally(
      'sound houses',
      cases.filter(({ kind }) => kind === 'sound'),
    ),
  ];
}

export function tableOf(rows: readonly Tally[]): string {
  const percent = (share: number | undefined): string => (share === undefined ? '' : `${(100 * share).toFixed(1)} %`);
  const head = [
    'fault',
    'cases',
    'shows nowhere',
    'first',
    'first three',
    'readings',
    'effort',
    'truth excluded',
    'sheet: readings',
    'sheet: first',
  ];
  const body = rows.map((row) => [
    row.kind,
    String(row.cases),
    String(row.hidden),
    percent(row.first),
    percent(row.firstThree),
    String(row.medianReadings),
    String(row.medianEffort),
    String(row.excluded),
    row.sheetReadings === undefined ? '' : String(row.sheetReadings),
    percent(row.sheetFirst),
  ]);
  const widths = head.map((word, k) => Math.max(word.length, ...body.map((cells) => cells[k]!.length)));
  return [head, ...body]
    .map((cells) => cells.map((cell, k) => (k === 0 ? cell.padEnd(widths[k]!) : cell.padStart(widths[k]!))).join('  '))
    .join('\n');
}

/** Of a case that went wrong: the truth, what excluded it, what was read and what is told. */
export function missOf({ record, id, place, excludedBy, visible, steps, told }: Case): string {
  const lines = [`${record}: ${id ?? 'sound'}; place ${place ?? '-'}${visible ? '' : '; shows nowhere'}`];
  if (excludedBy !== undefined) lines.push(`  excluded by ${excludedBy}`);
  for (const step of steps) lines.push(`  ${readingWords(step)}`);
  lines.push(`  sound ${told.healthyLikelihood.toFixed(3)}`);
  for (const { id: other, likelihood, sameAs } of told.faults.slice(0, 4)) {
    lines.push(`  ${likelihood.toFixed(3)} ${other}${sameAs.length > 0 ? ` (and ${sameAs.length} more)` : ''}`);
  }
  return lines.join('\n');
}

function readingWords({ state, of }: Reading): string {
  const point = (at: MeterPoint): string =>
    at.kind === 'end' ? pointOf(at.end) : `${at.run}.${at.colour}@${at.at ?? '?'}`;
  const when =
    state.kind === 'off'
      ? 'off'
      : [...state.pressed, ...(state.bridged ?? []).map((name) => `bridged ${name}`)].join(' ') || 'idle';
  switch (of.kind) {
    case 'mains':
      return `${when}: mains ${of.volts} V`;
    case 'sign':
      return `${when}: ${of.part} ${of.shows} ${of.note ?? ''}`;
    case 'amps':
      return `${when}: ${point(of.through)} ${of.amps} A`;
    case 'volts':
      return `${when}: ${of.between.map(point).join(', ')} ${of.volts} V`;
    case 'ohms':
      return `${when}: ${of.between.map(point).join(', ')} ${of.ohms ?? 'OL'} ohm`;
  }
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((x, y) => x - y);
  return sorted.length === 0 ? 0 : sorted[Math.floor((sorted.length - 1) / 2)]!;
}
