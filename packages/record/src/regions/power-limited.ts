/** The power-limited class of a low-voltage supply by its volts and VA, and what a bell transformer may be elsewhere. */

import { regionOf } from './regions.js';

/** How a supply's current is limited: by itself, or by an overcurrent device that belongs to it. */
export type Limiting = 'inherently' | 'by-overcurrent-device';

interface ClassRow {
  readonly class: 2 | 3;
  readonly system: 'AC' | 'DC';
  readonly limiting: Limiting;
  /** Greatest output volts at any load, the open ones included: above `above`, up to `upTo`. */
  readonly above: number;
  readonly upTo: number;
  /** Greatest VA on the nameplate. */
  readonly nameplate: (volts: number) => number;
  /** Amps of the overcurrent device that is asked for; undefined where none is. */
  readonly overcurrent?: (volts: number) => number;
}

const five = (volts: number): number => 5 * volts;
const hundred = (): number => 100;
const trickle = (volts: number): number => 0.005 * volts;
const hundredth = (volts: number): number => 100 / volts;

/** A table for AC or DC, which differ in how far their low volts go alone. */
function tableOf(system: 'AC' | 'DC', low: number): readonly ClassRow[] {
  const row = (
    limiting: Limiting,
    own: 2 | 3,
    above: number,
    upTo: number,
    nameplate: ClassRow['nameplate'],
    overcurrent?: ClassRow['overcurrent'],
  ): ClassRow => ({ class: own, system, limiting, above, upTo, nameplate, overcurrent });
  return [
    row('inherently', 2, 0, 20, five),
    row('inherently', 2, 20, low, hundred),
    row('inherently', 2, low, 150, trickle),
    row('inherently', 3, low, 100, hundred),
    row('by-overcurrent-device', 2, 0, 20, five, () => 5),
    row('by-overcurrent-device', 2, 20, low, hundred, hundredth),
    row('by-overcurrent-device', 3, low, 100, hundred, hundredth),
    row('by-overcurrent-device', 3, 100, 150, hundred, () => 1),
  ];
}

/**
 * National Electrical Code, chapter 9, tables 11(A) for AC and 11(B) for DC: cell values from memory; that Vmax is taken at any load, and
 * the rows up to 30 V AC, agree with a public table of IEC 60950-1 (2B and 2C).
 */
export const classTable: readonly ClassRow[] = [...tableOf('AC', 30), ...tableOf('DC', 60)];

/** The row of Class 2 that a supply of these volts is held to; undefined where Class 2 has none for that kind of limiting. */
export function class2Row(volts: number, system: 'AC' | 'DC', limiting: Limiting): ClassRow | undefined {
  return classTable.find(
    (row) =>
      row.class === 2 && row.system === system && row.limiting === limiting && volts > row.above && volts <= row.upTo,
  );
}

/** The least class that a supply falls into by its label; undefined for one that is in neither. */
export function classOf(
  volts: number,
  voltAmperes: number,
  system: 'AC' | 'DC',
  limiting: Limiting,
): 2 | 3 | undefined {
  const rows = classTable.filter(
    (row) => row.system === system && row.limiting === limiting && volts > row.above && volts <= row.upTo,
  );
  const within = rows.filter((row) => voltAmperes <= row.nameplate(volts) + 1e-9).map((row) => row.class);
  return within.length === 0 ? undefined : within.includes(2) ? 2 : 3;
}

/** What a bell transformer may be where there is no power-limited class: the scope of EN 61558-2-8. */
interface BellTransformerScope {
  readonly volts: { readonly AC: number; readonly DC: number };
  readonly openVolts: { readonly AC: number; readonly DC: number };
  readonly voltAmperes: number;
  readonly source: string;
}

const EN_61558_2_8: BellTransformerScope = {
  volts: { AC: 24, DC: 33 },
  openVolts: { AC: 33, DC: 46 },
  voltAmperes: 100,
  source: 'EN 61558-2-8, scope',
};

export function bellTransformerScope(profile: string): BellTransformerScope | undefined {
  return regionOf(profile).name === 'north-america' ? undefined : EN_61558_2_8;
}
