import { describe, expect, it } from 'vitest';
import { prepare } from '../src/index.js';
import { ac, amps, bypass, contact, dc, draws, short, solved, volts, watts, wire, z } from './networks.js';

describe('contacts', () => {
  const changeover = [
    dc('s', 'p', '0', 12, 1),
    contact('sw:nc', 'p', 'q', 'relay', 'closed'),
    contact('sw:no', 'p', 'r', 'relay', 'open'),
    z('lamp1', 'q', '0', 11),
    z('lamp2', 'r', '0', 5),
  ];

  it('changes over', () => {
    const rest = solved(changeover);
    expect([amps(rest, 'lamp1'), amps(rest, 'lamp2')]).toEqual([expect.closeTo(1, 12), 0]);
    expect(rest.element('sw:no')).toMatchObject({ on: false });
    const over = solved(changeover, { closed: ['relay'], loads: 'idle' });
    expect([amps(over, 'lamp1'), amps(over, 'lamp2')]).toEqual([0, expect.closeTo(2, 12)]);
    expect(amps(over, 'sw:no')).toBeCloseTo(2, 12);
  });

  it('leaves what hangs free without volts, and says that it hangs free', () => {
    const s = solved([dc('s', 'p', '0', 12, 1), contact('x', 'p', 'q'), z('r', 'q', 't', 5), contact('y', 't', '0')]);
    expect(s.element('r')).toEqual({ volts: { re: 0, im: 0 }, amps: { re: 0, im: 0 }, on: false });
    expect(s.between('p', 'q')).toBeNull();
    expect(s.between('q', 't')).toEqual({ re: 0, im: 0 });
    expect(s.between('p', '0')).toEqual({ re: 12, im: 0 });
  });

  it('reads the open volts across an open button, and none across the coil', () => {
    const s = solved([ac('tx', 'a', 'b', 20, { ohms: 6.4 }), z('coil', 'a', 'm', 16, 20), contact('c', 'm', 'b')]);
    expect(volts(s, 'c')).toBe(20);
    expect(volts(s, 'coil')).toBe(0);
  });

  it('ignores contacts it does not have', () => {
    expect(solved(changeover, { closed: ['nowhere'], loads: 'idle' }).problem).toBeUndefined();
  });
});

describe('ideal connections', () => {
  it('carry what the balance of currents says, from a to b', () => {
    const s = solved([
      dc('s', 'p', '0', 12),
      short('j1', 'p', 'q'),
      short('j2', 'r', 'q'),
      z('r1', 'q', '0', 6),
      z('r2', 'r', '0', 12),
    ]);
    expect(s.element('j1')?.amps?.re).toBeCloseTo(3, 12);
    expect(s.element('j2')?.amps?.re).toBeCloseTo(-1, 12);
    expect(s.element('j1')).toMatchObject({ on: true, volts: { re: 0, im: 0 } });
  });

  it('have no answer in a loop of them, while the rest has', () => {
    const s = solved([
      dc('s', 'p', '0', 12),
      short('j1', 'p', 'q'),
      short('j2', 'p', 'q'),
      short('j3', 'q', 'r'),
      short('self', 'r', 'r'),
      z('r1', 'r', '0', 6),
    ]);
    expect([s.element('j1')?.amps, s.element('j2')?.amps, s.element('self')?.amps]).toEqual([null, null, null]);
    expect(s.element('j3')?.amps?.re).toBeCloseTo(2, 12);
  });

  it('take in a made contact and a conductor without ohms', () => {
    const s = solved([dc('s', 'p', '0', 12, 1), wire('w', 'p', 'q', 0), contact('c', 'q', 'r'), z('r1', 'r', '0', 5)], {
      closed: ['c'],
      loads: 'idle',
    });
    expect([amps(s, 'w'), amps(s, 'c'), amps(s, 'r1')]).toEqual([
      expect.closeTo(2, 12),
      expect.closeTo(2, 12),
      expect.closeTo(2, 12),
    ]);
  });

  it('name their net by its first point, contacts aside', () => {
    const network = prepare({
      elements: [
        short('j', 'q', 'b'),
        short('k', 'q', 'm'),
        contact('c', 'm', 'a', 'c', 'closed'),
        z('r', 'a', 'z', 1),
      ],
    });
    expect(['b', 'm', 'q', 'a', 'z', 'nowhere'].map((point) => network.netOf(point))).toEqual([
      'b',
      'b',
      'b',
      'a',
      'z',
      undefined,
    ]);
  });

  it('keep digits where a conductor has next to no ohms', () => {
    const s = solved([dc('s', 'p', '0', 20, 2), wire('w', 'p', 'q', 1e-8), z('r', 'q', '0', 20000)]);
    expect(s.problem).toBeUndefined();
    expect(Math.abs(amps(s, 'w') / amps(s, 'r') - 1)).toBeLessThan(1e-12);
  });
});

