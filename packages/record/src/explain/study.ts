/** All that the finder works with, put together once for a record and a choice of blocks. */

import type { Analysis } from '../analysis-types.js';
import type { ReadingBlock } from '../readings-types.js';
import { Gauge } from './gauge.js';
import { House } from './house.js';
import { type Hypothesis, hypothesesOf, suspectsOf } from './hypotheses.js';
import { nuisancesOf } from './nuisances.js';
import { type Taken, takeReadings } from './observations.js';
import { Operation } from './operate.js';
import type { Observation } from './weigh.js';

export interface Study {
  readonly house: House;
  readonly gauge: Gauge;
  readonly hypotheses: readonly Hypothesis[];
  readonly taken: readonly Taken[];
  /** Those of `taken` that can be weighed, in order. */
  readonly used: readonly (Taken & { readonly observation: Observation })[];
  readonly observations: readonly Observation[];
  /** The last block's number among those weighed together: whose mains the next reading has. */
  readonly lastBlock: number;
}

export function studyOf(analysis: Analysis, blocks: readonly number[], recentWork: boolean): Study {
  const house = new House(analysis);
  const hypotheses = hypothesesOf(suspectsOf(house), recentWork);
  const operation = new Operation(house, nuisancesOf(house));
  const stated = analysis.installation.readings ?? [];
  const taken = blocks.flatMap((block, k) => {
    const of = stated[block];
    return of === undefined ? [] : takeReadings(house, block, of, k);
  });
  const used = taken.flatMap((one) =>
    one.observation === undefined ? [] : [{ ...one, observation: one.observation }],
  );
  return {
    house,
    gauge: new Gauge(operation, blocks.length),
    hypotheses,
    taken,
    used,
    observations: used.map(({ observation }) => observation),
    lastBlock: Math.max(blocks.length - 1, 0),
  };
}

/** Blocks of the latest date: what was read at other times was another house. */
export function latestBlocks(blocks: readonly ReadingBlock[]): readonly number[] {
  const latest = blocks
    .map(({ on }) => on)
    .sort()
    .at(-1);
  return blocks.flatMap(({ on }, index) => (on === latest ? [index] : []));
}
