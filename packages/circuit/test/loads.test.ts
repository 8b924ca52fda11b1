import { describe, expect, it } from 'vitest';
import { magnitude, mostVoltAmperes, power, subtract } from '../src/index.js';
import { ac, amps, AT_REST, bypass, contact, dc, draws, short, solved, volts, watts, wire, z } from './networks.js';

describe('a constant-power load near the nose', () => {
  const at = (asked: number) => solved([dc('s', 'p', '0', 16, 2), watts('load', 'p', '0', asked, 1)]);

  it('has 8.14 V at 31.99 W of the 32 W that 16 V behind 2 ohm can give', () => {
    const s = at(31.99);
    expect(s.problem).toBeUndefined();
    expect(volts(s, 'load')).toBeCloseTo(8 * (1 + Math.sqrt(1 - 31.99 / 32)), 11);
    expect(volts(s, 'load') * amps(s, 'load')).toBeCloseTo(31.99, 11);
  });

  it('does not exist at 32.000001 W', () => {
    const { problem } = at(32.000001);
    expect(problem).toMatchObject({ kind: 'collapses', loads: ['load'] });
    const available = problem?.kind === 'collapses' ? problem.available : Number.NaN;
    expect(available).toBeLessThan(1);
    expect(available).toBeCloseTo(32 / 32.000001, 7);
  });

  it('tells the share that could be had', () => {
    const { problem } = at(40);
    expect(problem?.kind === 'collapses' ? problem.available : undefined).toBeCloseTo(0.8, 6);
  });

  it('follows E^2 / (2 (R + |Z|)) behind R + jX', () => {
    const most = mostVoltAmperes(20, 4, 5);
    const behind = (asked: number) =>
      solved([ac('s', 'p', '0', 20, { ohms: 4, reactance: 5 }), watts('load', 'p', '0', asked, 1)]);
    expect(behind(most * 0.99999).problem).toBeUndefined();
    expect(behind(most * 1.00001).problem?.kind).toBe('collapses');
  });
});

describe('a load and the supply it hangs on', () => {
  it('gives 16.69 V to an 8 W doorbell at 12 m of 18 AWG on 16 V 10 VA, and 16.22 V at 30 m', () => {
    const at = (metres: number) => {
      const ohms = metres * 0.02095;
      return solved(
        [
          ac('tx', 'a', 'b', 20, { ohms: 6.4 }),
          wire('go', 'a', 'x', ohms),
          watts('cam', 'x', 'y', 3, 10, 8),
          wire('back', 'y', 'b', ohms),
        ],
        { closed: [], loads: 'peak' },
      );
    };
    expect(volts(at(12), 'cam')).toBeCloseTo(16.69, 2);
    expect(volts(at(30), 'cam')).toBeCloseTo(16.22, 2);
    expect(volts(at(30), 'cam') * amps(at(30), 'cam')).toBeCloseTo(8, 10);
  });

  it('draws idle and peak current, in phase with its volts', () => {
    const network = [ac('s', 'p', '0', 24, { ohms: 1, reactance: 2 }), draws('load', 'p', '0', 0.1, 10, 0.5)];
    for (const [loads, wanted] of [
      ['idle', 0.1],
      ['peak', 0.5],
    ] as const) {
      const s = solved(network, { closed: [], loads });
      expect(amps(s, 'load')).toBeCloseTo(wanted, 12);
      const taken = power(s.element('load')!.volts, s.element('load')!.amps!);
      expect(Math.abs(taken.im)).toBeLessThan(1e-12 * taken.re);
    }
  });

  it('is open when it draws nothing', () => {
    const s = solved([dc('s', 'p', '0', 12, 1), watts('load', 'p', '0', 0, 5)]);
    expect(s.problem).toBeUndefined();
    expect(volts(s, 'load')).toBe(12);
    expect(amps(s, 'load')).toBe(0);
    expect(s.element('load')?.on).toBe(true);
  });

  it('can have no constant current beyond the short-circuit current', () => {
    const s = solved([dc('s', 'p', '0', 12, 1), draws('load', 'p', '0', 13)]);
    expect(s.problem).toMatchObject({ kind: 'collapses', loads: ['load'] });
    expect(s.problem?.kind === 'collapses' ? s.problem.available : undefined).toBeCloseTo(12 / 13, 6);
  });

  it('names only the loads that matter in a collapse', () => {
    const s = solved([dc('s', 'p', '0', 20, 6.4), watts('big', 'p', '0', 17, 5), watts('small', 'p', '0', 0.001, 5)]);
    expect(s.problem).toMatchObject({ kind: 'collapses', loads: ['big'] });
  });

  it('names both where either one alone could run', () => {
    const s = solved([dc('s', 'p', '0', 20, 6.4), watts('one', 'p', '0', 9, 5), watts('two', 'p', '0', 9, 5)]);
    expect(s.problem).toMatchObject({ kind: 'collapses', loads: ['one', 'two'] });
    expect(s.problem?.kind === 'collapses' ? s.problem.available : undefined).toBeCloseTo(15.625 / 18, 6);
  });
});

