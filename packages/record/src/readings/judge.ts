/** Every reading in the record against what the record makes one expect. */

import { analysisOfPieces, piecesOf, takenApart } from '../analyse/analyse.js';
import { keptWith } from '../analyse/lazily.js';
import { isSame } from '../analyse/same.js';
import type { Analysis } from '../analysis-types.js';
import { Gauge } from '../explain/gauge.js';
import { House } from '../explain/house.js';
import { nuisancesOf } from '../explain/nuisances.js';
import { type Taken, takeReadings } from '../explain/observations.js';
import { Operation, SOUND } from '../explain/operate.js';
import { weigh } from '../explain/weigh.js';
import { partsOfReading } from '../judging/bad-readings.js';
import type { ReadingBlock } from '../readings-types.js';
import { agreesWith, predict } from './predict.js';
import { setsOf } from './setting.js';
import type { JudgedReading } from './types.js';

/**
 * Blocks and readings in the record's order, as a sound house would show them. Within a block the mains and the first idle reading across a
 * supply set what the supplies give; such a reading is itself held against the label. Kept while the readings and all that they were taken
 * of are as they were.
 */
export function judgeReadings(analysis: Analysis): readonly JudgedReading[] {
  const blocks = analysis.installation.readings ?? [];
  if (blocks.length === 0) return [];
  const pieces = piecesRead(analysis, blocks);
  const { profile } = analysis.installation;
  const [first = analysis] = pieces;
  const known = kept.get(first);
  const isSamePieces =
    known?.pieces.length === pieces.length && pieces.every((piece, index) => piece === known.pieces[index]);
  if (known !== undefined && isSamePieces && known.profile === profile && isSame(known.blocks, blocks))
    return known.judged;
  const judged = judgeIn(new House(analysisOfPieces(analysis, pieces)), blocks);
  kept.set(first, { profile, blocks, pieces, judged });
  return judged;
}

interface Judged {
  readonly profile: string;
  readonly blocks: readonly ReadingBlock[];
  readonly pieces: readonly Analysis[];
  readonly judged: readonly JudgedReading[];
}

const kept = new WeakMap<Analysis, Judged>();

/** What somebody read of: all else has no say in what is read there. */
function piecesRead(analysis: Analysis, blocks: readonly ReadingBlock[]): readonly Analysis[] {
  const all = piecesOf(analysis);
  const apart = takenApart(analysis);
  if (apart === undefined) return all;
  const readings = blocks.flatMap((block) => block.readings);
  const read = new Set(readings.flatMap(partsOfReading).map((name) => apart.clusterOf(name)));
  const pieces = all.filter((piece) => read.has(piece));
  // Volts that are more than the supplies there can give are held against all that there are.
  const given = pieces.reduce((sum, piece) => sum + voltsGivenIn(piece), 0);
  const isBeyond = readings.some(({ of }) => of.kind === 'volts' && !(Math.abs(of.volts) <= 2 * given));
  return isBeyond ? all : pieces;
}

/** No-load volts of all windings in series. */
const voltsGivenIn = keptWith(({ elements }: Analysis): number => {
  let sum = 0;
  for (const { element, noLoadVolts = 0 } of elements.values()) if (element.kind === 'winding') sum += noLoadVolts;
  return sum;
});

function judgeIn(house: House, blocks: readonly ReadingBlock[]): readonly JudgedReading[] {
  const gauge = new Gauge(new Operation(house, nuisancesOf(house)), 1);
  return blocks.flatMap((stated, block) => {
    const taken = takeReadings(house, block, stated, 0);
    const sets = setsOf(house, taken);
    const setting = taken.filter((one) => sets.has(one.index));
    return taken.map((one) => judge(gauge, one, setting, sets.get(one.index) ?? []));
  });
}

function judge(gauge: Gauge, one: Taken, setting: readonly Taken[], sets: readonly string[]): JudgedReading {
  const { block, index, reading, observation } = one;
  const judged = { block, index, reading, sets, ...(one.bad === undefined ? {} : { bad: one.bad }) };
  if (observation === undefined) {
    const reason = one.bad ?? one.reason ?? 'nothing can be made of it';
    return { ...judged, predicted: { kind: 'unknown', reason }, agrees: undefined };
  }
  const before = setting.filter(
    (other) => other.index !== index && (sets.length === 0 || other.reading.of.kind === 'mains'),
  );
  const given = before.flatMap((other) => other.observation ?? []);
  const predicted = predict(gauge, SOUND, observation, weigh(gauge, SOUND, given));
  return { ...judged, predicted, agrees: agreesWith(observation, predicted) };
}
