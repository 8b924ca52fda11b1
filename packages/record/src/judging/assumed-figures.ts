/** Figures that nobody read off a label, each with what it might as well be: how far a verdict leans on them is tried out by moving them. */

import { defaultRegulation } from '@ohmstead/circuit';
import type { Analysis, Assumption, ResolvedElement } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import type { Installation, LoadElement, Part, PartElement, PartFacts } from '../model.js';
import { amps, labelVolts, lengthWords, ohms, voltAmperes, volts, watts } from './units.js';
import { quote } from './words.js';

/** Shares that an assumed figure may be out by, up or down: as the bands of fault finding have them; common practice, no source. */
const UNCERTAINTY = { regulation: 0.4, power: 0.3, staysOn: 0.2, length: 0.2 } as const;
const POWER_FACTOR_UNCERTAINTY = 0.15;

export interface Move {
  /** "8 VA", "a no-load voltage of 18.4 V". */
  readonly figure: string;
  readonly apply: (installation: Installation) => Installation;
}

export interface AssumedFigure {
  /** The part, or the run. */
  readonly of: string;
  /** As in `Assumption`. */
  readonly what: string;
  readonly figure: string;
  /** What to do about it: "Read the no-load voltage off the label of `bell-tx`". */
  readonly advice: string;
  readonly up?: Move;
  readonly down?: Move;
}

/** Those of a part that can be moved. */
export function assumedFiguresOf(analysis: Analysis, name: string): readonly AssumedFigure[] {
  const part = analysis.parts.get(name);
  if (part === undefined) return [];
  const figures = new Map<string, AssumedFigure>();
  for (const element of part.elements) {
    for (const assumption of element.assumed) {
      const figure = figures.has(assumption.what) ? undefined : figureOf(element, assumption, part.facts);
      if (figure !== undefined) figures.set(assumption.what, figure);
    }
  }
  return [...figures.values()];
}

/** A length that is marked as not measured. */
export function assumedLengthOf({ runs, installation }: Analysis, name: string): AssumedFigure | undefined {
  const run = runs.get(name)?.run;
  const { length, loopOhms } = run ?? {};
  const stated = length ?? loopOhms;
  if (stated?.about !== true) return undefined;
  const words = (value: number) => (length === undefined ? ohms(value) : lengthWords(value, installation.profile));
  const moved = (factor: number): Move => ({
    figure: words(roundly(stated.value * factor)),
    apply: (record) => ({
      ...record,
      runs: record.runs.map((one) => {
        if (one.name !== name) return one;
        const figure = { ...stated, value: stated.value * factor };
        return length === undefined ? { ...one, loopOhms: figure } : { ...one, length: figure };
      }),
    }),
  });
  return {
    of: name,
    what: 'length',
    figure: `about ${words(stated.value)}`,
    advice: `Measure ${quote(name)}`,
    up: moved(1 + UNCERTAINTY.length),
    down: moved(1 - UNCERTAINTY.length),
  };
}

/** Whole feet and half metres are enough for what is not known. */
function roundly(value: number): number {
  return Number(value.toPrecision(2));
}

function figureOf(element: ResolvedElement, { what, part }: Assumption, facts: PartFacts): AssumedFigure | undefined {
  switch (element.element.kind) {
    case 'winding':
      return what === 'no-load' ? noLoadFigure(element, facts) : what === 'rating' ? outputFigure(element) : undefined;
    case 'coil':
      return what === 'power-factor'
        ? powerFactorFigure(element, `Measure the volts at ${terminals(element)} while it rings`)
        : what === 'rating'
          ? ratingFigure(element)
          : undefined;
    case 'load':
      return loadFigure(element, what, part);
    default:
      return undefined;
  }
}

function terminals({ part, element }: ResolvedElement): string {
  return `${quote(pointOf({ part, terminal: element.a }))} and ${quote(pointOf({ part, terminal: element.b }))}`;
}

