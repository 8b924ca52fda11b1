// The fault finder in hidden houses: a seeded few of the cases that the bench goes through (test/bench/explain.mjs prints the whole table).
import { describe, expect, test } from 'vitest';
import { judgedReadings } from '../../packages/record/src/index.js';
import { drawsFrom } from './draws.js';
import { HiddenHouse } from './hidden-house.js';
import { hunt, withReadings } from './hunt.js';
import { casesOf, missOf, shortfalls } from './proof.js';
import { examples, randomRecords } from './records.js';
import { trueFaults } from './true-faults.js';

const root = new URL('../..', import.meta.url).pathname;
const record = examples(root).find(({ name }) => name === 'as-found-bell.wiring')!.analysis;

const FOUND = [
  'supply-dead bell-tx',
  'contact-stuck-open porch-button',
  'contact-corroded yard-button',
  'plunger-stuck hall-chime rear',
  'pair-shorted tx-to-hall.white-green',
];

describe('faults in a hidden house', () => {
  test.each(FOUND)('%s is found first, and never excluded', (id) => {
    const draws = drawsFrom(100);
    const house = new HiddenHouse(record, draws);
    trueFaults(record)
      .find((one) => one.id === id)!
      .put(house, draws);
    const found = hunt(record, house, id);
    expect(found.wasExcluded).toBe(false);
    expect(found.place).toBe(1);
    expect(found.last.healthy).toBe(false);
  });

  test('a sound house is called healthy, and its readings agree with the record', () => {
    const found = hunt(record, new HiddenHouse(record, drawsFrom(5)), undefined);
    expect(found.last.healthy).toBe(true);
    const judged = judgedReadings(withReadings(record, found.readings));
    expect(judged.filter(({ agrees }) => agrees === false)).toEqual([]);
  });

  test('readings that contradict each other are said to be bad', () => {
    const between = ['a', 'b'].map((terminal) => ({ kind: 'end', end: { part: 'bell-tx', terminal } }) as const);
    const at = (volts: number) =>
      ({
        state: { kind: 'live', pressed: [] },
        of: { kind: 'volts', between: [between[0]!, between[1]!], volts },
      }) as const;
    const judged = judgedReadings(withReadings(record, [at(19.5), at(8), at(400)]));
    expect(judged.map(({ bad }) => bad !== undefined)).toEqual([false, true, true]);
  });
});

test('over a few random records and examples it meets what it is held to over many', () => {
  const few = [
    ...randomRecords(4, 4001).map((one) => ({ ...one, faults: 3 })),
    ...examples(root).map((one) => ({ ...one, faults: 1 })),
  ];
  const cases = few.flatMap(({ name, analysis, faults }, k) =>
    casesOf(name, analysis, { faults, soundHouses: 1, seed: 5 + 31 * k }),
  );
  const misses = cases.filter(
    ({ kind, place, visible, wasExcluded, healthy }) =>
      wasExcluded || (visible && place !== 1) || (kind === 'sound' && !healthy),
  );
  expect(shortfalls(cases), misses.map(missOf).join('\n')).toEqual([]);
}, 600_000);
