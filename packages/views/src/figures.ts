/** Figures as the views print them. In sentences few digits with a unit; down a column the same decimals, with the unit in its head. */

import { formatAmps, formatLength, formatNumber, formatVoltAmperes, formatVolts } from '@ohmstead/circuit';

/** A dash where there is no figure. */
export const none = '–';

export const volts = (value: number): string => formatVolts(Math.abs(value));
export const amps = (value: number): string => formatAmps(Math.abs(value));
export const voltAmperes = (value: number): string => formatVoltAmperes(value);

/** A figure of a table's column, without unit; zero never has a sign. */
export function cell(value: number | null | undefined, decimals: number): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return none;
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
}

/** A current or a drop, whose direction says nothing to the reader. */
export const size = (value: number | null | undefined, decimals: number): string =>
  cell(value === null || value === undefined ? value : Math.abs(value), decimals);

/** A stated figure as a label has it: 16 V, 10 VA, 19.8 V. */
export function stated(value: number, unit: string): string {
  return `${formatNumber(value, 3)} ${unit}`;
}

/** 16-24 V, or 16 V where both ends are one. */
export function statedRange(least: number, most: number, unit: string): string {
  return least === most ? stated(least, unit) : `${formatNumber(least, 3)}-${stated(most, unit)}`;
}

/** 16.7-19.0 V, or 16.7 V where both ends print alike. */
export function voltsRange(least: number, most: number): string {
  const [from, to] = [least.toFixed(1), most.toFixed(1)];
  return from === to ? volts(most) : `${from}-${to} V`;
}

/** Feet and inches for North America, metres elsewhere. */
export function length(metres: number | null, profile: string): string {
  if (metres === null) return 'no length recorded';
  return formatLength(metres, profile === 'north-america' ? 'feet' : 'metres');
}
