/** Figures as sentences show them: sensible digits, units of the trade. */

import type { ConductorSize, Range, Rating } from '../model.js';

function digits(value: number, most: number): string {
  return String(Number(value.toFixed(most)));
}

export function volts(value: number): string {
  return `${value.toFixed(1).replace(/^-0\.0$/, '0.0')} V`;
}

/** A figure read off a label: `16 V`, not `16.0 V`. */
export function labelVolts(value: number): string {
  return `${digits(value, 2)} V`;
}

export function amps(value: number): string {
  return value < 0.1 ? `${digits(value * 1000, 0)} mA` : `${digits(value, value < 1 ? 2 : 1)} A`;
}

export function voltAmperes(value: number): string {
  return `${digits(value, 1)} VA`;
}

export function watts(value: number): string {
  return `${digits(value, 1)} W`;
}

export function ohms(value: number): string {
  return `${digits(value, value < 10 ? 2 : 0)} ohm`;
}

/** 0.33 as "33 %". */
export function share(value: number): string {
  return `${digits(value * 100, 0)} %`;
}

/** "16 V" or "16-24 V". */
export function voltRange(range: Range): string {
  return range.least === range.most ? labelVolts(range.least) : `${digits(range.least, 2)}-${labelVolts(range.most)}`;
}

/** "16-24 V AC, 10 VA". */
export function ratingWords(rating: Rating): string {
  const words: string[] = [];
  if (rating.volts !== undefined) {
    words.push(`${voltRange(rating.volts)}${rating.system === undefined ? '' : ` ${rating.system}`}`);
  } else if (rating.system !== undefined) words.push(rating.system);
  if (rating.voltAmperes !== undefined) words.push(voltAmperes(rating.voltAmperes));
  if (rating.watts !== undefined) words.push(watts(rating.watts));
  if (rating.amps !== undefined) words.push(amps(rating.amps));
  return words.join(', ');
}

export function sizeWords(size: ConductorSize): string {
  switch (size.kind) {
    case 'awg':
      return `${size.awg} AWG`;
    case 'area':
      return `${digits(size.mm2, 2)} mm2`;
    case 'diameter':
      return `${digits(size.mm, 2)} mm`;
  }
}

const METRES_PER_FOOT = 0.3048;

/** Metres where the record evidently wrote metres (a round number of them, and not of inches) or the profile does; else feet and inches. */
export function lengthWords(metres: number, profile: string): string {
  const isRound = (figure: number) => Math.abs(figure - Math.round(figure)) < 1e-6;
  const wroteMetres = isRound(metres * 10) && !isRound((metres / METRES_PER_FOOT) * 12);
  if (wroteMetres || profile !== 'north-america') return `${digits(metres, 1)} m`;
  const inches = Math.round((metres / METRES_PER_FOOT) * 12);
  const feet = Math.floor(inches / 12);
  const left = inches - feet * 12;
  if (feet === 0) return `${left} in`;
  return left === 0 ? `${feet} ft` : `${feet} ft ${left} in`;
}

/** Square millimetres of copper, for comparing sizes of different kinds. AWG: ASTM B258, d = 0.127 mm x 92^((36-n)/39). */
export function areaOf(size: ConductorSize): number {
  switch (size.kind) {
    case 'awg':
      return (Math.PI / 4) * (0.127 * 92 ** ((36 - size.awg) / 39)) ** 2;
    case 'area':
      return size.mm2;
    case 'diameter':
      return (Math.PI / 4) * size.mm ** 2;
  }
}