function noLoadFigure(winding: ResolvedElement, facts: PartFacts): AssumedFigure | undefined {
  const { part, ratedVolts = 0, ratedVoltAmperes, noLoadVolts = 0 } = winding;
  if (ratedVoltAmperes === undefined) {
    const likely = 10;
    return {
      of: part,
      what: 'no-load',
      figure: 'no VA is known',
      advice: `Read the VA off the label of ${quote(part)}`,
      down: {
        figure: voltAmperes(likely),
        apply: changePart(part, (own) => ({
          ...own,
          outputs: own.outputs.map((o) => ({ ...o, voltAmperes: likely })),
        })),
      },
    };
  }
  const regulation = defaultRegulation(ratedVoltAmperes);
  const isOpenKnown = facts.measuredOpenVolts !== undefined;
  const moved = (factor: number): Move => {
    const open = (winding.sectionOf === undefined ? ratedVolts : wholeVolts(winding)) * (1 + regulation * factor);
    return {
      figure: isOpenKnown ? `${factor < 1 ? 'less' : 'more'} lost inside it` : volts(open),
      apply: changePart(part, (own) => ({ ...own, noLoadVolts: open })),
    };
  };
  return {
    of: part,
    what: 'no-load',
    figure: isOpenKnown ? 'what it loses under load is assumed' : volts(noLoadVolts),
    advice: isOpenKnown
      ? `Measure the volts of ${quote(part)} under load`
      : `Read the no-load voltage off the label of ${quote(part)}, or measure it with nothing connected`,
    up: moved(1 + UNCERTAINTY.regulation),
    down: moved(1 - UNCERTAINTY.regulation),
  };
}

/** Of a tapped winding's section: the volts of all its sections together. */
function wholeVolts({ element, ratedVolts = 0 }: ResolvedElement): number {
  const taps = element.kind === 'winding' ? (element.taps ?? []) : [];
  return taps.length > 1 ? taps.at(-1)!.volts - taps[0]!.volts : ratedVolts;
}

function outputFigure({ part, ratedVolts = 0, ratedVoltAmperes }: ResolvedElement): AssumedFigure | undefined {
  if (ratedVoltAmperes === undefined) return undefined;
  const moved = (factor: number): Move => ({
    figure: voltAmperes(ratedVoltAmperes * factor),
    apply: changePart(part, (own, merged) => ({
      ...own,
      outputs: merged.outputs.map((output) => ({
        ...output,
        amps: undefined,
        voltAmperes: (output.voltAmperes ?? (output.amps ?? 0) * (output.volts ?? ratedVolts)) * factor,
      })),
    })),
  });
  return {
    of: part,
    what: 'rating',
    figure: voltAmperes(ratedVoltAmperes),
    advice: `Read the volts and VA off the label of ${quote(part)}`,
    up: moved(1 + UNCERTAINTY.power),
    down: moved(1 - UNCERTAINTY.power),
  };
}

function ratingFigure({ part, ratedVoltAmperes }: ResolvedElement): AssumedFigure | undefined {
  if (ratedVoltAmperes === undefined) return undefined;
  const times = (value: number | undefined, factor: number) => (value === undefined ? undefined : value * factor);
  const moved = (factor: number): Move => ({
    figure: voltAmperes(ratedVoltAmperes * factor),
    apply: changePart(part, (own, { rating = {} }) => ({
      ...own,
      rating: {
        ...rating,
        voltAmperes: times(rating.voltAmperes, factor),
        watts: times(rating.watts, factor),
        amps: times(rating.amps, factor),
      },
    })),
  });
  return {
    of: part,
    what: 'rating',
    figure: voltAmperes(ratedVoltAmperes),
    advice: `Read the volts and VA off the label of ${quote(part)}`,
    up: moved(1 + UNCERTAINTY.power),
    down: moved(1 - UNCERTAINTY.power),
  };
}

function powerFactorFigure({ part, powerFactor }: ResolvedElement, advice: string): AssumedFigure | undefined {
  if (powerFactor === undefined) return undefined;
  const moved = (by: number): Move | undefined => {
    const next = Math.min(1, Math.max(0.2, Number((powerFactor + by).toFixed(2))));
    if (Math.abs(next - powerFactor) < 0.01) return undefined;
    return {
      figure: String(next),
      apply: changeElements(part, (element) =>
        element.kind === 'coil' || element.kind === 'load' ? { ...element, powerFactor: next } : element,
      ),
    };
  };
  return {
    of: part,
    what: 'power-factor',
    figure: `a power factor of ${powerFactor}`,
    advice,
    up: moved(POWER_FACTOR_UNCERTAINTY),
    down: moved(-POWER_FACTOR_UNCERTAINTY),
  };
}

