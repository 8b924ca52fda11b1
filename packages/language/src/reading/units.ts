/** Every unit the notation knows: its usual spelling, what it measures and how many SI units one of it is. */

export type Measure =
  | 'volts'
  | 'amps'
  | 'voltAmperes'
  | 'watts'
  | 'ohms'
  | 'hertz'
  | 'temperature'
  | 'length'
  | 'gauge'
  | 'area'
  | 'volume'
  | 'percent'
  | 'angle'
  | 'charge'
  | 'time';

export interface Unit {
  readonly spelling: string;
  readonly measure: Measure;
  /** SI units in one; AWG, degrees and per cent stay as they are, areas are in mm2, volumes in cm3, charge in Ah, time in hours. */
  readonly factor: number;
  /** Of `VAC` and `VDC`. */
  readonly system?: 'AC' | 'DC';
}

const table: readonly (readonly [string, Measure, number, ...string[]])[] = [
  ['V', 'volts', 1],
  ['mV', 'volts', 1e-3],
  ['kV', 'volts', 1e3],
  ['A', 'amps', 1],
  ['mA', 'amps', 1e-3],
  ['VA', 'voltAmperes', 1],
  ['kVA', 'voltAmperes', 1e3],
  ['W', 'watts', 1],
  ['mW', 'watts', 1e-3],
  ['kW', 'watts', 1e3],
  ['ohm', 'ohms', 1, '\u03c9', 'ohms'],
  ['kohm', 'ohms', 1e3, 'k\u03c9'],
  ['Mohm', 'ohms', 1e6, 'M\u03a9', 'M\u2126', 'MOHM', 'MOhm'],
  ['Hz', 'hertz', 1],
  ['degC', 'temperature', 1, '\u00b0c'],
  ['degF', 'temperature', 1, '\u00b0f'],
  ['m', 'length', 1],
  ['cm', 'length', 0.01],
  ['mm', 'length', 0.001],
  ['km', 'length', 1000],
  ['ft', 'length', 0.3048],
  ['in', 'length', 0.0254],
  ['yd', 'length', 0.9144],
  ['AWG', 'gauge', 1],
  ['mm2', 'area', 1, 'mm\u00b2'],
  ['in3', 'volume', 16.387064, 'in\u00b3'],
  ['cm3', 'volume', 1, 'cm\u00b3'],
  ['%', 'percent', 1],
  ['deg', 'angle', 1, '\u00b0'],
  ['Ah', 'charge', 1],
  ['mAh', 'charge', 1e-3],
  ['h', 'time', 1, 'hours', 'hour'],
  ['min', 'time', 1 / 60],
];

function unitTable(): ReadonlyMap<string, Unit> {
  const units = new Map<string, Unit>();
  for (const [spelling, measure, factor, ...others] of table) {
    const unit = { spelling, measure, factor };
    // A small m would be a thousandth: of ohms only the capital is read.
    units.set(spelling === 'Mohm' ? spelling : spelling.toLowerCase(), unit);
    for (const other of others) units.set(other, unit);
  }
  units.set('vac', { spelling: 'V AC', measure: 'volts', factor: 1, system: 'AC' });
  units.set('vdc', { spelling: 'V DC', measure: 'volts', factor: 1, system: 'DC' });
  return units;
}

const units = unitTable();

/** `MV` is a million volts, which nobody has: `mV` or `V` was meant. */
const MILLIONS = /^M(VA|[VAW])$/;

/** What may have been meant by a unit in millions, the smaller first; empty for any other. */
export function meantByMillions(written: string): readonly string[] {
  const [, unit] = MILLIONS.exec(written) ?? [];
  if (unit === undefined) return [];
  return unit === 'VA' ? ['VA'] : [`m${unit}`, unit];
}

/** The unit of that spelling without regard to case; undefined where there is none. */
export function unitOf(written: string): Unit | undefined {
  if (MILLIONS.test(written)) return undefined;
  // The ohm sign's lower case is that of the Greek letter.
  return units.get(written) ?? units.get(written.toLowerCase().replace(/\s/g, ''));
}

/** Units that fit a measure, the likeliest first, for sentences. */
export const unitsThatFit: Readonly<Record<Measure, readonly string[]>> = {
  volts: ['V', 'V AC', 'V DC'],
  amps: ['A', 'mA'],
  voltAmperes: ['VA'],
  watts: ['W'],
  ohms: ['ohm', 'kohm', 'Mohm'],
  hertz: ['Hz'],
  temperature: ['degC', 'degF'],
  length: ['m', 'ft', 'in', 'ft … in'],
  gauge: ['AWG'],
  area: ['mm2'],
  volume: ['in3', 'cm3'],
  percent: ['%'],
  angle: ['deg'],
  charge: ['Ah', 'mAh'],
  time: ['h', 'min'],
};
