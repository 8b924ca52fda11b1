/** Hidden houses with one fault each, and sound ones, gone through with the finder; what came of it, counted. */

import type { Analysis } from '../../packages/record/src/index.js';
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
  readonly sheet?: { readonly readings: number; readonly place: number | undefined };
}

export interface ProofOptions {
  /** Of each record so many faults, drawn; all where absent. */
  readonly faults?: number;
  readonly soundHouses: number;
  readonly seed: number;
  readonly sheet?: boolean;
}

export function casesOf(record: string, analysis: Analysis, options: ProofOptions): readonly Case[] {
  const { seed } = options;
  const draws = drawsFrom(seed);
  const all = trueFaults(analysis);
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
    const { place, readings, wasExcluded, last, effort } = hunt(analysis, make(), fault?.id);
    const found = {
      record,
      kind: fault?.kind ?? 'sound',
      id: fault?.id,
      place,
      readings: readings.length,
      wasExcluded,
      effort,
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

export function tallies(cases: readonly Case[]): readonly Tally[] {
  const kinds = [...new Set(cases.map(({ kind }) => kind))].filter((kind) => kind !== 'sound').sort();
  return [
    ...kinds.map((kind) =>
      tally(
        kind,
        cases.filter((one) => one.kind === kind),
      ),
    ),
    tally(
      'all faults',
      cases.filter(({ kind }) => kind !== 'sound'),
    ),
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

function median(values: readonly number[]): number {
  const sorted = [...values].sort((x, y) => x - y);
  return sorted.length === 0 ? 0 : sorted[Math.floor((sorted.length - 1) / 2)]!;
}