describe('drop-outs', () => {
  it('leaves off, without calling it a drop-out, a load that never had the volts', () => {
    const s = solved([dc('s', 'p', '0', 8, 1), watts('load', 'p', '0', 3, 10)]);
    expect(s.problem).toBeUndefined();
    expect(s.droppedOut).toEqual([]);
    expect(s.cycling).toEqual([]);
    expect(s.element('load')).toMatchObject({ on: false, volts: { re: 8, im: 0 }, amps: { re: 0, im: 0 } });
  });

  it('drops a load that pulls its own volts below what keeps it on: it cycles', () => {
    const s = solved([dc('s', 'p', '0', 20, 6.4), watts('load', 'p', '0', 12, 15)]);
    expect(s.problem).toBeUndefined();
    expect(s.droppedOut).toEqual(['load']);
    expect(s.cycling).toEqual(['load']);
    expect(s.element('load')).toMatchObject({ on: false, volts: { re: 20, im: 0 } });
  });

  it('drops the load that another one starves, for good', () => {
    const s = solved([dc('s', 'p', '0', 20, 6.4), watts('fussy', 'p', '0', 1, 17.5), watts('tough', 'p', '0', 9, 5)]);
    expect(s.problem).toBeUndefined();
    expect(s.droppedOut).toEqual(['fussy']);
    expect(s.cycling).toEqual([]);
    expect(volts(s, 'tough') * amps(s, 'tough')).toBeCloseTo(9, 10);
    expect(volts(s, 'fussy')).toBeLessThan(17.5);
  });

  it('drops the worst first and keeps what then can run', () => {
    const s = solved([dc('s', 'p', '0', 20, 6.4), watts('a', 'p', '0', 5, 17.9), watts('b', 'p', '0', 5, 17.5)]);
    expect(s.droppedOut).toEqual(['a']);
    expect(s.cycling).toEqual(['a']);
    expect(s.element('b')?.on).toBe(true);
  });

  it('drops the load that stands in the way of an operating point when its volts then stay too low', () => {
    const s = solved([dc('s', 'p', '0', 20, 6.4), watts('fussy', 'p', '0', 8, 16.5), watts('tough', 'p', '0', 12, 2)]);
    expect(s.problem).toBeUndefined();
    expect(s.droppedOut).toEqual(['fussy']);
    expect(s.cycling).toEqual([]);
  });

  it('finds two loads in series both off, since neither lets the other run', () => {
    const s = solved([dc('s', 'p', '0', 24, 1), watts('one', 'p', 'm', 3, 5), watts('two', 'm', '0', 3, 5)]);
    expect(s.problem).toBeUndefined();
    expect(s.droppedOut).toEqual(['one', 'two']);
    expect(amps(s, 's')).toBe(0);
    expect(s.between('p', 'm')).toBeNull();
  });

  it('has nothing to drop in a loop that is open', () => {
    const network = [dc('s', 'p', '0', 24, 1), watts('load', 'p', 'm', 3, 5), contact('c', 'm', '0')];
    const open = solved(network);
    expect(open.droppedOut).toEqual([]);
    expect(open.element('load')).toMatchObject({ on: false });
    const closed = solved(network, { closed: ['c'], loads: 'idle' });
    expect(closed.element('load')?.on).toBe(true);
    expect(amps(closed, 'c')).toBeCloseTo(amps(closed, 'load'), 12);
  });

  it('does not judge a load whose ends are one', () => {
    const s = solved([dc('s', 'p', '0', 24, 1), short('j', 'p', '0'), watts('load', 'p', '0', 3, 5)]);
    expect(s.problem).toBeUndefined();
    expect(s.droppedOut).toEqual([]);
    expect(amps(s, 's')).toBeCloseTo(24, 12);
  });

  it('feeds a load through a chime coil as a divider does', () => {
    const network = [
      ac('tx', 'a', 'b', 20, { ohms: 6.4 }),
      z('coil', 'a', 'm', 17.92, 18.28),
      watts('cam', 'm', 'b', 3, 10),
    ];
    const s = solved(network);
    expect(s.problem).toBeUndefined();
    const drop = subtract(s.element('coil')!.volts, s.element('coil')!.amps!);
    expect(Number.isFinite(magnitude(drop))).toBe(true);
    expect(volts(s, 'cam') * amps(s, 'cam')).toBeCloseTo(3, 10);
    expect(amps(s, 'coil') / 0.625).toBeGreaterThan(0.25);
    expect(amps(s, 'coil') / 0.625).toBeLessThan(0.4);
  });
});

