/** Small supplies and coils: what their labels and a meter say, turned into EMF, ohms and reactance. */

/** Rise from rated to no-load volts, as a share of rated volts (full-load basis), by VA. Source: common practice, no source. */
export const DEFAULT_REGULATION: readonly { readonly upToVoltAmperes: number; readonly regulation: number }[] = [
  { upToVoltAmperes: 3, regulation: 0.6 },
  { upToVoltAmperes: 5, regulation: 0.4 },
  { upToVoltAmperes: 8, regulation: 0.3 },
  { upToVoltAmperes: 10, regulation: 0.25 },
  { upToVoltAmperes: 15, regulation: 0.2 },
  { upToVoltAmperes: 20, regulation: 0.18 },
  { upToVoltAmperes: 30, regulation: 0.15 },
  { upToVoltAmperes: Number.POSITIVE_INFINITY, regulation: 0.125 },
];

/** Ohms derived from a meter reading are held within these factors of the default's. Source: common practice, no source. */
export const DERIVED_OHMS_WITHIN = { least: 0.5, most: 2 } as const;

/** What is known of one winding. */
export interface WindingRating {
  readonly volts: number;
  readonly voltAmperes: number;
  /** From the label. */
  readonly noLoadVolts?: number | undefined;
  /** A regulated output holds its volts: no ohms. */
  readonly regulated?: boolean | undefined;
  /** Ohms of leakage reactance, which then make up part of the drop. */
  readonly reactance?: number | undefined;
  /** From a meter: volts with nothing connected. */
  readonly measuredOpenVolts?: number | undefined;
  /** From a meter: volts at a load. */
  readonly measuredLoaded?: { readonly volts: number; readonly amps: number } | undefined;
}

export interface WindingModel {
  readonly emfVolts: number;
  readonly ohms: number;
  readonly reactance: number;
  readonly ratedAmps: number;
  /** What the ohms lean on. */
  readonly basis: 'label' | 'assumed' | 'measured' | 'regulated';
  /** What the default regulation alone would give. */
  readonly defaultOhms: number;
  /** A derived figure was outside what is believed, and held at its bound. */
  readonly held: boolean;
}

/** Default regulation (full-load basis) for a rating; sizes between take the next larger. */
export function defaultRegulation(voltAmperes: number): number {
  return DEFAULT_REGULATION.find((row) => voltAmperes <= row.upToVoltAmperes)?.regulation ?? 0.125;
}

/** EMF, ohms and reactance of a winding; `undefined` when volts or VA are not positive numbers. */
export function windingModel(rating: WindingRating): WindingModel | undefined {
  const { volts, voltAmperes } = rating;
  if (!isPositive(volts) || !isPositive(voltAmperes)) return undefined;
  const ratedAmps = voltAmperes / volts;
  const defaultOhms = (defaultRegulation(voltAmperes) * volts) / ratedAmps;
  const labelVolts = isPositive(rating.noLoadVolts) ? rating.noLoadVolts : undefined;
  const openVolts = isPositive(rating.measuredOpenVolts) ? rating.measuredOpenVolts : undefined;
  const reactance = isPositive(rating.reactance) ? rating.reactance : 0;
  const common = { ratedAmps, defaultOhms };

  if (rating.regulated === true && labelVolts === undefined && openVolts === undefined) {
    return { ...common, emfVolts: volts, ohms: 0, reactance: 0, basis: 'regulated', held: false };
  }
  const stated = labelVolts === undefined ? defaultOhms : Math.max(0, (labelVolts - volts) / ratedAmps);
  const assumedEmf = volts + stated * ratedAmps;
  const loaded = rating.measuredLoaded;
  if (loaded !== undefined && isPositive(loaded.volts) && isPositive(loaded.amps)) {
    const emfVolts = openVolts ?? labelVolts ?? assumedEmf;
    const { ohms, held } = hold((emfVolts - loaded.volts) / loaded.amps, defaultOhms);
    return { ...common, emfVolts, ...split(ohms, reactance), basis: 'measured', held };
  }
  if (openVolts !== undefined) {
    const { ohms, held } = hold(Math.max(stated, (openVolts - volts) / ratedAmps), defaultOhms);
    return {
      ...common,
      emfVolts: openVolts,
      ...split(ohms, reactance),
      basis: labelVolts === undefined ? 'assumed' : 'label',
      held,
    };
  }
  const basis = labelVolts === undefined ? 'assumed' : 'label';
  const emfVolts = labelVolts ?? assumedEmf;
  return { ...common, emfVolts, ...ohmsBesideReactance(emfVolts, volts, ratedAmps, reactance), basis, held: false };
}

/** Ohms and reactance of a coil that takes `voltAmperes` at `volts`, lagging by its power factor (0..1); `undefined` when no coil does. */
export function coilImpedance(
  volts: number,
  voltAmperes: number,
  powerFactor: number,
): { readonly ohms: number; readonly reactance: number } | undefined {
  if (!isPositive(volts) || !isPositive(voltAmperes) || !(powerFactor >= 0 && powerFactor <= 1)) return undefined;
  const size = (volts * volts) / voltAmperes;
  return { ohms: size * powerFactor, reactance: size * Math.sqrt(1 - powerFactor * powerFactor) };
}

/** The most volt-amperes that a constant-VA load of unity power factor can have from an EMF behind R + jX: E^2 / (2 (R + |Z|)); infinite for an ideal source. */
export function mostVoltAmperes(emfVolts: number, ohms: number, reactance = 0): number {
  return (emfVolts * emfVolts) / (2 * (ohms + Math.sqrt(ohms * ohms + reactance * reactance)));
}

/** Amps into a dead short; infinite for an ideal source. */
export function shortCircuitAmps(emfVolts: number, ohms: number, reactance = 0): number {
  return emfVolts / Math.sqrt(ohms * ohms + reactance * reactance);
}

function isPositive(value: number | undefined): value is number {
  return value !== undefined && Number.isFinite(value) && value > 0;
}

function hold(ohms: number, defaultOhms: number): { ohms: number; held: boolean } {
  const least = DERIVED_OHMS_WITHIN.least * defaultOhms;
  const most = DERIVED_OHMS_WITHIN.most * defaultOhms;
  const within = Math.min(most, Math.max(least, ohms));
  return { ohms: within, held: within !== ohms };
}

/** Ohms of the same size in all, part of them reactance. */
function split(size: number, reactance: number): { ohms: number; reactance: number } {
  if (reactance >= size) return { ohms: 0, reactance: size };
  return { ohms: Math.sqrt(size * size - reactance * reactance), reactance };
}

/** Ohms that leave rated volts at a rated resistive load: (V + R I)^2 + (X I)^2 = E^2; where the reactance alone drops more, it is held to that. */
function ohmsBesideReactance(
  emf: number,
  volts: number,
  amps: number,
  reactance: number,
): { ohms: number; reactance: number } {
  const room = Math.max(0, emf * emf - volts * volts);
  const most = Math.sqrt(room) / amps;
  if (reactance >= most && reactance > 0) return { ohms: 0, reactance: most };
  const drop = reactance * amps;
  const along = drop === 0 ? emf : Math.sqrt(emf * emf - drop * drop);
  return { ohms: Math.max(0, (along - volts) / amps), reactance };
}
