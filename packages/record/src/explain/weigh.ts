/**
 * How well a variant of a hypothesis fits what was read: every figure leans on the same nuisances, so that all readings together are one
 * normal distribution about the variant's figures, and each reading also says something of what the others should be.
 */

import type { Gauge, Gauged, Spot } from './gauge.js';
import type { Live, Variant } from './variants.js';
import { misheard, ohmLimits } from './practice.js';
import { type Outcome, outcomeChances } from './signs.js';

/** A reading made ready: a figure at a spot, or what a part did. */
export type Observation =
  | { readonly kind: 'figure'; readonly spot: Spot; readonly figure: number | null; readonly half?: number }
  | {
      readonly kind: 'sign';
      readonly part: string;
      readonly live: Live;
      readonly block: number;
      readonly outcome: Outcome;
    }
  /** Volts of the mains as a share of the profile's. */
  | { readonly kind: 'mains'; readonly share: number; readonly half: number; readonly block: number };

/** Variance of a figure evenly spread over a band of half-width 1. */
export const EVEN = 1 / 3;
const LOG_TWO_PI = Math.log(2 * Math.PI);
/** Log likelihood of an open reading where a figure is due, or the other way about. */
const AGAINST = -14;
const OPEN_OF_SOME = 0.3;
/** A sign with less chance than this excludes. */
const UNHEARD_OF = 0.002;
/** A figure this many times beyond the spread of all that it leans on, and the meter's band, excludes. */
const BEYOND = 2.6;
/** Where a load may as well hold as let go: the chance that it did other than is worked out, told from so many deviations on. */
const OTHERWISE = 0.2;
const OTHERWISE_FROM = 3;
/** The mains were read somewhere else than at what is off. */
const MAINS_ELSEWHERE = 0.1;

export interface Expected {
  readonly mean: number;
  /** Of what is read: the meter's own included. */
  readonly variance: number;
  readonly gauged: Gauged;
}

export interface Weighed {
  readonly logLikelihood: number;
  /** Squared distance of the figures from what is expected, in units of their spread. */
  readonly distance: number;
  readonly figures: number;
  /** Of what has not been read, given what has. */
  expect(spot: Spot): Expected;
  /** Per observation: how far beyond belief it is; above 1 it excludes the variant. */
  readonly against: readonly number[];
}

export function weigh(gauge: Gauge, variant: Variant, observations: readonly Observation[]): Weighed {
  const { joint, logs, against: figuresAgainst } = figuresOf(gauge, variant, observations);
  const expect = (spot: Spot): Expected => joint.expect(gauge.gauge(variant, spot));
  let against = figuresAgainst;
  let logLikelihood = 0;
  observations.forEach((observation, index) => {
    let log = logs[index]!;
    if (observation.kind === 'sign') {
      const { part, live, block, outcome } = observation;
      const chances = outcomeChances(gauge, variant, { part, live, block }, expect);
      const chance = chanceOf(chances, outcome);
      if (chance < UNHEARD_OF) {
        if (against === figuresAgainst) against = [...figuresAgainst];
        against[index] = 2;
      }
      log = Math.log((1 - misheard) * chance + misheard / 4);
    }
    logLikelihood += log;
  });
  return { logLikelihood, distance: joint.distance, figures: joint.count, expect, against };
}

/** What the figures read say of all variants that expect the same of them. */
interface Figures {
  readonly joint: Joint;
  readonly logs: readonly number[];
  readonly against: number[];
}

const kept = new WeakMap<readonly Observation[], { readonly gauge: Gauge; readonly figures: Map<string, Figures> }>();

function figuresOf(gauge: Gauge, variant: Variant, observations: readonly Observation[]): Figures {
  let known = kept.get(observations);
  if (known === undefined || known.gauge !== gauge) {
    known = { gauge, figures: new Map() };
    kept.set(observations, known);
  }
  let key = variant.off === true ? 'off' : '';
  for (const observation of observations)
    if (observation.kind === 'figure') key += ` ${gauge.gauge(variant, observation.spot).id}`;
  let figures = known.figures.get(key);
  if (figures === undefined) {
    figures = weighFigures(gauge, variant, observations);
    known.figures.set(key, figures);
  }
  return figures;
}

function weighFigures(gauge: Gauge, variant: Variant, observations: readonly Observation[]): Figures {
  const joint = new Joint(gauge);
  const against: number[] = [];
  const logs = observations.map((observation) => {
    joint.against = 0;
    const log =
      observation.kind === 'figure'
        ? joint.take(gauge.gauge(variant, observation.spot), observation.figure, observation.half)
        : observation.kind === 'mains'
          ? joint.takeMains(observation, variant.off === true)
          : 0;
    against.push(joint.against);
    return log;
  });
  return { joint, logs, against };
}

