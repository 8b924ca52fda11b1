// Thermostats, irrigation, garden lights, doors, cameras and alarms: the shown records are sound, a slip in one is told by its right name, and
// published sums of loads come out of the solver.
import { readdirSync, readFileSync } from 'node:fs';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { budgetOf } from '@ohmstead/record';
import { describe, expect, test } from 'vitest';

const folder = new URL('../examples/around-the-house/', import.meta.url);
const names = readdirSync(folder).filter((name) => name.endsWith('.wiring'));
const textOf = (name: string) => readFileSync(new URL(`${name}.wiring`, folder), 'utf8');

function checked(text: string) {
  const record = checkRecord(readRecord(parseWiring('file:///w/record.wiring', text)));
  return { findings: record.findings, budget: budgetOf(record.analysis, []) };
}

/** Errors and warnings as `code part`. */
function told(text: string): string[] {
  const grave = checked(text).findings.filter(({ severity }) => severity === 'error' || severity === 'warning');
  return grave.map(({ code, parts }) => `${code} ${parts[0]}`);
}

test.each(names)('%s has nothing that a good technician would wave away', (name) => {
  expect(told(readFileSync(new URL(name, folder), 'utf8'))).toEqual([]);
});

/** One slip each: the record, what is written for what, and what is then told. */
const slips: readonly (readonly [slip: string, record: string, from: string, to: string, told: string])[] = [
  [
    'the common wire is missing',
    'heating-and-cooling',
    '    blue    furnace.c  to  hall-stat.c\n',
    '',
    'never-fed hall-stat',
  ],
  [
    'Y is on C',
    'heating-and-cooling',
    'furnace.y  to  hall-stat.y',
    'furnace.c  to  hall-stat.y',
    'supply-shorted furnace',
  ],
  [
    'R and C are joined',
    'heating-and-cooling',
    'place cellar',
    'place cellar\njumper hall-stat.r to hall-stat.c',
    'supply-shorted furnace',
  ],
  [
    'the contactor is on R',
    'heating-and-cooling',
    'red    furnace.y  to  condenser.a',
    'red    furnace.r  to  condenser.a',
    'coil-energized-at-rest condenser',
  ],
  [
    'RH, RC and both commons are joined',
    'two-transformers',
    'place landing',
    'place landing\njumper stat.rh to stat.rc\njumper heat-tx.c to air-handler.c',
    'supplies-parallel air-handler',
  ],
  [
    'the link between RH and RC is left in',
    'two-transformers',
    'place landing',
    'place landing\njumper stat.rh to stat.rc',
    'supplies-linked stat',
  ],
  [
    'white is on R at the thermostat',
    'heating-and-cooling',
    'furnace.w  to  hall-stat.w',
    'furnace.w  to  hall-stat.r',
    'coil-energized-at-rest furnace',
  ],
  [
    'blue is on W at the furnace',
    'heating-and-cooling',
    'furnace.c  to  hall-stat.c',
    'furnace.w  to  hall-stat.c',
    'never-fed hall-stat',
  ],
  [
    'the controller gives too few volts for any valve',
    'irrigation',
    'output 24 V AC, 24 VA',
    'output 16 V AC, 30 VA',
    'coil-never-pulls-in orchard-valve',
  ],
  [
    'the valve cable is thin and far longer',
    'irrigation',
    'run back-common-wire : 16/2 outdoor direct-burial from garage to back, 240 ft',
    'run back-common-wire : 22/2 outdoor direct-burial from garage to back, 900 ft',
    'coil-never-pulls-in hedge-valve',
  ],
  [
    'a lamp of 12 V hangs on the 15 V tap',
    'garden-lights',
    'path-tx.twelve  to  lamp-1.b',
    'path-tx.fifteen  to  lamp-1.b',
    'device-overvoltage lamp-1',
  ],
  [
    'the lock is on the contact that closes',
    'gate-lock',
    'gate-keypad.closed to gate-button.common',
    'gate-keypad.open to gate-button.common',
    'lock-not-held gate-lock',
  ],
  [
    'a jumper goes past the release button',
    'gate-lock',
    'jumper gate-button.closed to gate-lock.plus',
    'jumper gate-button.closed to gate-lock.plus\njumper gate-keypad.closed to gate-lock.plus',
    'lock-never-releases gate-button',
  ],
  [
    'a jumper feeds the lock past everything',
    'gate-lock',
    'jumper gate-button.closed to gate-lock.plus',
    'jumper gate-button.closed to gate-lock.plus\njumper plus-joint to gate-lock.plus',
    'lock-never-releases gate-lock',
  ],
  ['the battery is small', 'gate-lock', 'battery 7 Ah', 'battery 2 Ah', 'standby-too-short gate-supply'],
  [
    'a 12 V strike is on 24 V',
    'front-door-strike',
    'output 12 V DC, 1 A',
    'output 24 V DC, 1 A',
    'device-overvoltage strike',
  ],
  [
    'thin wire to a 12 V camera',
    'cameras',
    'run to-carport : 16/2 from rack to carport, 15 m',
    'run to-carport : 22/2 from rack to carport, 120 m',
    'load-collapses carport-camera',
  ],
  [
    'network cable four times as long as it may be',
    'cameras',
    'rack to eaves, 80 m',
    'rack to eaves, 400 m',
    'device-undervoltage yard-camera',
  ],
  ['the switch has less to give', 'cameras', 'budget 55 W', 'budget 30 W', 'budget-exceeded switch'],
  [
    'a strip is the wrong way round',
    'led-strip',
    '    red    driver.plus   to  left-strip.plus\n    white  driver.minus  to  left-strip.minus',
    '    red    driver.minus  to  left-strip.plus\n    white  driver.plus   to  left-strip.minus',
    'polarity-reversed left-strip',
  ],
];

