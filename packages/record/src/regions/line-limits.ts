/**
 * Every limit of the line side, one row each, by profile, with where it comes from. They tell what a record is computed against; what
 * holds at a site is for local code and a licensed electrician to say.
 */

import type { ProfileName } from '@ohmstead/circuit';
import type { ConductorSize } from '../model.js';
import { areaOf } from '../judging/units.js';
import { regionOf } from './regions.js';

const COMMON_PRACTICE = 'common practice, no source';

export interface RegionalLimit {
  readonly value: number;
  readonly source: string;
}

/** One limit in every profile; undefined where a profile has none. */
export interface LineLimit {
  readonly meaning: string;
  readonly by: Readonly<Record<ProfileName, RegionalLimit | undefined>>;
}

const everywhere = (value: number, source = COMMON_PRACTICE): LineLimit['by'] => ({
  'north-america': { value, source },
  europe: { value, source },
  'united-kingdom': { value, source },
});

export const lineLimitTable = {
  continuousFactor: {
    meaning: 'times that a load counts which is on for three hours or more, against the breaker',
    by: {
      'north-america': { value: 1.25, source: 'National Electrical Code, 210.19(A)(1) and 210.20(A)' },
      europe: { value: 1, source: COMMON_PRACTICE },
      'united-kingdom': { value: 1, source: COMMON_PRACTICE },
    },
  },
  separation: {
    meaning:
      'metres between low-voltage cable and line-voltage conductors that are in no sheathed cable and no raceway',
    by: {
      'north-america': { value: 0.05, source: 'National Electrical Code, 725.136(I) in the edition of 2020' },
      europe: { value: 0.05, source: COMMON_PRACTICE },
      'united-kingdom': {
        value: 0.05,
        source: 'common practice; that bands are kept apart is BS 7671, 528.1 (clause from memory, not confirmed)',
      },
    },
  },
  separationInside: {
    meaning: 'metres inside one enclosure where line-voltage conductors are there only for the same equipment',
    by: {
      'north-america': { value: 0.006, source: 'National Electrical Code, 725.136(D)(1)' },
      europe: undefined,
      'united-kingdom': undefined,
    },
  },
  mainsMismatch: {
    meaning: 'share by which the volts of the mains may differ from those that a primary is made for',
    by: everywhere(0.15),
  },
  lowVoltage: {
    meaning: 'AC volts up to which a part counts as a low-voltage one',
    by: everywhere(50, 'extra-low voltage, IEC 61140'),
  },
  wetContact: {
    meaning: 'AC volts up to which bare parts may be touched where it is wet',
    by: {
      'north-america': { value: 15, source: 'National Electrical Code, chapter 9, note 2 to table 11' },
      europe: { value: 12, source: 'IEC 60364-4-41, 414.4.5, as BS 7671 has it' },
      'united-kingdom': { value: 12, source: 'BS 7671, 414.4.5' },
    },
  },
  wetContactDirect: {
    meaning: 'DC volts up to which bare parts may be touched where it is wet',
    by: {
      'north-america': { value: 30, source: 'National Electrical Code, chapter 9, note 4 to table 11' },
      europe: { value: 30, source: 'IEC 60364-4-41, 414.4.5, as BS 7671 has it' },
      'united-kingdom': { value: 30, source: 'BS 7671, 414.4.5' },
    },
  },
  yokeAllowances: {
    meaning: 'conductors that a device on a yoke counts for, of the largest size connected to it',
    by: americanAlone(2, 'National Electrical Code, 314.16(B)(4)'),
  },
  clampAllowances: {
    meaning: 'conductors that all internal clamps together count for, of the largest size in the box',
    by: americanAlone(1, 'National Electrical Code, 314.16(B)(2)'),
  },
  groundsCountedOnce: {
    meaning: 'equipment grounds that together count for one conductor, of the largest of them',
    by: americanAlone(4, 'National Electrical Code, 314.16(B)(5) in the edition of 2020'),
  },
  furtherGround: {
    meaning: 'conductors that each equipment ground beyond those counts for',
    by: americanAlone(0.25, 'National Electrical Code, 314.16(B)(5) in the edition of 2020'),
  },
  leadGauge: {
    meaning: "AWG that a transformer's own leads count as in a box",
    by: americanAlone(18, 'from memory, not confirmed'),
  },
} as const satisfies Record<string, LineLimit>;

