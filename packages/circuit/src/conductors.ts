/** Conductors: sizes and their resistance. Lengths in metres, areas in mm2, resistance in ohms, temperatures in degC. */

export type ConductorSize =
  | { readonly awg: number }
  | { readonly mm2: number }
  /** Diameter of a solid conductor, as on German telephone cable. */
  | { readonly diameterMm: number };

export type ConductorMaterial = 'copper' | 'copper-clad-aluminium';

export interface Conductor {
  readonly size: ConductorSize;
  readonly stranded: boolean;
  readonly material: ConductorMaterial;
  /** Ohms per km at 20 degC as its maker states them; used in place of the computed figure. */
  readonly resistancePerKm20?: number | undefined;
}

/** Ohm mm2 per metre of annealed copper at 20 degC. Source: IEC 60028. */
export const COPPER_RESISTIVITY = 1 / 58;

/** Per kelvin at 20 degC, annealed copper. Source: IEC 60028. */
export const COPPER_TEMPERATURE_COEFFICIENT = 0.00393;

export const REFERENCE_TEMPERATURE = 20;

/** Diameter of 36 AWG in mm, 0.005 in. Source: ASTM B258. */
export const AWG_36_DIAMETER_MM = 0.127;

/** Ratio of the diameters of 0000 and 36 AWG, 39 steps apart. Source: ASTM B258. */
export const AWG_RATIO = 92;
export const AWG_STEPS = 39;

/** Strands lie in a helix and are longer than the conductor. Source: NEC Chapter 9 Table 8, 7 strands against solid, 2 to 2.6 %. */
export const STRANDED_FACTOR = 1.02;

/** 10 % copper by volume, at least 62.9 % of the conductivity of copper. Source: ASTM B566. */
export const COPPER_CLAD_ALUMINIUM_FACTOR = 1.59;

/** Maximum ohms per km at 20 degC by nominal mm2, plain annealed copper. Source: IEC 60228 (class 1 and 2: solid and stranded; class 5: flexible). */
export const IEC_60228_MAXIMUM: readonly {
  readonly mm2: number;
  readonly solid: number;
  readonly flexible: number;
}[] = [
  { mm2: 0.5, solid: 36.0, flexible: 39.0 },
  { mm2: 0.75, solid: 24.5, flexible: 26.0 },
  { mm2: 1.0, solid: 18.1, flexible: 19.5 },
  { mm2: 1.5, solid: 12.1, flexible: 13.3 },
  { mm2: 2.5, solid: 7.41, flexible: 7.98 },
  { mm2: 4, solid: 4.61, flexible: 4.95 },
  { mm2: 6, solid: 3.08, flexible: 3.3 },
  { mm2: 10, solid: 1.83, flexible: 1.91 },
];

/** For metric sizes outside that table: its maxima lie 4 to 7 % above the nominal area's figure. Source: the middle of IEC 60228's own margin. */
export const METRIC_MAXIMUM_OVER_NOMINAL = 1.05;

/** Sizes one can buy, thin to thick, by the way they are named. Source: common practice, no source. */
export const standardSizes: {
  readonly awg: readonly ConductorSize[];
  readonly mm2: readonly ConductorSize[];
  readonly diameterMm: readonly ConductorSize[];
} = {
  awg: [24, 22, 20, 18, 16, 14, 12, 10, 8].map((awg) => ({ awg })),
  mm2: [0.14, 0.22, 0.34, 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10].map((mm2) => ({ mm2 })),
  diameterMm: [0.4, 0.5, 0.6, 0.8].map((diameterMm) => ({ diameterMm })),
};

/** Diameter in mm of a solid conductor of that gauge; 0, -1, -2 stand for 1/0, 2/0, 3/0. */
export function awgDiameterMm(awg: number): number {
  return AWG_36_DIAMETER_MM * AWG_RATIO ** ((36 - awg) / AWG_STEPS);
}

/** Metal area in mm2. */
export function areaOf(size: ConductorSize): number {
  if ('mm2' in size) return size.mm2;
  const diameter = 'awg' in size ? awgDiameterMm(size.awg) : size.diameterMm;
  return (Math.PI * diameter * diameter) / 4;
}

