/** Coils, lamps, loads and other things that current goes through, from the label's figures to what the circuit has. */

import { coilImpedance } from '@ohmstead/circuit';
import type { Assumption, ResolvedElement } from '../analysis-types.js';
import type { CoilElement, LampElement, LoadElement, PartElement, ShareOrVolts } from '../model.js';
import { assumption, libraryFigure, libraryRating, type PartContext } from './assume.js';
import { shortFigure, withUnit } from './figures.js';

/** Bell and chime coils: common practice, no source. */
const COIL_POWER_FACTOR = 0.7;
/** A load that states watts alone is taken to draw as many VA: common practice, no source. */
const LOAD_POWER_FACTOR = 1;
/** Share of the least rated volts below which a load that does not say so is taken to be off: common practice, no source. */
const STAYS_ON_SHARE = 0.6;

/** The figures of an element over its place and name. */
export type ElementFiguresOf = Omit<ResolvedElement, 'id' | 'index' | 'part' | 'element' | 'a' | 'b' | 'present'>;

/** An element's own figure, or the part's where the element follows it. */
function settled<T>(element: PartElement, own: T | undefined, rated: T | undefined): T | undefined {
  return element.asRated ? (rated ?? own) : (own ?? rated);
}

/** An element with the figures that the part itself states over those of its type. */
export function withOwnFigures(context: PartContext, element: PartElement): PartElement {
  const { figures } = context.statedFacts;
  if (figures === undefined) return element;
  const { draws, peaks, powerFactor, staysOnFrom, ringsFrom, humsFrom, dcOhms, pullsInFrom, releasesBelow, inrush } =
    figures;
  if (element.kind === 'coil') {
    return {
      ...element,
      ...stated({ powerFactor, ringsFrom, humsFrom, dcOhms, pullsInFrom, releasesBelow, inrush }),
    };
  }
  if (element.kind !== 'load') return element;
  // A stated draw is what it draws, whatever the rating would have made of it.
  const asRated = element.asRated && draws === undefined;
  return { ...element, asRated, ...stated({ draws, peaks, powerFactor, staysOnFrom, releasesBelow }) };
}

function stated<T extends object>(figures: T): Partial<T> {
  return Object.fromEntries(Object.entries(figures).filter(([, figure]) => figure !== undefined)) as Partial<T>;
}

/** Z = V^2 / VA at the angle of its power factor; on DC all of it is resistance. */
export function resolveCoil(context: PartContext, element: CoilElement): ElementFiguresOf {
  const { rating } = context.facts;
  const system = settled(element, element.system, rating?.system);
  const volts = settled(element, element.volts, rating?.volts?.least);
  const ownVoltAmperes = element.voltAmperes ?? product(element.amps, volts);
  const powerFactor = system === 'DC' ? 1 : (element.powerFactor ?? COIL_POWER_FACTOR);
  const ratedVoltAmperes = settled(
    element,
    ownVoltAmperes,
    rating?.voltAmperes ?? product(rating?.amps, volts) ?? quotient(rating?.watts, powerFactor),
  );
  const assumed = [...libraryRating(context, element), ...coilPowerFactor(context, element, system === 'DC')];
  const hasRating = volts !== undefined && ratedVoltAmperes !== undefined;
  const impedance = hasRating ? coilImpedance(volts, ratedVoltAmperes, powerFactor) : undefined;
  if (!hasRating || impedance === undefined) {
    return { system, powerFactor, assumed, missing: 'the volts and VA of a coil are' };
  }
  const ratedAmps = ratedVoltAmperes / volts;
  return {
    system,
    ratedVolts: volts,
    ratedVoltAmperes,
    ratedAmps,
    ...impedance,
    powerFactor,
    ringsFromVolts: product(element.ringsFrom, volts),
    humsFromAmps: element.humsFrom === 'off' ? undefined : product(element.humsFrom, ratedAmps),
    pullsInFromVolts: voltsOf(element.pullsInFrom, volts),
    releasesBelowVolts: voltsOf(element.releasesBelow, volts),
    inrushVoltAmperes: element.inrush?.unit === 'A' ? element.inrush.value * volts : element.inrush?.value,
    assumed,
  };
}

function coilPowerFactor(context: PartContext, element: CoilElement, direct: boolean): readonly Assumption[] {
  if (direct) return [];
  if (element.powerFactor === undefined) {
    const words = `a coil's power factor of ${COIL_POWER_FACTOR} (common practice, none is stated)`;
    return [assumption(context, 'power-factor', words)];
  }
  return libraryFigure(context, 'power-factor', `a coil's power factor of ${shortFigure(element.powerFactor)}`);
}

