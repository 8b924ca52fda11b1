/** All that the finder works with, put together once for a record and a choice of blocks. */

import { takenApart } from '../analyse/analyse.js';
import type { Analysis } from '../analysis-types.js';
import type { ReadingBlock } from '../readings-types.js';
import { Gauge } from './gauge.js';
import { House } from './house.js';
import { type Hypothesis, hypothesesOf, type Suspect, suspectsOf } from './hypotheses.js';
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
  const { house, suspects, operation, gauges } = workshopOf(analysis);
  const gauge = gauges.get(blocks.length) ?? new Gauge(operation, blocks.length);
  gauges.set(blocks.length, gauge);
  const stated = analysis.installation.readings ?? [];
  const taken = blocks.flatMap((block, k) => {
    const of = stated[block];
    return of === undefined ? [] : takeReadings(house, block, of, k);
  });
  const used = taken.flatMap((one) =>
    one.observation === undefined ? [] : [{ ...one, observation: atKnownSpot(gauge, one.observation) }],
  );
  return {
    house,
    gauge,
    hypotheses: hypothesesOf(suspects, recentWork),
    taken,
    used,
    observations: used.map(({ observation }) => observation),
    lastBlock: Math.max(blocks.length - 1, 0),
  };
}

function atKnownSpot(gauge: Gauge, observation: Observation): Observation {
  return observation.kind === 'figure' ? { ...observation, spot: gauge.known(observation.spot) } : observation;
}

/** What does not lean on readings: it is kept while the house is as it was, and with it every figure that was predicted. */
interface Workshop {
  readonly house: House;
  readonly suspects: readonly Suspect[];
  readonly operation: Operation;
  /** By how many blocks are weighed together. */
  readonly gauges: Map<number, Gauge>;
}

const workshops = new WeakMap<object, { readonly of: readonly object[]; readonly workshop: Workshop }>();

/** Figures that are kept from one explanation to the next. */
const MOST_KEPT = 60_000;

/** Of a record in pieces the pieces stay the same while nothing in them changes; otherwise its parts do. */
function piecesOf(analysis: Analysis): readonly object[] {
  return takenApart(analysis)?.clusters ?? [analysis.parts];
}

function workshopOf(analysis: Analysis): Workshop {
  const of = piecesOf(analysis);
  const [first = analysis] = of;
  const known = workshops.get(first);
  if (known?.of.length === of.length && of.every((piece, k) => piece === known.of[k])) return known.workshop;
  const house = new House(analysis);
  const suspects = suspectsOf(house);
  const operation = new Operation(house, nuisancesOf(house));
  const workshop = { house, suspects, operation, gauges: new Map<number, Gauge>() };
  workshops.set(first, { of, workshop });
  return workshop;
}

/** Of a large house what was predicted is let go of again: it would take more room than it saves time. */
export function letGoOf(analysis: Analysis, { gauge }: Study): void {
  if (gauge.size <= MOST_KEPT) return;
  workshops.delete(piecesOf(analysis)[0] ?? analysis);
}

/** Blocks of the latest date: what was read at other times was another house. */
export function latestBlocks(blocks: readonly ReadingBlock[]): readonly number[] {
  const latest = blocks
    .map(({ on }) => on)
    .sort()
    .at(-1);
  return blocks.flatMap(({ on }, index) => (on === latest ? [index] : []));
}
