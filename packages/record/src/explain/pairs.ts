/** Two faults at once, where no single one fits. */

import type { Hypothesis } from './hypotheses.js';
import type { Variant } from './variants.js';
import type { Ranked, Ranking } from './rank.js';

/** Pairs are made of so many of the singles that come nearest, each as the so many variants that do. */
const MOST_SINGLES = 16;
const MOST_VARIANTS = 2;

export function pairsWithinReach({ faults }: Ranking): readonly Hypothesis[] {
  const nearest = [...faults].sort((x, y) => nearness(y) - nearness(x)).slice(0, MOST_SINGLES);
  return nearest.flatMap((one, k) => nearest.slice(k + 1).flatMap((other) => pairOf(one, other)));
}

/** What it would be likely to be if half of what speaks against it were another fault's doing. */
function nearness({ hypothesis, variants }: Ranked): number {
  const best = Math.max(...variants.map(({ weighed }) => weighed.logLikelihood));
  return Math.log(hypothesis!.prior) + best / 2;
}

function pairOf(
  { hypothesis: one, variants: ones }: Ranked,
  { hypothesis: other, variants: others }: Ranked,
): readonly Hypothesis[] {
  const variants = ones
    .slice(0, MOST_VARIANTS)
    .flatMap((x) => others.slice(0, MOST_VARIANTS).flatMap((y) => merged(x.variant, y.variant)));
  if (variants.length === 0) return [];
  return [
    {
      id: [one!.id, other!.id].sort().join(' + '),
      what: `${one!.what}, and ${other!.what}`,
      kinds: [...one!.kinds, ...other!.kinds],
      parts: [...new Set([...one!.parts, ...other!.parts])],
      prior: one!.prior * other!.prior,
      variants: variants.map((variant) => ({ ...variant, share: 1 / variants.length })),
    },
  ];
}

function merged(one: Variant, other: Variant): readonly Variant[] {
  const changed = new Set(one.changes.map(({ branch }) => branch));
  if (one.draw !== other.draw) return [];
  if (other.changes.some(({ branch }) => changed.has(branch))) return [];
  const both = <K, V>(x?: ReadonlyMap<K, V>, y?: ReadonlyMap<K, V>): ReadonlyMap<K, V> =>
    new Map([...(x ?? []), ...(y ?? [])]);
  const spread = one.spread ?? other.spread;
  return [
    {
      share: 1,
      changes: [...one.changes, ...other.changes],
      ...(one.draw === undefined ? {} : { draw: one.draw }),
      made: both(one.made, other.made),
      unmade: both(one.unmade, other.unmade),
      ...(spread === undefined ? {} : { spread }),
      stuck: new Set([...(one.stuck ?? []), ...(other.stuck ?? [])]),
      ringsWired: both(one.ringsWired, other.ringsWired),
      latched: new Set([...(one.latched ?? []), ...(other.latched ?? [])]),
      reversed: new Set([...(one.reversed ?? []), ...(other.reversed ?? [])]),
      ...(one.off === true || other.off === true ? { off: true as const } : {}),
    },
  ];
}
