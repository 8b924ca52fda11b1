/** Quantities and units as data. SI stands for volts, amperes, watts, ohms, hertz, metres, square and cubic metres; temperatures stay in degC. */

export type Dimension =
  | 'voltage'
  | 'current'
  | 'apparent-power'
  | 'power'
  | 'resistance'
  | 'frequency'
  | 'temperature'
  | 'length'
  | 'gauge'
  | 'area'
  | 'volume'
  | 'share'
  | 'angle'
  | 'time';

export interface Unit {
  /** As the formatter writes it. */
  readonly symbol: string;
  /** Other spellings; case makes no difference. */
  readonly spellings: readonly string[];
  readonly dimension: Dimension;
  /** SI = value x factor + offset. */
  readonly factor: number;
  readonly offset?: number;
  /** Said along with the unit: `16VAC`. */
  readonly system?: 'AC' | 'DC';
}

const INCH = 0.0254;
const FOOT = 12 * INCH;

/** Every unit of the notation, the usual one of a dimension first. */
export const UNITS: readonly Unit[] = [
  { symbol: 'V', spellings: ['volt', 'volts'], dimension: 'voltage', factor: 1 },
  { symbol: 'V AC', spellings: ['VAC'], dimension: 'voltage', factor: 1, system: 'AC' },
  { symbol: 'V DC', spellings: ['VDC'], dimension: 'voltage', factor: 1, system: 'DC' },
  { symbol: 'mV', spellings: ['millivolt', 'millivolts'], dimension: 'voltage', factor: 1e-3 },
  { symbol: 'kV', spellings: ['kilovolt', 'kilovolts'], dimension: 'voltage', factor: 1e3 },
  { symbol: 'A', spellings: ['amp', 'amps', 'ampere', 'amperes'], dimension: 'current', factor: 1 },
  {
    symbol: 'mA',
    spellings: ['milliamp', 'milliamps', 'milliampere', 'milliamperes'],
    dimension: 'current',
    factor: 1e-3,
  },
  { symbol: 'VA', spellings: ['volt-ampere', 'volt-amperes'], dimension: 'apparent-power', factor: 1 },
  { symbol: 'kVA', spellings: [], dimension: 'apparent-power', factor: 1e3 },
  { symbol: 'W', spellings: ['watt', 'watts'], dimension: 'power', factor: 1 },
  { symbol: 'mW', spellings: ['milliwatt', 'milliwatts'], dimension: 'power', factor: 1e-3 },
  { symbol: 'kW', spellings: ['kilowatt', 'kilowatts'], dimension: 'power', factor: 1e3 },
  { symbol: 'ohm', spellings: ['ohms', '\u03a9', '\u2126'], dimension: 'resistance', factor: 1 },
  {
    symbol: 'kohm',
    spellings: ['kohms', 'k\u03a9', 'k\u2126', 'kilohm', 'kilohms'],
    dimension: 'resistance',
    factor: 1e3,
  },
  { symbol: 'Hz', spellings: ['hertz'], dimension: 'frequency', factor: 1 },
  { symbol: 'degC', spellings: ['\u00b0C', '\u2103', 'celsius'], dimension: 'temperature', factor: 1 },
  {
    symbol: 'degF',
    spellings: ['\u00b0F', '\u2109', 'fahrenheit'],
    dimension: 'temperature',
    factor: 5 / 9,
    offset: -160 / 9,
  },
  { symbol: 'm', spellings: ['metre', 'metres', 'meter', 'meters'], dimension: 'length', factor: 1 },
  {
    symbol: 'cm',
    spellings: ['centimetre', 'centimetres', 'centimeter', 'centimeters'],
    dimension: 'length',
    factor: 0.01,
  },
  {
    symbol: 'mm',
    spellings: ['millimetre', 'millimetres', 'millimeter', 'millimeters'],
    dimension: 'length',
    factor: 1e-3,
  },
  { symbol: 'km', spellings: ['kilometre', 'kilometres', 'kilometer', 'kilometers'], dimension: 'length', factor: 1e3 },
  { symbol: 'ft', spellings: ['foot', 'feet', "'", '\u2032'], dimension: 'length', factor: FOOT },
  { symbol: 'in', spellings: ['inch', 'inches', '"', '\u2033'], dimension: 'length', factor: INCH },
  { symbol: 'AWG', spellings: ['ga', 'gauge'], dimension: 'gauge', factor: 1 },
  { symbol: 'mm2', spellings: ['mm\u00b2', 'sqmm'], dimension: 'area', factor: 1e-6 },
  { symbol: 'in3', spellings: ['in\u00b3', 'cuin'], dimension: 'volume', factor: INCH ** 3 },
  { symbol: 'cm3', spellings: ['cm\u00b3', 'cc', 'ml'], dimension: 'volume', factor: 1e-6 },
  { symbol: '%', spellings: ['percent'], dimension: 'share', factor: 0.01 },
  { symbol: 'deg', spellings: ['\u00b0', 'degree', 'degrees'], dimension: 'angle', factor: Math.PI / 180 },
  { symbol: 's', spellings: ['second', 'seconds', 'sec'], dimension: 'time', factor: 1 },
  { symbol: 'min', spellings: ['minute', 'minutes'], dimension: 'time', factor: 60 },
  { symbol: 'h', spellings: ['hour', 'hours', 'hr'], dimension: 'time', factor: 3600 },
];

const BY_SPELLING: ReadonlyMap<string, Unit> = new Map(
  UNITS.flatMap((unit) => [unit.symbol, ...unit.spellings].map((spelling) => [spelling.toLowerCase(), unit] as const)),
);

/** The unit of a spelling, without regard to case; `undefined` when there is none. */
export function unitOf(spelling: string): Unit | undefined {
  return BY_SPELLING.get(spelling.trim().toLowerCase());
}

/** The units that fit a dimension, the usual one first. */
export function unitsFor(dimension: Dimension): readonly Unit[] {
  return UNITS.filter((unit) => unit.dimension === dimension);
}

/** A value in SI (degC for temperatures, the gauge number for AWG); `undefined` for an unknown unit. */
export function toSI(value: number, unit: string): number | undefined {
  const known = unitOf(unit);
  return known === undefined ? undefined : value * known.factor + (known.offset ?? 0);
}

/** The inverse of `toSI`. */
export function fromSI(value: number, unit: string): number | undefined {
  const known = unitOf(unit);
  return known === undefined ? undefined : (value - (known.offset ?? 0)) / known.factor;
}