describe('shorted supplies', () => {
  const bell = [
    ac('tx', 'a', 'b', 20, { ohms: 6.4 }),
    wire('w1', 'a', 'chime', 0.2),
    z('coil', 'chime', 'm', 16, 20),
    wire('w2', 'm', 'door', 0.4),
    contact('push', 'door', 'back'),
    wire('w3', 'back', 'b', 0.6),
  ];

  it('are not a bell that rings', () => {
    expect(solved(bell, { closed: ['push'], loads: 'idle' }).shorted).toEqual([]);
  });

  it('are a bell with its chime bypassed and a plain button, at whatever current', () => {
    const s = solved([...bell, short('jumper', 'chime', 'm')], { closed: ['push'], loads: 'idle' });
    expect(s.shorted).toEqual([{ source: 'tx', path: ['w1', 'jumper', 'w2', 'push', 'w3'] }]);
    expect(s.problem).toBeUndefined();
    expect(amps(s, 'tx')).toBeCloseTo(20 / (6.4 + 1.2), 9);
    expect(solved([...bell, short('jumper', 'chime', 'm')]).shorted).toEqual([]);
  });

  it('are a supply wired to itself', () => {
    const s = solved([ac('tx', 'a', 'a', 20, { ohms: 6.4 }), z('r', 'a', 'b', 5)]);
    expect(s.shorted).toEqual([{ source: 'tx', path: [] }]);
    expect(amps(s, 'tx')).toBeCloseTo(3.125, 12);
    const wired = solved([ac('tx', 'a', 'b', 20, { ohms: 6.4 }), wire('w', 'a', 'b', 0.1)]);
    expect(wired.shorted).toEqual([{ source: 'tx', path: ['w'] }]);
  });

  it('take the shortest path, and of equally short ones the first by id', () => {
    const s = solved([
      dc('s', 'a', 'b', 12, 1),
      wire('z1', 'a', 'm', 1),
      wire('z2', 'm', 'b', 1),
      wire('y1', 'a', 'n', 1),
      wire('y2', 'n', 'b', 1),
      wire('long1', 'a', 'k', 1),
      wire('long2', 'k', 'l', 1),
      wire('long3', 'l', 'b', 1),
    ]);
    expect(s.shorted).toEqual([{ source: 's', path: ['y1', 'y2'] }]);
  });

  it('have no figures where the source is ideal', () => {
    const s = solved([dc('s', 'a', 'b', 12), short('j', 'a', 'b')]);
    expect(s.problem).toEqual({ kind: 'ideal-source-shorted', source: 's' });
    expect(s.shorted).toEqual([{ source: 's', path: ['j'] }]);
    expect(s.element('s')).toBeUndefined();
    expect(s.between('a', 'b')).toBeNull();
  });
});