export function resolveLamp(context: PartContext, element: LampElement): ElementFiguresOf {
  const { rating } = context.facts;
  const volts = settled(element, element.volts, rating?.volts?.least);
  const watts = settled(element, element.watts, rating?.watts ?? rating?.voltAmperes ?? product(rating?.amps, volts));
  const assumed = libraryRating(context, element);
  if (volts === undefined || watts === undefined) return { assumed, missing: 'the volts and watts of a lamp are' };
  return {
    ratedVolts: volts,
    ratedVoltAmperes: watts,
    ratedAmps: watts / volts,
    ohms: (volts * volts) / watts,
    reactance: 0,
    assumed,
  };
}

export function resolveLoad(context: PartContext, element: LoadElement): ElementFiguresOf {
  const { rating } = context.facts;
  const volts = rating?.volts?.least;
  const rated = ratedDraw(context);
  const draws = settled(element, element.draws, rated);
  const peaks = element.peaks ?? draws;
  const powerFactor = element.powerFactor ?? LOAD_POWER_FACTOR;
  const unit = (draws ?? peaks)?.unit === 'A' ? 'A' : 'VA';
  const idle = inUnit(draws, unit, powerFactor, volts);
  const peak = inUnit(peaks, unit, powerFactor, volts);
  const staysOnFrom = element.staysOnFrom ?? (volts ?? 0) * STAYS_ON_SHARE;
  const ratedVoltAmperes = element.asRated ? inUnit(rated, 'VA', powerFactor, volts) : undefined;
  const figures = {
    system: settled(element, element.system, rating?.system),
    ratedVolts: volts,
    ratedVoltAmperes,
    powerFactor,
    staysOnFrom,
    releasesBelowVolts: voltsOf(element.releasesBelow, volts),
    assumed: [
      ...libraryRating(context, element),
      ...loadAssumptions(context, element, staysOnFrom),
      ...(usesWattsAlone(element, draws) ? [wattsAsVoltAmperes(context)] : []),
    ],
  };
  if (idle === undefined || peak === undefined) return { ...figures, missing: 'what a load draws is' };
  return { ...figures, draws: { unit, idle, peak: Math.max(idle, peak) } };
}

type Draw = NonNullable<LoadElement['draws']>;

function ratedDraw(context: PartContext): Draw | undefined {
  const { rating } = context.facts;
  if (rating?.voltAmperes !== undefined) return { unit: 'VA', value: rating.voltAmperes };
  if (rating?.watts !== undefined) return { unit: 'W', value: rating.watts };
  return rating?.amps === undefined ? undefined : { unit: 'A', value: rating.amps };
}

/** Amps and VA turn into one another at the least rated volts, where the amps are greatest. */
function inUnit(
  draw: Draw | undefined,
  unit: 'VA' | 'A',
  powerFactor: number,
  volts: number | undefined,
): number | undefined {
  if (draw === undefined) return undefined;
  const voltAmperes = draw.unit === 'W' ? draw.value / powerFactor : draw.value;
  if (unit === 'A') return draw.unit === 'A' ? draw.value : quotient(voltAmperes, volts);
  return draw.unit === 'A' ? product(draw.value, volts) : voltAmperes;
}

function loadAssumptions(context: PartContext, element: LoadElement, staysOnFrom: number): readonly Assumption[] {
  const { draws, peaks, powerFactor } = element;
  const from = withUnit(staysOnFrom, 'V');
  return [
    ...(draws === undefined || element.asRated
      ? []
      : libraryFigure(context, 'draws', `a draw of ${withUnit(draws.value, draws.unit)}`)),
    ...(peaks === undefined
      ? []
      : libraryFigure(context, 'peaks', `a peak draw of ${withUnit(peaks.value, peaks.unit)}`)),
    ...(powerFactor === undefined
      ? []
      : libraryFigure(context, 'power-factor', `a load's power factor of ${shortFigure(powerFactor)}`)),
    ...(element.staysOnFrom === undefined
      ? [assumption(context, 'stays-on', `that it stays on from ${from} (common practice, none is stated)`)]
      : libraryFigure(context, 'stays-on', `that it stays on from ${from}`)),
  ];
}

function usesWattsAlone(element: LoadElement, draws: Draw | undefined): boolean {
  return element.powerFactor === undefined && (draws?.unit === 'W' || element.peaks?.unit === 'W');
}

function wattsAsVoltAmperes(context: PartContext): Assumption {
  return assumption(context, 'power-factor', 'as many VA as watts (no power factor is stated)');
}

function voltsOf(figure: ShareOrVolts | undefined, rated: number | undefined): number | undefined {
  if (figure === undefined) return undefined;
  return 'volts' in figure ? figure.volts : product(figure.share, rated);
}

function product(a: number | undefined, b: number | undefined): number | undefined {
  return a === undefined || b === undefined ? undefined : a * b;
}

function quotient(a: number | undefined, b: number | undefined): number | undefined {
  return a === undefined || b === undefined || b === 0 ? undefined : a / b;
}
