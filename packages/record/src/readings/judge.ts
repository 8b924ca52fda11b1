/** Every reading in the record against what the record makes one expect. */

import { analysisOfPieces, takenApart } from '../analyse/analyse.js';
import { Beside } from '../analyse/beside.js';
import { keptWith } from '../analyse/lazily.js';
import { isSame } from '../analyse/same.js';
import type { Analysis } from '../analysis-types.js';
import { Gauge } from '../explain/gauge.js';
import { House } from '../explain/house.js';
import { nuisancesOf } from '../explain/nuisances.js';
import { type Taken, takeReadings } from '../explain/observations.js';
import { Operation } from '../explain/operate.js';
import { SOUND } from '../explain/variants.js';
import { weigh } from '../explain/weigh.js';
import { partsOfReading, type Supplies, suppliesOf, tellOfSupplies } from '../judging/bad-readings.js';
import type { ReadingBlock } from '../readings-types.js';
import { agreesWith, predict } from './predict.js';
import { setsOf } from './setting.js';
import type { JudgedReading } from './types.js';

/**
 * Blocks and readings in the record's order, as a sound house would show them. Within a block the mains and the first idle reading across a
 * supply set what the supplies give; such a reading is itself held against the label. Kept while the readings and all that they were taken
 * of are as they were.
 */
export function judgedReadings(analysis: Analysis): readonly JudgedReading[] {
  return judgedIn(analysis)?.judged ?? [];
}

/** What somebody read of, as an analysis of its own: all else has no say in what is read there but by what its supplies give. */
export function whereRead(analysis: Analysis): Analysis {
  return judgedIn(analysis)?.analysis ?? analysis;
}

interface Judged {
  readonly profile: string;
  readonly supplies: Supplies;
  readonly blocks: readonly ReadingBlock[];
  readonly pieces: readonly Analysis[];
  readonly analysis: Analysis;
  readonly judged: readonly JudgedReading[];
}

/** By the first piece that somebody read of. */
const kept = new Beside<Analysis, Judged>();

const judgedIn = keptWith((whole: Analysis): Judged | undefined => {
  const blocks = whole.installation.readings ?? [];
  if (blocks.length === 0) return undefined;
  const pieces = piecesRead(whole, blocks);
  const { profile } = whole.installation;
  const supplies = suppliesOf(whole);
  const [first = whole] = pieces;
  const known = kept.get(first);
  const isAsItWas =
    known !== undefined &&
    known.profile === profile &&
    isSame(known.supplies, supplies) &&
    known.pieces.length === pieces.length &&
    pieces.every((piece, index) => piece === known.pieces[index]) &&
    isSame(known.blocks, blocks);
  if (isAsItWas) return known;
  const analysis = pieces[0] === whole ? whole : analysisOfPieces(whole, pieces);
  tellOfSupplies(analysis, supplies);
  const judged = judgeIn(new House(analysis), blocks);
  const made = { profile, supplies, blocks, pieces, analysis, judged };
  kept.set(first, made);
  return made;
});

function piecesRead(analysis: Analysis, blocks: readonly ReadingBlock[]): readonly Analysis[] {
  const apart = takenApart(analysis);
  if (apart === undefined) return [analysis];
  const names = blocks.flatMap(({ readings }) => readings.flatMap(partsOfReading));
  const read = new Set(names.map((name) => apart.clusterOf(name)));
  return apart.clusters.filter((piece) => read.has(piece));
}

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
