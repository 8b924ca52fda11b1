/** What could come of an ask, as chances under each hypothesis, and how much that would tell. */

import type { Ask } from './asks.js';
import type { Gauge } from './gauge.js';
import { misheard, ohmLimits } from './practice.js';
import type { Ranked, RankedVariant } from './rank.js';
import { normal, outcomeChances } from './signs.js';

const BINS = 40;
const OHM_EDGES = [0, 0.5, 1, 2, 4, 8, 15, 30, 60, 120, 250, 500, 1000, 2000, 4000, 8000, 20_000, 1e5, 1e6];

/** Bits that the answer is expected to tell of which hypothesis holds. */
export function bitsOf(gauge: Gauge, ask: Ask, ranked: readonly Ranked[]): number {
  const all = ranked.reduce((sum, { belief }) => sum + belief, 0);
  if (!(all > 0)) return 0;
  const chances = ranked.map(({ variants }) => chancesOf(gauge, ask, variants));
  if (ask.spot !== undefined && ask.spot.kind !== 'ohms') return bitsOfFigures(ranked, chances as Spread[][], all);
  const keys = new Set((chances as Named[]).flatMap((one) => [...one.keys()]));
  return mutual(
    ranked.map(({ belief }) => belief / all),
    (chances as Named[]).map((one) => [...keys].map((key) => one.get(key) ?? 0)),
  );
}

type Named = ReadonlyMap<string, number>;
interface Spread {
  readonly share: number;
  readonly mean: number;
  readonly deviation: number;
}

function chancesOf(gauge: Gauge, ask: Ask, variants: readonly RankedVariant[]): Named | Spread[] {
  const all = variants.reduce((sum, { belief }) => sum + belief, 0);
  if (ask.watched !== undefined) {
    const sum = new Map<string, number>();
    for (const { variant, weighed, belief } of variants) {
      for (const [key, chance] of outcomeChances(gauge, variant, ask.watched, weighed.expect)) {
        sum.set(key, (sum.get(key) ?? 0) + (belief / all) * chance);
      }
    }
    for (const [key, chance] of sum) sum.set(key, (1 - 2 * misheard) * chance + (2 * misheard) / sum.size);
    return sum;
  }
  if (ask.spot!.kind !== 'ohms') {
    return variants.map(({ weighed, belief }) => {
      const { mean, variance } = weighed.expect(ask.spot!);
      return { share: belief / all, mean, deviation: Math.sqrt(variance) };
    });
  }
  const sum = new Map<string, number>();
  const put = (key: string, chance: number): void => {
    sum.set(key, (sum.get(key) ?? 0) + chance);
  };
  for (const { weighed, belief } of variants) {
    const share = belief / all;
    const { mean, variance, gauged } = weighed.expect(ask.spot!);
    if (gauged.tells === 'open' || mean > ohmLimits.overRange) put('OL', share);
    else if (gauged.tells === 'some') {
      put('OL', 0.3 * share);
      for (let k = 0; k < OHM_EDGES.length; k++) put(String(k), (0.7 * share) / OHM_EDGES.length);
    } else {
      let below = 0;
      OHM_EDGES.forEach((_, k) => {
        const edge = OHM_EDGES[k + 1];
        const upTo = edge === undefined ? 1 : normal((edge - mean) / Math.sqrt(variance));
        put(String(k), share * (upTo - below));
        below = upTo;
      });
    }
  }
  return sum;
}

function bitsOfFigures(ranked: readonly Ranked[], spreads: readonly Spread[][], all: number): number {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const list of spreads) {
    for (const { mean, deviation } of list) {
      least = Math.min(least, mean - 2 * deviation);
      most = Math.max(most, mean + 2 * deviation);
    }
  }
  const width = Math.max((most - least) / BINS, 1e-9);
  const masses = spreads.map((list) => binned(list, least, width));
  return mutual(
    ranked.map(({ belief }) => belief / all),
    masses,
  );
}

function binned(list: readonly Spread[], least: number, width: number): readonly number[] {
  const bins: number[] = [];
  for (let k = 0; k < BINS; k++) bins.push(0);
  for (const { share, mean, deviation } of list) {
    if (share < 1e-4) continue;
    const first = Math.max(0, Math.floor((mean - 4 * deviation - least) / width));
    const last = Math.min(BINS - 1, Math.floor((mean + 4 * deviation - least) / width));
    let below = 0;
    for (let k = first; k <= last; k++) {
      const upTo = k === last ? 1 : normal((least + (k + 1) * width - mean) / deviation);
      bins[k]! += share * (upTo - below);
      below = upTo;
    }
  }
  return bins;
}

/** Mutual information in bits between which one holds and what is seen. */
function mutual(beliefs: readonly number[], chances: readonly (readonly number[])[]): number {
  const outcomes = chances[0]?.length ?? 0;
  let bits = 0;
  for (let k = 0; k < outcomes; k++) {
    let overall = 0;
    for (let h = 0; h < beliefs.length; h++) overall += beliefs[h]! * chances[h]![k]!;
    if (!(overall > 0)) continue;
    for (let h = 0; h < beliefs.length; h++) {
      const chance = chances[h]![k]!;
      if (chance > 0) bits += beliefs[h]! * chance * Math.log2(chance / overall);
    }
  }
  return Math.max(bits, 0);
}
