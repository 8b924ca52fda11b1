/** Hypotheses by how well they fit what was read. */

import type { Gauge } from './gauge.js';
import type { Hypothesis } from './hypotheses.js';
import { SOUND, type Variant, withDraws } from './variants.js';
import { soundBefore } from './practice.js';
import { type Observation, type Weighed, weigh } from './weigh.js';

export interface RankedVariant {
  readonly variant: Variant;
  readonly weighed: Weighed;
  /** Share of all belief. */
  readonly belief: number;
}

export interface Ranked {
  /** Undefined for a sound house. */
  readonly hypothesis: Hypothesis | undefined;
  readonly belief: number;
  /** Likeliest first. */
  readonly variants: readonly RankedVariant[];
  /** Position among the observations of the one that excludes it. */
  readonly excludedBy: number | undefined;
}

export interface Ranking {
  readonly sound: Ranked;
  /** Likeliest first; the excluded among them. */
  readonly faults: readonly Ranked[];
}

/** Figures together are beyond belief from this squared distance on, and each figure adds to it. */
const DISTANCE_BEYOND = 36;
const DISTANCE_PER_FIGURE = 4;

export function rank(gauge: Gauge, hypotheses: readonly Hypothesis[], observations: readonly Observation[]): Ranking {
  const weighAll = (variants: readonly Variant[], prior: number) =>
    variants.map((variant) => {
      const weighed = weigh(gauge, variant, observations);
      return { variant, weighed, log: Math.log(prior * variant.share) + weighed.logLikelihood };
    });
  const { house } = gauge.operation;
  const sound = weighAll(withDraws(house, [SOUND]), soundBefore);
  const faults = hypotheses.map((hypothesis) => weighAll(hypothesis.variants, hypothesis.prior));
  let highest = Number.NEGATIVE_INFINITY;
  for (const list of [sound, ...faults]) for (const { log } of list) highest = Math.max(highest, log);
  let sum = 0;
  for (const list of [sound, ...faults]) for (const { log } of list) sum += Math.exp(log - highest);
  const rankedOf = (list: ReturnType<typeof weighAll>, hypothesis?: Hypothesis): Ranked => {
    const variants = list
      .map(({ variant, weighed, log }) => ({ variant, weighed, belief: Math.exp(log - highest) / sum }))
      .sort((x, y) => y.belief - x.belief);
    const belief = variants.reduce((all, one) => all + one.belief, 0);
    return { hypothesis, belief, variants, excludedBy: exclusion(variants) };
  };
  const ranked = faults.map((list, k) => rankedOf(list, hypotheses[k]));
  ranked.sort((x, y) => y.belief - x.belief || (x.hypothesis!.id < y.hypothesis!.id ? -1 : 1));
  return { sound: rankedOf(sound), faults: ranked };
}

/** What excludes the variant that comes nearest; undefined when one of them is not excluded. */
function exclusion(variants: readonly RankedVariant[]): number | undefined {
  let by: number | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const { weighed } of variants) {
    const { against, distance, figures } = weighed;
    const worst = Math.max(0, ...against);
    const isTogether = distance > DISTANCE_BEYOND + DISTANCE_PER_FIGURE * figures;
    if (worst <= 1 && !isTogether) return undefined;
    if (worst >= least) continue;
    least = worst;
    by = against.indexOf(worst);
  }
  return by;
}