/** Negative when x is the thinner, positive when the thicker, 0 when equal to one part in a million. */
export function compareSizes(x: ConductorSize, y: ConductorSize): number {
  const ax = areaOf(x);
  const ay = areaOf(y);
  return Math.abs(ax - ay) <= 1e-6 * Math.max(ax, ay) ? 0 : ax - ay;
}

export function isThinner(x: ConductorSize, than: ConductorSize): boolean {
  return compareSizes(x, than) < 0;
}

export function isThicker(x: ConductorSize, than: ConductorSize): boolean {
  return compareSizes(x, than) > 0;
}

/** The next standard size up, named the same way; `undefined` beyond the thickest. */
export function nextThicker(size: ConductorSize): ConductorSize | undefined {
  const named = 'awg' in size ? standardSizes.awg : 'mm2' in size ? standardSizes.mm2 : standardSizes.diameterMm;
  return named.find((standard) => isThicker(standard, size));
}

/** Nominal ohms per metre of one conductor; `undefined` when the size is no size. */
export function ohmsPerMetre(conductor: Conductor, temperatureC = REFERENCE_TEMPERATURE): number | undefined {
  return atTemperature(statedOhms(conductor) ?? nominalOhms(conductor), temperatureC);
}

/**
 * The most ohms per metre that a conductor of that marking may have: for metric sizes the maximum of IEC 60228 (flexible, where stranded), for
 * gauges and stated resistances the nominal figure.
 */
export function maximumOhmsPerMetre(conductor: Conductor, temperatureC = REFERENCE_TEMPERATURE): number | undefined {
  return atTemperature(statedOhms(conductor) ?? maximumOhms(conductor), temperatureC);
}

/**
 * A resistance known at one temperature taken to another: R2 = R1 (1 + a (T2 - T0)) / (1 + a (T1 - T0)), where `coefficient` a is per kelvin at
 * `coefficientAtC`. Source: IEC 60028 (linear in temperature).
 */
export function resistanceAtTemperature(
  ohms: number,
  knownAtC: number,
  wantedAtC: number,
  coefficient = COPPER_TEMPERATURE_COEFFICIENT,
  coefficientAtC = REFERENCE_TEMPERATURE,
): number {
  return (ohms * (1 + coefficient * (wantedAtC - coefficientAtC))) / (1 + coefficient * (knownAtC - coefficientAtC));
}

function atTemperature(ohms20: number | undefined, temperatureC: number): number | undefined {
  if (ohms20 === undefined) return undefined;
  const ohms = resistanceAtTemperature(ohms20, REFERENCE_TEMPERATURE, temperatureC);
  return ohms > 0 && Number.isFinite(ohms) ? ohms : undefined;
}

function statedOhms(conductor: Conductor): number | undefined {
  const stated = conductor.resistancePerKm20;
  return stated !== undefined && stated > 0 && Number.isFinite(stated) ? stated / 1000 : undefined;
}

function nominalOhms(conductor: Conductor): number | undefined {
  const area = areaOf(conductor.size);
  if (!(area > 0) || !Number.isFinite(area)) return undefined;
  return (COPPER_RESISTIVITY / area) * (conductor.stranded ? STRANDED_FACTOR : 1) * materialFactor(conductor);
}

function maximumOhms(conductor: Conductor): number | undefined {
  const { size } = conductor;
  const nominal = nominalOhms(conductor);
  if (nominal === undefined || 'awg' in size) return nominal;
  const row = 'mm2' in size ? IEC_60228_MAXIMUM.find(({ mm2 }) => mm2 === size.mm2) : undefined;
  if (row === undefined) return nominal * METRIC_MAXIMUM_OVER_NOMINAL;
  return ((conductor.stranded ? row.flexible : row.solid) / 1000) * materialFactor(conductor);
}

function materialFactor(conductor: Conductor): number {
  return conductor.material === 'copper-clad-aluminium' ? COPPER_CLAD_ALUMINIUM_FACTOR : 1;
}
