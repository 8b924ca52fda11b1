// Readings of a bell against what its record makes one expect: bands, what sets them, and readings that cannot be.
import { describe, expect, test } from 'vitest';
import { analyse, judgedReadings, type Reading, type ReadingOf, type ReadingState } from '../../src/index.js';
import { end, installation, metres, conductor, partType, plainBell, run, supply, device } from '../builder.js';

const IDLE = { kind: 'live', pressed: [] } as const;
const HELD = { kind: 'live', pressed: ['porch-button'] } as const;
const at = (point: string) => ({ kind: 'end', end: end(point) }) as const;
const volts = (a: string, b: string, figure: number, state: ReadingState = IDLE, system?: 'AC' | 'DC'): Reading => ({
  state,
  of: { kind: 'volts', between: [at(a), at(b)], volts: figure, ...(system === undefined ? {} : { system }) },
});
const reading = (of: ReadingOf, state: ReadingState = IDLE): Reading => ({ state, of });

function judged(readings: readonly Reading[], of = plainBell()) {
  return judgedReadings(analyse({ ...of, readings: [{ on: '2026-11-20', notes: [], readings }] }));
}

describe('of a bell on AC', () => {
  test('the first reading across a supply sets what it gives, and narrows the bands of what follows', () => {
    const held = volts('hall-chime.trans', 'hall-chime.front', 16.2, HELD);
    const [alone] = judged([held]);
    const [, before] = judged([volts('bell-tx.a', 'bell-tx.b', 20), held]);
    const width = (one: typeof alone): number => {
      const { predicted } = one!;
      return predicted.kind === 'figure' ? predicted.most - predicted.least : Number.NaN;
    };
    expect(judged([volts('bell-tx.a', 'bell-tx.b', 20), held])[0]!.sets).toEqual(['bell-tx']);
    expect(width(before)).toBeLessThan(width(alone));
    expect(before).toMatchObject({ agrees: true, sets: [] });
  });

  test('one outside of its band does not agree, and says what the band leans on', () => {
    const [, low] = judged([
      volts('bell-tx.a', 'bell-tx.b', 20),
      volts('hall-chime.trans', 'hall-chime.front', 4, HELD),
    ]);
    expect(low!.agrees).toBe(false);
    expect(low!.predicted).toMatchObject({ kind: 'figure', unit: 'V' });
    expect(low!.predicted.kind === 'figure' && low!.predicted.leansOn.length).toBeGreaterThan(0);
  });

  test('signs follow from volts: silent at rest, ringing while the push is held', () => {
    const [rest, rings, silent] = judged([
      reading({ kind: 'sign', part: 'hall-chime', shows: 'silent' }),
      reading({ kind: 'sign', part: 'hall-chime', shows: 'rings', note: 'front' }, HELD),
      reading({ kind: 'sign', part: 'porch-button', shows: 'rings' }, HELD),
    ]);
    expect(rest).toMatchObject({ agrees: true, predicted: { shows: 'silent', sure: true } });
    expect(rings).toMatchObject({ agrees: true, predicted: { shows: 'rings', note: 'front' } });
    expect(silent).toMatchObject({ agrees: undefined, bad: expect.stringContaining('makes a sound') });
  });

  test('ohms with a contact held are not those at rest', () => {
    const push = { kind: 'ohms', between: [at('porch-button.a'), at('porch-button.b')] } as const;
    const held: ReadingState = { kind: 'off', pressed: ['porch-button'] };
    const [open, short, corroded] = judged([
      reading({ ...push, ohms: null }, { kind: 'off' }),
      reading({ ...push, ohms: 0.3 }, held),
    ]).concat(judged([reading({ ...push, ohms: 40 }, held)]));
    expect(open).toMatchObject({ agrees: true, predicted: { kind: 'ohms', tells: 'open' } });
    expect(short!.agrees).toBe(true);
    expect(corroded!.agrees).toBe(false);
  });

  test.each([
    [volts('bell-tx.a', 'bell-tx.b', -18), 'no sign'],
    [volts('bell-tx.a', 'bell-tx.b', 18, IDLE, 'DC'), 'nothing in this record gives DC'],
    [volts('bell-tx.a', 'bell-tx.b', 18, { kind: 'off' }), 'not dead'],
    [volts('bell-tx.a', 'bell-tx.b', 118), 'all supplies'],
    [volts('bell-tx.a', 'bell-tx.a', 18), 'both probes'],
    [reading({ kind: 'ohms', between: [at('bell-tx.a'), at('bell-tx.b')], ohms: 4 }), 'supplies isolated'],
    [reading({ kind: 'mains', volts: 8 }, IDLE), undefined],
    [reading({ kind: 'mains', volts: 40 }, IDLE), 'mains'],
  ])('%j is taken out of the count: %s', (one, why) => {
    const [{ bad, agrees } = { bad: undefined, agrees: undefined }] = judged([one]);
    if (why === undefined) expect(bad).toBeUndefined();
    else expect({ bad, agrees }).toEqual({ bad: expect.stringContaining(why), agrees: undefined });
  });

  test('of two that contradict each other the later is taken out', () => {
    const [first, second] = judged([volts('bell-tx.a', 'bell-tx.b', 20), volts('bell-tx.b', 'bell-tx.a', 15)]);
    expect(first!.bad).toBeUndefined();
    expect(second!.bad).toContain('were noted of one thing');
  });
});

describe('of a lamp on DC', () => {
  const lamp = installation({
    types: [
      partType('driver', {
        of: 'supply',
        terminals: ['plus', 'minus'],
        elements: [{ kind: 'winding', a: 'plus', b: 'minus', asRated: true }],
        facts: { outputs: [{ volts: 12, system: 'DC', amps: 2 }], regulated: true },
      }),
      partType('strip', {
        terminals: ['plus', 'minus'],
        elements: [{ kind: 'resistor', a: 'plus', b: 'minus', ohms: 12 }],
      }),
    ],
    supplies: [supply('power', 'driver')],
    devices: [device('light', 'strip')],
    runs: [
      run('out', {
        ...metres(5),
        conductors: [conductor('red', 'power.plus', 'light.plus'), conductor('white', 'power.minus', 'light.minus')],
      }),
    ],
  });

  test('the sign tells which way round the leads were, and agrees only the right way', () => {
    const [plain, swapped, wrong] = judged([volts('light.plus', 'light.minus', 11.8)], lamp)
      .concat(judged([volts('light.minus', 'light.plus', -11.8)], lamp))
      .concat(judged([volts('light.plus', 'light.minus', -11.8)], lamp));
    expect(plain).toMatchObject({ agrees: true, predicted: { kind: 'figure' } });
    expect(swapped!.agrees).toBe(true);
    expect(swapped!.predicted.kind === 'figure' && swapped!.predicted.most).toBeLessThan(0);
    expect(wrong!.agrees).toBe(false);
  });

  test('the same with the leads swapped is no contradiction, with the wrong sign it is', () => {
    const both = (second: Reading) => judged([volts('light.plus', 'light.minus', 11.8), second], lamp)[1]!.bad;
    expect(both(volts('light.minus', 'light.plus', -11.8))).toBeUndefined();
    expect(both(volts('light.minus', 'light.plus', 11.8))).toContain('one thing');
  });

  test('read on AC it is a slip', () => {
    expect(judged([volts('light.plus', 'light.minus', 11.8, IDLE, 'AC')], lamp)[0]!.bad).toContain('is DC');
  });
});
