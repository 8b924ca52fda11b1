/** Everything that may be wrong with a house, one thing at a time, with how often it is. */

import { cableFaults, jointFaults, runFaults, swaps } from './hypotheses-wiring.js';
import {
  bypassFaults,
  chimeFaults,
  contactFaults,
  diodeFaults,
  settingFaults,
  supplyFaults,
} from './hypotheses-parts.js';
import type { House } from './house.js';
import { type Variant, withDraws } from './variants.js';
import { classShares, classSharesAfterWork, type FaultClass, kindWeights, soundBefore } from './practice.js';
import type { FaultKind } from './types.js';

/** A fault before it is weighed against others. */
export interface Suspect {
  readonly kind: FaultKind;
  /** What it is on, for its id. */
  readonly on: string;
  /** A sentence without a full stop. */
  readonly what: string;
  readonly parts: readonly string[];
  readonly variants: readonly Variant[];
}

export interface Hypothesis {
  readonly id: string;
  readonly what: string;
  readonly kinds: readonly FaultKind[];
  readonly parts: readonly string[];
  readonly prior: number;
  readonly variants: readonly Variant[];
}

/** Adds to the house the connections that only a fault makes: to be called before it is solved. */
export function suspectsOf(house: House): readonly Suspect[] {
  const suspects = [
    ...contactFaults(house),
    ...jointFaults(house),
    ...supplyFaults(house),
    ...chimeFaults(house),
    ...cableFaults(house),
    ...runFaults(house),
    ...settingFaults(house),
    ...bypassFaults(house),
    ...diodeFaults(house),
    ...swaps(house),
  ];
  const once = [...new Map(suspects.map((suspect) => [`${suspect.kind} ${suspect.on}`, suspect])).values()];
  return once.map((suspect) => ({ ...suspect, variants: withDraws(house, suspect.variants) }));
}

/** With priors: a class's share among its kinds that the house can have, a kind's evenly among its places. */
export function hypothesesOf(suspects: readonly Suspect[], recentWork: boolean): readonly Hypothesis[] {
  const shares = recentWork ? classSharesAfterWork : classShares;
  const counts = new Map<FaultKind, number>();
  for (const { kind } of suspects) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  const weights = new Map<FaultClass, number>();
  for (const kind of counts.keys()) {
    const [of, weight] = kindWeights[kind];
    weights.set(of, (weights.get(of) ?? 0) + weight);
  }
  const all = [...weights.keys()].reduce((sum, of) => sum + shares[of], 0);
  return suspects.map(({ kind, on, what, parts, variants }) => {
    const [of, weight] = kindWeights[kind];
    const share = (shares[of] / all) * (weight / weights.get(of)!) * (1 / counts.get(kind)!);
    return { id: `${kind} ${on}`, what, kinds: [kind], parts, prior: (1 - soundBefore) * share, variants };
  });
}

/** Steps of a severity from least to most on a scale of factors, with half of a step's width as a share. */
export function stepsOf(
  [least, most]: readonly [number, number] | readonly number[],
  count: number,
): readonly { readonly value: number; readonly half: number; readonly share: number }[] {
  const width = Math.log(most! / least!) / count;
  return Array.from({ length: count }, (_, step) => ({
    value: least! * Math.exp(width * (step + 0.5)),
    half: width / 2,
    share: 1 / count,
  }));
}