interface AmericanAlone {
  readonly 'north-america': RegionalLimit;
  readonly europe: undefined;
  readonly 'united-kingdom': undefined;
}

function americanAlone(value: number, source: string): AmericanAlone {
  return { 'north-america': { value, source }, europe: undefined, 'united-kingdom': undefined };
}

type LineLimitName = keyof typeof lineLimitTable;

export function lineLimit(name: LineLimitName, profile: string): RegionalLimit | undefined {
  const { by }: LineLimit = lineLimitTable[name];
  return by[regionOf(profile).name];
}

/** Cubic inches that one conductor takes in a box, by AWG: National Electrical Code, table 314.16(B). */
export const boxAllowances: readonly { readonly awg: number; readonly cubicInches: number }[] = [
  { awg: 18, cubicInches: 1.5 },
  { awg: 16, cubicInches: 1.75 },
  { awg: 14, cubicInches: 2 },
  { awg: 12, cubicInches: 2.25 },
  { awg: 10, cubicInches: 2.5 },
  { awg: 8, cubicInches: 3 },
  { awg: 6, cubicInches: 5 },
];

/** Amps of the largest breaker for a conductor, thin to thick. */
export interface BreakerRow {
  readonly size: ConductorSize;
  readonly amps: number;
  readonly source: string;
}

const NEC_240_4_D = 'National Electrical Code, 240.4(D)';
const awg = (gauge: number, amps: number, source = NEC_240_4_D): BreakerRow => ({
  size: { kind: 'awg', awg: gauge },
  amps,
  source,
});
const area = (mm2: number, amps: number): BreakerRow => ({
  size: { kind: 'area', mm2 },
  amps,
  source: COMMON_PRACTICE,
});

const metric = [area(0.5, 3), area(0.75, 6), area(1, 10), area(1.5, 16), area(2.5, 20), area(4, 25), area(6, 32)];

const breakerTable: Readonly<Record<ProfileName, readonly BreakerRow[]>> = {
  'north-america': [
    awg(18, 7, `${NEC_240_4_D}; from memory, not confirmed`),
    awg(16, 10, `${NEC_240_4_D}; from memory, not confirmed`),
    awg(14, 15),
    awg(12, 20),
    awg(10, 30),
  ],
  europe: metric,
  'united-kingdom': metric,
};

/** Aluminium and copper-clad aluminium. */
const americanAluminium = [
  awg(14, 10, `${NEC_240_4_D} in the edition of 2023; from memory, not confirmed`),
  awg(12, 15),
  awg(10, 25),
];

/** In a ring, whose conductors share the load: 2.5 mm2 on 32 A. Common practice, no source. */
const ring: readonly BreakerRow[] = metric.map((row) => (areaOf(row.size) === 2.5 ? { ...row, amps: 32 } : row));

/** Standard breakers, amps. North America: National Electrical Code, 240.6(A), up to 60 A; else common practice, no source. */
export const standardBreakers: Readonly<Record<ProfileName, readonly number[]>> = {
  'north-america': [15, 20, 25, 30, 35, 40, 45, 50, 60],
  europe: [6, 10, 13, 16, 20, 25, 32, 40],
  'united-kingdom': [6, 10, 16, 20, 32, 40],
};

/**
 * The row of the thickest listed size that is no thicker than the conductor; undefined for one thicker than all of them (nothing is
 * said of it) and for one thinner than all.
 */
export function breakerRow(
  profile: string,
  size: ConductorSize,
  material: 'copper' | 'copper-clad-aluminium',
  inRing: boolean,
): BreakerRow | undefined {
  const { name } = regionOf(profile);
  const rows =
    material !== 'copper' && name === 'north-america'
      ? americanAluminium
      : inRing && name === 'united-kingdom'
        ? ring
        : breakerTable[name];
  const thickest = rows.at(-1);
  if (thickest === undefined || areaOf(size) > areaOf(thickest.size) * 1.01) return undefined;
  return rows.findLast((row) => areaOf(row.size) <= areaOf(size) * 1.001);
}

/** All rows of a profile, for who writes them out. */
export function breakerRows(profile: string): readonly BreakerRow[] {
  return breakerTable[regionOf(profile).name];
}
