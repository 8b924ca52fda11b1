/** Figures as the views print them: the same number of decimals down a column, so that they can be compared at a glance. */

/** A dash where there is no figure. */
export const none = '–';

function fixed(value: number | null, decimals: number, unit: string): string {
  if (value === null || !Number.isFinite(value)) return none;
  const text = value.toFixed(decimals);
  return `${Number(text) === 0 ? (0).toFixed(decimals) : text} ${unit}`;
}

/** 16.7 V */
export const volts = (value: number | null): string => fixed(value, 1, 'V');
/** 0.34 V, for what is lost in wire. */
export const drop = (value: number | null): string => fixed(value === null ? null : Math.abs(value), 2, 'V');
/** 0.62 A */
export const amps = (value: number | null): string => fixed(value === null ? null : Math.abs(value), 2, 'A');
/** 9.8 VA */
export const voltAmperes = (value: number | null): string => fixed(value, 1, 'VA');
/** 6.9 W */
export const watts = (value: number | null): string => fixed(value, 1, 'W');
/** 0.19 Ω */
export const ohms = (value: number | null): string => fixed(value, 2, 'Ω');
/** 62 % */
export const percent = (share: number | null): string => fixed(share === null ? null : share * 100, 0, '%');

/** A stated figure as a label has it: 16 V, 10 VA, 19.8 V; three digits at most behind the point. */
export function stated(value: number, unit: string): string {
  return `${Number(value.toFixed(3))} ${unit}`;
}

/** 16-24 V, or 16 V where both ends are one. */
export function statedRange(least: number, most: number, unit: string): string {
  return least === most ? stated(least, unit) : `${Number(least.toFixed(3))}-${stated(most, unit)}`;
}

/** 16.7-19.0 V, or 16.7 V where both ends print alike. */
export function voltsRange(least: number, most: number): string {
  return volts(least) === volts(most) ? volts(most) : `${least.toFixed(1)}-${volts(most)}`;
}

const metresPerFoot = 0.3048;

/** Feet and inches for North America, metres elsewhere. */
export function length(metres: number | null, profile: string): string {
  if (metres === null) return 'no length recorded';
  if (profile !== 'north-america') return stated(Number(metres.toFixed(1)), 'm');
  const inches = Math.round((metres / metresPerFoot) * 12);
  const feet = Math.floor(inches / 12);
  const rest = inches % 12;
  return rest === 0 ? `${feet} ft` : `${feet} ft ${rest} in`;
}