/** "rings" covers whichever note; a note covers itself alone. */
export function chanceOf(chances: ReadonlyMap<string, number>, { shows, note }: Outcome): number {
  if (note !== undefined) return chances.get(`${shows}:${note}`) ?? (shows === 'rings' ? 0 : (chances.get(shows) ?? 0));
  let sum = 0;
  for (const [key, chance] of chances) if (key === shows || key.startsWith(`${shows}:`)) sum += chance;
  return sum;
}

/**
 * A normal distribution about what is not known for sure, narrowed by one figure after another: each takes away the direction in which it
 * tells, the rows being these directions at right angles to each other.
 */
class Joint {
  /** How far beyond belief the figure taken last is. */
  against = 0;
  count = 0;
  distance = 0;
  readonly #rows: Float64Array[] = [];
  /** What the figures make one expect of each axis. */
  readonly #shift: Float64Array;

  constructor(private readonly gauge: Gauge) {
    this.#shift = new Float64Array(gauge.width);
  }

  /** Takes a figure in; the log of its likelihood given those before it. */
  take(gauged: Gauged, figure: number | null, half = gauged.meter): number {
    if (gauged.tells !== undefined) {
      const isOpen = figure === null || figure > ohmLimits.overRange;
      if (gauged.tells === 'open') {
        this.against = isOpen ? 0 : 2;
        return isOpen ? 0 : AGAINST - Math.log(ohmLimits.someUpTo);
      }
      if (gauged.tells === 'some') {
        return isOpen
          ? Math.log(OPEN_OF_SOME)
          : Math.log((1 - OPEN_OF_SOME) / Math.max(figure, 1)) - Math.log(Math.log(ohmLimits.someUpTo));
      }
      if (isOpen) {
        this.against = 2;
        return AGAINST;
      }
    }
    return this.#add(gauged, half, figure ?? 0);
  }

  takeMains({ share, half, block }: Observation & { kind: 'mains' }, isOff: boolean): number {
    const isGone = share < -0.5;
    if (isOff) return Math.log(isGone ? 0.5 : MAINS_ELSEWHERE);
    if (isGone) {
      this.against = 2;
      return AGAINST;
    }
    const { nuisances } = this.gauge.operation;
    const at = block > 0 ? nuisances.length + block - 1 : nuisances.findIndex(({ perBlock }) => perBlock === true);
    return this.#add({ value: 0, gradient: [half], axes: [at] }, 0.02, share);
  }

  expect(gauged: Gauged): Expected {
    const { meter } = gauged;
    const { mean, variance } = this.#given(gauged, meter);
    return { mean, variance: Math.max(variance, EVEN * meter * meter), gauged };
  }

  /** Of a figure with a band of so much of its own, given those taken. */
  #given({ value, gradient, axes }: Figure, half: number): { mean: number; variance: number } {
    let mean = value;
    let variance = EVEN * (square(gradient) + half * half);
    const shift = this.#shift;
    for (let k = 0; k < axes.length; k++) mean += gradient[k]! * shift[axes[k]!]!;
    for (const row of this.#rows) {
      let along = 0;
      for (let k = 0; k < axes.length; k++) along += gradient[k]! * row[axes[k]!]!;
      variance -= along * along;
    }
    return { mean, variance };
  }

  #add(of: Figure, half: number, figure: number): number {
    const { value, gradient, axes, doubt = 0 } = of;
    this.against = Math.abs(figure - value) / (half + doubt + BEYOND * Math.sqrt(square(gradient)));
    const { mean, variance } = this.#given(of, half);
    const root = Math.sqrt(Math.max(variance, 1e-12, EVEN * half * half * 0.5));
    const scaled = (figure - mean) / root;
    if (doubt > 0 && Math.abs(scaled) > OTHERWISE_FROM) {
      // The load did the other thing: this figure tells nothing of the rest.
      const wide = Math.hypot(root, doubt);
      return Math.log(OTHERWISE) - 0.5 * ((figure - mean) / wide) ** 2 - Math.log(wide) - 0.5 * LOG_TWO_PI;
    }
    const direction = new Float64Array(this.#shift.length);
    for (let k = 0; k < axes.length; k++) direction[axes[k]!]! += EVEN * gradient[k]!;
    for (const row of this.#rows) {
      let along = 0;
      for (let k = 0; k < axes.length; k++) along += gradient[k]! * row[axes[k]!]!;
      for (let k = 0; k < row.length; k++) direction[k]! -= along * row[k]!;
    }
    for (let k = 0; k < direction.length; k++) {
      direction[k]! /= root;
      this.#shift[k]! += direction[k]! * scaled;
    }
    this.#rows.push(direction);
    this.count++;
    this.distance += scaled * scaled;
    return -0.5 * scaled * scaled - Math.log(root) - 0.5 * LOG_TWO_PI;
  }
}

type Figure = Pick<Gauged, 'value' | 'gradient' | 'axes' | 'doubt'>;

function square(gradient: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < gradient.length; k++) sum += gradient[k]! * gradient[k]!;
  return sum;
}
