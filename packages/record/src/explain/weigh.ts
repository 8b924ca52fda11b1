/**
 * How well a variant of a hypothesis fits what was read: every figure leans on the same nuisances, so that all readings together are one
 * normal distribution about the variant's figures, and each reading also says something of what the others should be.
 */

import type { Gauge, Gauged, Spot } from './gauge.js';
import type { Live, Variant } from './operate.js';
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
const BEYOND = 1.6;
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
  const joint = new Joint(gauge, variant);
  const parts: number[] = new Array(observations.length).fill(0);
  const against: number[] = new Array(observations.length).fill(0);
  observations.forEach((observation, index) => {
    joint.against = 0;
    if (observation.kind === 'figure')
      parts[index] = joint.take(observation.spot, observation.figure, observation.half);
    else if (observation.kind === 'mains') parts[index] = joint.takeMains(observation);
    against[index] = joint.against;
  });
  const expect = (spot: Spot): Expected => joint.expect(spot);
  observations.forEach((observation, index) => {
    if (observation.kind !== 'sign') return;
    const { part, live, block, outcome } = observation;
    const chances = outcomeChances(gauge, variant, { part, live, block }, expect);
    const chance = chanceOf(chances, outcome);
    against[index] = chance < UNHEARD_OF ? 2 : 0;
    parts[index] = Math.log((1 - misheard) * chance + misheard / 4);
  });
  return {
    logLikelihood: parts.reduce((sum, part) => sum + part, 0),
    distance: joint.distance,
    figures: joint.count,
    expect,
    against,
  };
}

/** "rings" covers whichever note; a note covers itself alone. */
export function chanceOf(chances: ReadonlyMap<string, number>, { shows, note }: Outcome): number {
  if (note !== undefined) return chances.get(`${shows}:${note}`) ?? (shows === 'rings' ? 0 : (chances.get(shows) ?? 0));
  let sum = 0;
  for (const [key, chance] of chances) if (key === shows || key.startsWith(`${shows}:`)) sum += chance;
  return sum;
}

/** A normal distribution that grows by one figure at a time (a Cholesky factor, row by row). */
class Joint {
  /** How far beyond belief the figure taken last is. */
  against = 0;
  count = 0;
  distance = 0;
  readonly #rows: Float64Array[] = [];
  readonly #factor: number[][] = [];
  readonly #scaled: number[] = [];

  constructor(
    private readonly gauge: Gauge,
    private readonly variant: Variant,
  ) {}

  /** Takes a figure in; the log of its likelihood given those before it. */
  take(spot: Spot, figure: number | null, half?: number): number {
    const gauged = this.gauge.gauge(this.variant, spot);
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
    return this.#add(gauged.value, gauged.gradient, half ?? gauged.meter, figure ?? 0, gauged.doubt);
  }

  takeMains({ share, half, block }: Observation & { kind: 'mains' }): number {
    const isGone = share < -0.5;
    if (this.variant.off === true) return Math.log(isGone ? 0.5 : MAINS_ELSEWHERE);
    if (isGone) {
      this.against = 2;
      return AGAINST;
    }
    const { nuisances } = this.gauge.operation;
    const at = nuisances.findIndex(({ perBlock }) => perBlock === true);
    const gradient = new Float64Array(this.gauge.width);
    gradient[block > 0 ? nuisances.length + block - 1 : at] = half;
    return this.#add(0, gradient, 0.02, share);
  }

  expect(spot: Spot): Expected {
    const gauged = this.gauge.gauge(this.variant, spot);
    const { gradient, meter } = gauged;
    const along = this.#along(gradient);
    let mean = gauged.value;
    let variance = EVEN * (square(gradient) + meter * meter);
    along.forEach((x, i) => {
      mean += x * this.#scaled[i]!;
      variance -= x * x;
    });
    return { mean, variance: Math.max(variance, EVEN * meter * meter), gauged };
  }

  #add(value: number, gradient: Float64Array, half: number, figure: number, doubt = 0): number {
    const along = this.#along(gradient);
    this.against = Math.abs(figure - value) / (half + doubt + BEYOND * Math.sqrt(square(gradient)));
    let mean = value;
    let variance = EVEN * (square(gradient) + half * half);
    along.forEach((x, i) => {
      mean += x * this.#scaled[i]!;
      variance -= x * x;
    });
    const root = Math.sqrt(Math.max(variance, 1e-12, EVEN * half * half * 0.5));
    const scaled = (figure - mean) / root;
    if (doubt > 0 && Math.abs(scaled) > OTHERWISE_FROM) {
      // The load did the other thing: this figure tells nothing of the rest.
      const wide = Math.hypot(root, doubt);
      return Math.log(OTHERWISE) - 0.5 * ((figure - mean) / wide) ** 2 - Math.log(wide) - 0.5 * LOG_TWO_PI;
    }
    this.#rows.push(gradient);
    this.#factor.push([...along, root]);
    this.#scaled.push(scaled);
    this.count++;
    this.distance += scaled * scaled;
    return -0.5 * scaled * scaled - Math.log(root) - 0.5 * LOG_TWO_PI;
  }

  /** The new figure's covariance with those taken, through their factor. */
  #along(gradient: Float64Array): number[] {
    const along: number[] = [];
    this.#rows.forEach((row, i) => {
      let sum = 0;
      for (let k = 0; k < row.length; k++) sum += row[k]! * gradient[k]!;
      sum *= EVEN;
      const factor = this.#factor[i]!;
      for (let j = 0; j < i; j++) sum -= factor[j]! * along[j]!;
      along.push(sum / factor[i]!);
    });
    return along;
  }
}

function square(gradient: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < gradient.length; k++) sum += gradient[k]! * gradient[k]!;
  return sum;
}