function loadFigure(load: ResolvedElement, what: string, part: string): AssumedFigure | undefined {
  const { element } = load;
  if (element.kind !== 'load') return undefined;
  if (what === 'rating') return ratingFigure(load);
  if (what === 'power-factor') {
    return powerFactorFigure(load, `Read the VA or the power factor off the data sheet of ${quote(part)}`);
  }
  if (what === 'draws' || what === 'peaks') {
    const draw = element[what];
    if (draw === undefined) return undefined;
    return drawFigure(part, what, draw);
  }
  if (what !== 'stays-on' || load.staysOnFrom === undefined) return undefined;
  const from = load.staysOnFrom;
  const moved = (factor: number): Move => ({
    figure: labelVolts(Number((from * factor).toFixed(1))),
    apply: changeElements(part, (one) => (one.kind === 'load' ? { ...one, staysOnFrom: from * factor } : one)),
  });
  return {
    of: part,
    what,
    figure: labelVolts(from),
    advice: `Read the volts at which ${quote(part)} cuts out off its data sheet`,
    up: moved(1 + UNCERTAINTY.staysOn),
    down: moved(1 - UNCERTAINTY.staysOn),
  };
}

function drawFigure(part: string, what: 'draws' | 'peaks', draw: NonNullable<LoadElement['draws']>): AssumedFigure {
  const words = (value: number) => drawWords(draw.unit, value);
  const moved = (factor: number): Move => ({
    figure: words(draw.value * factor),
    apply: changeElements(part, (element) => {
      const own = element.kind === 'load' ? element[what] : undefined;
      return own === undefined ? element : { ...element, [what]: { ...own, value: own.value * factor } };
    }),
  });
  return {
    of: part,
    what,
    figure: words(draw.value),
    advice: `Read the ${what === 'peaks' ? 'peak draw' : 'draw'} of ${quote(part)} off its label or data sheet`,
    up: moved(1 + UNCERTAINTY.power),
    down: moved(1 - UNCERTAINTY.power),
  };
}

function drawWords(unit: 'W' | 'VA' | 'A', value: number): string {
  return unit === 'W' ? watts(value) : unit === 'VA' ? voltAmperes(value) : amps(value);
}

/** Other facts for one part; `change` also gets what its type says under its own. */
function changePart(name: string, change: (own: PartFacts, merged: PartFacts) => PartFacts) {
  return (installation: Installation): Installation => {
    const changed = (part: Part): Part => {
      if (part.name !== name) return part;
      const type = part.type === undefined ? undefined : installation.partTypes.get(part.type);
      const { outputs, rating } = part.facts;
      const under = type?.facts;
      const merged: PartFacts = {
        ...part.facts,
        outputs:
          outputs.length > 0
            ? outputs.map((own) => ({ ...underOutput(under, own.tap), ...own }))
            : (under?.outputs ?? []),
        rating: { ...under?.rating, ...rating },
      };
      return { ...part, facts: change(part.facts, merged) };
    };
    const { supplies, devices } = installation;
    return { ...installation, supplies: supplies.map(changed), devices: devices.map(changed) };
  };
}

function underOutput(under: PartFacts | undefined, tap: string | undefined) {
  return under?.outputs.find((output) => output.tap === tap);
}

/** Other elements for one part: a type of its own. */
function changeElements(name: string, change: (element: PartElement) => PartElement) {
  return (installation: Installation): Installation => {
    const partTypes = new Map(installation.partTypes);
    const changed = (part: Part): Part => {
      const type = part.type === undefined ? undefined : partTypes.get(part.type);
      if (part.name !== name || type === undefined) return part;
      const own = `${type.name} of ${name}`;
      partTypes.set(own, { ...type, name: own, elements: type.elements.map(change) });
      return { ...part, type: own };
    };
    const supplies = installation.supplies.map(changed);
    const devices = installation.devices.map(changed);
    return { ...installation, supplies, devices, partTypes };
  };
}