describe('sources', () => {
  it('deliver: current from a to b through them is negative', () => {
    const s = solved([dc('s', 'p', '0', 12, 1), z('r', 'p', '0', 5)]);
    expect(s.element('s')?.amps?.re).toBeCloseTo(-2, 12);
    expect(s.element('r')?.amps?.re).toBeCloseTo(2, 12);
  });

  it('contradict one another when ideal and parallel', () => {
    const s = solved([dc('s1', 'a', 'b', 12), dc('s2', 'a', 'b', 13), z('r', 'a', 'b', 5)]);
    expect(s.problem).toEqual({ kind: 'ideal-sources-parallel', sources: ['s1', 's2'] });
  });

  it('name the loop of ideal sources alone', () => {
    const s = solved([dc('s0', 'a', 'x', 5), dc('s1', 'a', 'b', 12), dc('s2', 'b', 'c', 13), dc('s3', 'a', 'c', 1)]);
    expect(s.problem).toEqual({ kind: 'ideal-sources-parallel', sources: ['s1', 's2', 's3'] });
  });

  it('add in series and oppose at 180 degrees', () => {
    const series = (phase: number) =>
      solved([ac('s1', 'a', 'm', 8, { ohms: 1 }), ac('s2', 'm', 'b', 8, { ohms: 1, phase }), z('r', 'a', 'b', 14)]);
    expect(volts(series(0), 'r')).toBeCloseTo(14, 12);
    expect(volts(series(180), 'r')).toBe(0);
  });

  it('of two kinds in one part are a problem, apart they are not', () => {
    const network = [
      ac('s1', 'a', 'b', 16, { ohms: 1 }),
      dc('s2', 'c', 'd', 12, 1),
      contact('k', 'a', 'c'),
      z('r1', 'a', 'b', 7, 3),
      z('r2', 'c', 'd', 11, 4),
      z('cap', 'c', 'e', 1, -5),
    ];
    const apart = solved(network);
    expect(apart.problem).toBeUndefined();
    expect(amps(apart, 'r2')).toBeCloseTo(1, 12);
    expect(amps(apart, 'r1')).toBeCloseTo(16 / Math.sqrt(64 + 9), 12);
    expect(apart.between('a', 'c')).toBeNull();
    const joined = solved(network, { closed: ['k'], loads: 'idle' });
    expect(joined.problem).toEqual({ kind: 'mixed-systems', sources: ['s1', 's2'] });
    expect(prepare({ elements: network }).circuits[0]?.system).toBe('mixed');
  });

  it('of two frequencies are a problem, of one unstated they are not', () => {
    const pair = (frequency: number) => [
      ac('s1', 'a', 'b', 16, { ohms: 1 }),
      ac('s2', 'a', 'b', 16, { ohms: 1, frequency }),
      z('r', 'a', 'b', 5),
    ];
    expect(solved(pair(50)).problem?.kind).toBe('mixed-systems');
    expect(solved(pair(0)).problem).toBeUndefined();
    expect(prepare({ elements: pair(0) }).circuits[0]?.system).toBe('AC');
  });

  it('drive no direct current through a capacitor', () => {
    const s = solved([dc('s', 'p', '0', 12, 1), z('c', 'p', 'q', 1, -5), z('r', 'q', '0', 5)]);
    expect(s.problem).toBeUndefined();
    expect(amps(s, 's')).toBe(0);
    expect([volts(s, 'r'), amps(s, 'r')]).toEqual([0, 0]);
  });
});

describe('fed windings', () => {
  const fed = (more: readonly Parameters<typeof solved>[0][number][] = []) => [
    ac('mains', 'L', 'N', 120),
    contact('switch', 'L', 'hot', 'switch', 'closed'),
    ac('tx', 'a', 'b', 20, { ohms: 6.4, fedBy: { a: 'hot', b: 'N', ratio: 20 / 120 } }),
    z('r', 'a', 'b', 25.6),
    ...more,
  ];

  it('take their EMF from what feeds them and pass their current on to it', () => {
    const s = solved(fed());
    expect(volts(s, 'r')).toBeCloseTo(16, 12);
    expect(amps(s, 'switch')).toBeCloseTo(0.625 / 6, 12);
    expect(amps(s, 'mains')).toBeCloseTo(0.625 / 6, 12);
    expect(s.between('L', 'a')).toBeNull();
  });

  it('are dead when nothing feeds them', () => {
    const s = solved(fed(), { closed: ['switch'], loads: 'idle' });
    expect(s.problem).toBeUndefined();
    expect([volts(s, 'tx'), amps(s, 'tx'), volts(s, 'r'), amps(s, 'mains')]).toEqual([0, 0, 0, 0]);
    const apart = solved(
      fed()
        .filter((element) => element.id !== 'mains' && element.id !== 'switch')
        .reverse(),
    );
    expect(apart.element('tx')).toMatchObject({ on: false, volts: { re: 0, im: 0 } });
    expect(apart.element('r')?.on).toBe(false);
  });

  it('give back what another supply puts on their secondary', () => {
    const s = solved(fed([ac('other', 'a', 'b', 20, { ohms: 6.4 })]), { closed: ['switch'], loads: 'idle' });
    expect(s.problem).toBeUndefined();
    expect(voltsAcross(s.between('hot', 'N'))).toBeCloseTo(16 * 6, 9);
  });

  it('are one circuit for solving, and chain', () => {
    const chain = [
      ac('mains', 'L', 'N', 240, { ohms: 0.1 }),
      ac('first', 'p', 'q', 120, { ohms: 0.2, fedBy: { a: 'L', b: 'N', ratio: 0.5 } }),
      ac('second', 'x', 'y', 24, { ohms: 0.3, phase: 180, fedBy: { a: 'p', b: 'q', ratio: 0.2 } }),
      z('r', 'x', 'y', 10),
    ];
    expect(prepare({ elements: chain }).circuits).toHaveLength(1);
    const s = solved(chain);
    const reflected = 0.3 + 0.2 * 0.2 * (0.2 + 0.25 * 0.1);
    expect(s.element('r')!.volts.re).toBeCloseTo((-24 * 10) / (10 + reflected), 9);
  });

  function voltsAcross(value: { re: number; im: number } | null): number {
    return value === null ? Number.NaN : Math.sqrt(value.re ** 2 + value.im ** 2);
  }
});