describe('bypass kits', () => {
  const network = [
    ac('tx', 'a', 'b', 20, { ohms: 6.4 }),
    z('coil', 'a', 'm', 17.92, 18.28),
    bypass('kit', 'a', 'm', 3, 0.8),
    watts('cam', 'm', 'b', 3, 10),
    contact('ring', 'm', 'b'),
  ];

  it('carries a doorbell past the coil while nobody rings', () => {
    const s = solved(network);
    expect(s.element('kit')?.on).toBe(true);
    expect(amps(s, 'kit')).toBeLessThan(0.8);
    expect(volts(s, 'coil')).toBeLessThan(1);
  });

  it('lets go when the chime is rung, so that the coil gets its volts', () => {
    const s = solved(network, { closed: ['ring'], loads: 'idle' });
    expect(s.element('kit')).toMatchObject({ on: false, amps: { re: 0, im: 0 } });
    expect(volts(s, 'coil')).toBeGreaterThan(15);
    expect(s.shorted).toEqual([]);
  });

  it('stays closed at its limit and opens above it', () => {
    const at = (opensAbove: number) => solved([dc('s', 'p', '0', 12, 1), bypass('kit', 'p', '0', 11, opensAbove)]);
    expect(at(1.0000001).element('kit')?.on).toBe(true);
    expect(at(0.9999999).element('kit')?.on).toBe(false);
  });

  it('opens one kit at a time, the furthest above its limit first', () => {
    const s = solved(
      [
        dc('s', 'p', '0', 12, 1),
        bypass('weak', 'p', 'q', 5, 0.5),
        bypass('strong', 'p', 'q', 5, 1.2),
        z('r', 'q', '0', 6),
      ],
      AT_REST,
    );
    expect(s.element('weak')?.on).toBe(false);
    expect(s.element('strong')?.on).toBe(true);
    expect(amps(s, 'strong')).toBeCloseTo(1, 12);
  });

  it('counts a kit without ohms as a link', () => {
    const s = solved([dc('s', 'p', '0', 12), bypass('kit', 'p', 'q', 0, 5), z('r', 'q', '0', 6)]);
    expect(s.problem).toBeUndefined();
    expect(amps(s, 'kit')).toBeCloseTo(2, 6);
  });
});