test.each(slips)('%s', (_, record, from, to, expected) => {
  const text = textOf(record);
  expect(text.split(from)).toHaveLength(2);
  const found = told(text.replace(from, to));
  expect(found).toContain(expected);
  expect(found.length).toBeLessThanOrEqual(2);
});

describe('published sums', () => {
  /** Zone valves at once behind one thermostat, on a 40 VA transformer. */
  const valves = (count: number, voltAmperes: number) =>
    [
      'supply tx : control-transformer { output 24 V AC, 40 VA }',
      'device stat : thermostat',
      'splice call',
      'jumper tx.r to stat.r',
      'pigtail stat.w to call',
      ...Array.from({ length: count }, (_, i) => [
        `device valve-${i} : zone-valve { rating 24 V AC, ${voltAmperes} VA }`,
        `pigtail call to valve-${i}.a`,
        `pigtail valve-${i}.b to tx.c`,
      ]).flat(),
    ].join('\n');

  // "Zone Valve Wiring", a trade page: 40 VA carry 3 valves of one kind (13.3 VA each) and up to 12 of another (3.3 VA each).
  test.each([
    [3, 13.3, false],
    [4, 13.3, true],
    [12, 3.3, false],
    [16, 3.3, true],
  ])('%i zone valves of %f VA on 40 VA: overloaded is %s', (count, voltAmperes, overloaded) => {
    expect(told(valves(count, voltAmperes)).includes('supply-overloaded tx')).toBe(overloaded);
  });

  const onDirect = (output: string, parts: readonly string[]) =>
    [
      `supply psu : door-supply { output ${output} }`,
      ...parts.flatMap((facts, i) => [
        `device type kind-${i} {\n    terminal plus, minus\n    ${facts}\n}`,
        `device part-${i} : kind-${i}`,
        `jumper psu.plus to part-${i}.plus`,
        `jumper psu.minus to part-${i}.minus`,
      ]),
    ].join('\n');
  const ampsOf = (text: string) => checked(text).budget.supplies[0]!.windings[0]!.solved[0]!.amps!;
  const takes = (amps: string, count: number) =>
    Array.from({ length: count }, () => `load plus to minus { draws ${amps}, stays-on from 9 V }`);

  // "Power Supply", a tech tip: 3 strikes of 0.110 A, a lock of 0.280 A and 4 keypads of 0.038 A are 0.762 A; with 25 % more, 0.953 A.
  test('strikes, a lock and keypads add up to 0.762 A', () => {
    const amps = ampsOf(
      onDirect('24 V DC, 1 A', [...takes('0.110 A', 3), ...takes('0.280 A', 1), ...takes('0.038 A', 4)]),
    );
    expect(amps).toBeCloseTo(0.762, 9);
    expect(amps * 1.25).toBeCloseTo(0.953, 3);
  });

  // "12V or 24V power source in electrified hardware": two dual-voltage strikes take 0.90 A at 12 V and 0.50 A at 24 V.
  test.each([
    ['12 V DC, 1 A', '12 V DC, 0.45 A', 0.9],
    ['24 V DC, 1 A', '24 V DC, 0.25 A', 0.5],
  ])('two strikes on %s rated %s take %f A', (output, rating, amps) => {
    const strike = `rating ${rating}\n    coil plus to minus { as rated, pulls-in from 85 % }`;
    expect(ampsOf(onDirect(output, [strike, strike]))).toBeCloseTo(amps, 9);
  });

  // "Sizing 24V power supplies for electromagnetic locks": 3 A carry nine locks of 0.33 A, and six to seven with a quarter in hand.
  test.each([
    [9, false],
    [11, true],
  ])('%i locks of 0.33 A on 3 A: overloaded is %s', (count, overloaded) => {
    const lock = 'rating 24 V DC, 0.33 A\n    coil plus to minus { as rated }';
    const text = onDirect(
      '24 V DC, 3 A',
      Array.from({ length: count }, () => lock),
    );
    expect(told(text).includes('supply-overloaded psu')).toBe(overloaded);
  });

  test('7 locks of 0.33 A leave a quarter of 3 A, 8 do not', () => {
    const lock = 'rating 24 V DC, 0.33 A\n    coil plus to minus { as rated }';
    const share = (count: number) =>
      ampsOf(
        onDirect(
          '24 V DC, 3 A',
          Array.from({ length: count }, () => lock),
        ),
      ) / 3;
    expect(share(6)).toBeLessThan(0.75);
    expect(share(7)).toBeCloseTo(0.77, 2);
    expect(share(8)).toBeGreaterThan(0.8);
  });
});