describe('nothing at all, and far too much', () => {
  it('solves an empty network', () => {
    const network = prepare({ elements: [] });
    expect(network.circuits).toEqual([]);
    expect(network.problems).toEqual([]);
    expect(network.circuitOf('a')).toBeUndefined();
  });

  it('finds a circuit without a source dead', () => {
    const s = solved([z('r', 'a', 'b', 5), watts('load', 'b', 'c', 3), bypass('k', 'a', 'b', 3, 1)]);
    expect(s.problem).toBeUndefined();
    expect(s.element('r')).toEqual({ volts: { re: 0, im: 0 }, amps: { re: 0, im: 0 }, on: false });
    expect(s.between('a', 'b')).toEqual({ re: 0, im: 0 });
    expect(s.between('a', 'c')).toBeNull();
    expect(s.droppedOut).toEqual([]);
  });

  it('solves a source of no volts', () => {
    const s = solved([dc('s', 'a', 'b', 0), z('r', 'a', 'b', 5), watts('load', 'a', 'b', 3), draws('d', 'a', 'b', 1)]);
    expect(s.problem).toBeUndefined();
    expect([amps(s, 'r'), amps(s, 'load'), amps(s, 'd')]).toEqual([0, 0, 0]);
  });

  it('names elements with impossible figures, and gives no figures for their circuit', () => {
    const network = prepare({
      elements: [
        dc('s', 'a', 'b', 12, 1),
        wire('w', 'a', 'c', -3),
        z('nan', 'c', 'b', Number.NaN),
        watts('load', 'c', 'b', Number.POSITIVE_INFINITY),
        ac('odd', 'x', 'y', 5, { frequency: -60 }),
        z('far', 'u', 'v', 1),
        z('far', 'u', 'v', 2),
        dc('fine', 'm', 'n', 5, 1),
      ],
    });
    expect(network.problems.map((p) => (p.kind === 'bad-figure' ? [p.element, p.what] : p))).toEqual([
      ['far', 'has the same id as another element'],
      ['load', 'idle volt-amperes is not a number'],
      ['nan', 'ohms is not a number'],
      ['odd', 'frequency is negative'],
      ['w', 'ohms is negative'],
    ]);
    const circuit = network.circuitOf('a')!;
    expect(network.solve(circuit, { closed: [], loads: 'idle' }).problem).toMatchObject({ kind: 'bad-figure' });
    const fine = network.circuitOf('m')!;
    expect(network.solve(fine, { closed: [], loads: 'idle' }).problem).toBeUndefined();
    expect(network.solve({ ...fine, id: 'stranger' }, { closed: [], loads: 'idle' }).problem?.kind).toBe('bad-figure');
  });

  it('solves thousands of parallel parts', () => {
    const many = Array.from({ length: 3000 }, (_, i) => [
      z(`r${i}`, 'p', '0', 30000),
      short(`j${i}`, 'p', `p${i}`),
      watts(`load${i}`, `p${i}`, '0', 0.001, 5),
    ]).flat();
    const s = solved([dc('s', 'p', '0', 24, 0.1), ...many]);
    expect(s.problem).toBeUndefined();
    expect(amps(s, 'load7')).toBeGreaterThan(0);
    expect(amps(s, 's')).toBeCloseTo(3000 * (amps(s, 'r0') + amps(s, 'load0')), 9);
    expect(amps(s, 'j2999')).toBeCloseTo(amps(s, 'load2999'), 12);
  });

  it('solves thousands of parts in a row', () => {
    const row = Array.from({ length: 3000 }, (_, i) =>
      wire(`w${String(i).padStart(4, '0')}`, `n${i}`, `n${i + 1}`, 0.01),
    );
    const s = solved([dc('s', 'n0', 'n3000', 12), ...row]);
    expect(amps(s, 'w1500')).toBeCloseTo(12 / 30, 9);
    expect(s.shorted[0]?.path).toHaveLength(3000);
    const joined = solved([dc('s', 'n0', 'x', 12), z('r', 'x', 'n3000', 6), ...row.map((w) => short(w.id, w.a, w.b))]);
    expect(amps(joined, 'w1500')).toBeCloseTo(2, 12);
  });
});
