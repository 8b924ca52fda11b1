/** Figures written for people: few digits, the unit after a space. */

import type { ConductorSize } from './conductors.js';

/** Said where a figure can't be given. */
export const NOT_KNOWN = 'not known';

/** Below this many amperes, milliamperes are written. */
const MILLIAMPERES_BELOW = 0.1;
const INCHES_IN_A_METRE = 1 / 0.0254;

/** A number with at most `decimals` decimals, without trailing zeros or a minus before zero. */
export function formatNumber(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return NOT_KNOWN;
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

function withUnit(value: number, decimals: number, unit: string): string {
  return Number.isFinite(value) ? `${formatNumber(value, decimals)} ${unit}` : NOT_KNOWN;
}

/** 16.688 -> "16.7 V"; below one volt two decimals. */
export function formatVolts(volts: number): string {
  return withUnit(volts, Math.abs(volts) < 0.95 ? 2 : 1, 'V');
}

/** 0.625 -> "0.63 A"; 0.062 -> "62 mA". */
export function formatAmps(amps: number): string {
  const size = Math.abs(amps);
  if (size === 0) return withUnit(0, 0, 'A');
  if (size < MILLIAMPERES_BELOW) return withUnit(amps * 1000, size < 0.00995 ? 1 : 0, 'mA');
  return withUnit(amps, size < 9.995 ? 2 : 1, 'A');
}

/** 9.44 -> "9.4 VA"; below one volt-ampere two decimals. */
export function formatVoltAmperes(voltAmperes: number): string {
  return withUnit(voltAmperes, Math.abs(voltAmperes) < 0.95 ? 2 : 1, 'VA');
}

/** Below one watt two decimals. */
export function formatWatts(watts: number): string {
  return withUnit(watts, Math.abs(watts) < 0.95 ? 2 : 1, 'W');
}

/** 1.28 -> "1.28 ohm"; 2200 -> "2.2 kohm". */
export function formatOhms(ohms: number): string {
  const size = Math.abs(ohms);
  if (size >= 999.5) return withUnit(ohms / 1000, 1, 'kohm');
  return withUnit(ohms, size < 9.995 ? 2 : 1, 'ohm');
}

/** A share of one: 0.167 -> "17 %"; below 9.5 % one decimal. */
export function formatShare(share: number): string {
  return withUnit(share * 100, Math.abs(share) < 0.095 ? 1 : 0, '%');
}

/** Metres as "9 m" or "29 ft 6 in"; feet to the nearest inch. */
export function formatLength(metres: number, lengths: 'feet' | 'metres'): string {
  if (!Number.isFinite(metres)) return NOT_KNOWN;
  if (lengths === 'metres') return Math.abs(metres) < 0.95 ? withUnit(metres, 2, 'm') : withUnit(metres, 1, 'm');
  const inches = Math.round(Math.abs(metres) * INCHES_IN_A_METRE);
  const sign = metres < 0 && inches > 0 ? '-' : '';
  const feet = Math.floor(inches / 12);
  const rest = inches % 12;
  if (feet === 0) return `${sign}${rest} in`;
  return rest === 0 ? `${sign}${feet} ft` : `${sign}${feet} ft ${rest} in`;
}

/** "18 AWG", "1/0 AWG", "0.75 mm2", "0.6 mm". */
export function formatGauge(size: ConductorSize): string {
  if ('mm2' in size) return withUnit(size.mm2, 3, 'mm2');
  if ('diameterMm' in size) return withUnit(size.diameterMm, 3, 'mm');
  return size.awg <= 0 ? `${1 - size.awg}/0 AWG` : withUnit(size.awg, 0, 'AWG');
}
