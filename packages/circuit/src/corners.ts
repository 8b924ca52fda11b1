/** Mains volts, their tolerance, and the conditions at which circuits are computed besides nominal ones. */

export type ProfileName = 'north-america' | 'europe' | 'united-kingdom';

export interface MainsProfile {
  readonly name: ProfileName;
  readonly mainsVolts: number;
  /** Hz. */
  readonly frequency: number;
  /** Shares of the mains volts: how far they may lie above and below. */
  readonly above: number;
  readonly below: number;
  /** How lengths are written for people. */
  readonly lengths: 'feet' | 'metres';
  /** Where the mains figures come from. */
  readonly source: string;
}

/** Mains by profile. */
export const MAINS: Readonly<Record<ProfileName, MainsProfile>> = {
  'north-america': {
    name: 'north-america',
    mainsVolts: 120,
    frequency: 60,
    above: 0.05,
    below: 0.05,
    lengths: 'feet',
    source: 'ANSI C84.1, range A service voltage',
  },
  europe: {
    name: 'europe',
    mainsVolts: 230,
    frequency: 50,
    above: 0.1,
    below: 0.06,
    lengths: 'metres',
    source: 'EN 50160 allows +10 / -10 %; -6 % is common practice for warnings, no source',
  },
  'united-kingdom': {
    name: 'united-kingdom',
    mainsVolts: 230,
    frequency: 50,
    above: 0.1,
    below: 0.06,
    lengths: 'metres',
    source: 'EN 50160 allows +10 / -10 %; +10 / -6 % is the declared UK range, from memory, not confirmed',
  },
};

/** Conductor temperatures in degC: nominal, warm (low volts) and cold (high volts). Source: common practice, no source. */
export const CONDUCTOR_TEMPERATURE = { nominal: 20, low: 60, high: 0 } as const;

export type CornerName = 'nominal' | 'low' | 'high';

/** One set of conditions; the volts it gives are no bound where loads may drop out. */
export interface Corner {
  readonly name: CornerName;
  /** Factor on every EMF. */
  readonly mainsFactor: number;
  /** degC, where the place states none. */
  readonly conductorTemperature: number;
}

/** Nominal, low and high, in that order. */
export function cornersOf(profile: ProfileName): readonly [nominal: Corner, low: Corner, high: Corner] {
  const { above, below } = MAINS[profile];
  return [
    { name: 'nominal', mainsFactor: 1, conductorTemperature: CONDUCTOR_TEMPERATURE.nominal },
    { name: 'low', mainsFactor: 1 - below, conductorTemperature: CONDUCTOR_TEMPERATURE.low },
    { name: 'high', mainsFactor: 1 + above, conductorTemperature: CONDUCTOR_TEMPERATURE.high },
  ];
}
