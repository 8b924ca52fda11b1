/** Every reading in the record against what the record makes one expect. */

import type { Analysis } from '../analysis-types.js';
import { Gauge } from '../explain/gauge.js';
import { House } from '../explain/house.js';
import { nuisancesOf } from '../explain/nuisances.js';
import { type Taken, takeReadings } from '../explain/observations.js';
import { Operation, SOUND } from '../explain/operate.js';
import { weigh } from '../explain/weigh.js';
import { agreesWith, predict } from './predict.js';
import { setsOf } from './setting.js';
import type { JudgedReading } from './types.js';

/**
 * Blocks and readings in the record's order, as a sound house would show them. Within a block the mains and the first idle reading across a
 * supply set what the supplies give; such a reading is itself held against the label.
 */
export function judgeReadings(analysis: Analysis): readonly JudgedReading[] {
  const blocks = analysis.installation.readings ?? [];
  if (blocks.length === 0) return [];
  const house = new House(analysis);
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
