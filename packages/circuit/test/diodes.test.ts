import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CircuitElement, type CircuitState, prepare } from '../src/index.js';
import { ac, amps, contact, dc, diode, draws, short, solved, volts, voltsBetween, watts, wire, z } from './networks.js';
import { rectifyingNetwork } from './random-networks.js';

/** RMS of a function of the angle, from 100,000 points of a cycle. */
function rmsOf(wave: (angle: number) => number): number {
  const points = 100_000;
  let sum = 0;
  for (let k = 0; k < points; k++) sum += wave((2 * Math.PI * (k + 0.5)) / points) ** 2;
  return Math.sqrt(sum / points);
}

/** What a diode of 0.7 V and 0.1 ohm lets through of a sine, into so many ohms. */
const halfWave = (rms: number, ohms: number, drops = 1) =>
  rmsOf((angle) => Math.max(0, (rms * Math.SQRT2 * Math.sin(angle) - 0.7 * drops) / (ohms + 0.1 * drops)));

describe('a diode on AC', () => {
  it('lets half of the waves through, as an approximation that says so', () => {
    const s = solved([ac('tx', 'p', '0', 20, { ohms: 4 }), diode('d', 'p', 'q'), z('r', 'q', '0', 96)]);
    expect(s.approximate).toMatch(/diode/);
    expect(amps(s, 'r')).toBeCloseTo(halfWave(20, 100), 4);
    expect(volts(s, 'r')).toBeCloseTo(96 * halfWave(20, 100), 2);
    expect(s.element('tx')?.amps?.re).toBeCloseTo(-halfWave(20, 100), 4);
    expect(s.element('d')).toMatchObject({ on: true });
  });

  it('lets as much through whichever way round it is', () => {
    const both = [diode('d', 'p', 'q'), diode('d', 'q', 'p')].map((d) =>
      solved([ac('tx', 'p', '0', 20, { ohms: 4 }), d, z('r', 'q', '0', 96)]),
    );
    expect(volts(both[0]!, 'r')).toBeCloseTo(volts(both[1]!, 'r'), 9);
  });

  it('counts a coil as its impedance', () => {
    const s = solved([ac('tx', 'p', '0', 20), diode('d', 'p', 'q'), z('coil', 'q', '0', 30, 40)]);
    expect(amps(s, 'coil')).toBeCloseTo(halfWave(20, 50), 4);
  });

  it('makes a bridge of four that turns both halves one way', () => {
    const s = solved([
      ac('tx', 'p', 'n', 12, { ohms: 1 }),
      diode('d1', 'p', '+'),
      diode('d2', 'n', '+'),
      diode('d3', '-', 'p'),
      diode('d4', '-', 'n'),
      z('r', '+', '-', 49),
    ]);
    expect(amps(s, 'r')).toBeCloseTo(halfWave(12, 50, 2) * Math.SQRT2, 3);
    expect(amps(s, 'd1')).toBeCloseTo(halfWave(12, 50, 2), 3);
  });

  it('blocks with another one against it, but for its leak', () => {
    const s = solved([ac('tx', 'p', '0', 20), diode('d1', 'p', 'q'), diode('d2', 'r', 'q'), z('load', 'r', '0', 100)]);
    expect(amps(s, 'load')).toBeLessThan(5e-6);
  });

  it('is nothing while a closed contact bridges it: those figures are exact', () => {
    const elements = [
      ac('tx', 'p', '0', 20, { ohms: 6.4 }),
      contact('push', 'p', 'q'),
      diode('kit', 'p', 'q'),
      z('coil', 'q', '0', 18, 18),
    ];
    const held: CircuitState = { closed: ['push'], loads: 'idle' };
    const plain = solved(
      elements.filter(({ id }) => id !== 'kit'),
      held,
    );
    const s = solved(elements, held);
    expect(s.approximate).toBeUndefined();
    expect(s.element('coil')).toEqual(plain.element('coil'));
    expect(solved(elements).approximate).toBeDefined();
  });

  it('keeps an electronic chime fed across its push, and a load that needs more is off', () => {
    const chime = (staysOnFrom: number): readonly CircuitElement[] => [
      ac('tx', 'p', '0', 20, { ohms: 6.4 }),
      contact('push', 'p', 'q'),
      diode('kit', 'p', 'q'),
      draws('chime', 'q', '0', 0.02, staysOnFrom, 0.3),
    ];
    const fed = solved(chime(8));
    expect(fed.element('chime')).toMatchObject({ on: true });
    expect(volts(fed, 'chime')).toBeGreaterThan(12.5);
    expect(volts(fed, 'chime')).toBeLessThan(14.15);
    expect(solved(chime(15)).element('chime')).toMatchObject({ on: false });
    expect(solved(chime(15)).droppedOut).toEqual([]);
    const pressed = solved(chime(15), { closed: ['push'], loads: 'peak' });
    expect(volts(pressed, 'chime')).toBeCloseTo(20 - 0.3 * 6.4, 9);
  });

  it('collapses under a load that asks for more than half waves can bring', () => {
    const s = solved([ac('tx', 'p', '0', 20, { ohms: 6.4 }), diode('d', 'p', 'q'), watts('load', 'q', '0', 12)]);
    expect(s.problem).toMatchObject({ kind: 'collapses', loads: ['load'] });
    const { available } = s.problem as { available: number };
    expect(available).toBeGreaterThan(0.3);
    expect(available).toBeLessThan(0.9);
  });
});

describe('a diode on DC', () => {
  const into = (d: CircuitElement, load: CircuitElement) => solved([dc('s', 'p', '0', 12, 1), d, load]);

  it('conducts one way, exactly', () => {
    const s = into(diode('d', 'p', 'q'), z('r', 'q', '0', 98.9));
    expect(s.approximate).toBeUndefined();
    expect(amps(s, 'r')).toBeCloseTo(11.3 / 100, 6);
    expect(volts(s, 'd')).toBeCloseTo(0.7 + 0.1 * 0.113, 6);
    const reversed = into(diode('d', 'q', 'p'), z('r', 'q', '0', 98.9));
    expect(amps(reversed, 'r')).toBeLessThan(2e-6);
    expect(reversed.element('d')).toMatchObject({ on: false });
  });

  it('leaves a load of either polarity dead when reversed: off, neither dropped out nor collapsed', () => {
    for (const load of [watts('l', 'q', '0', 3), watts('l', 'q', '0', 3, 8), draws('l', 'q', '0', 0.2)]) {
      expect(into(diode('d', 'p', 'q'), load).element('l')).toMatchObject({ on: true });
      const reversed = into(diode('d', 'q', 'p'), load);
      expect(reversed.problem).toBeUndefined();
      expect(reversed.droppedOut).toEqual([]);
      expect(reversed.element('l')).toMatchObject({ on: false });
    }
  });

  it('takes the higher of two supplies', () => {
    const s = solved([
      dc('low', 'p', '0', 12, 0.5),
      dc('high', 'q', '0', 13.5, 0.5),
      diode('d1', 'p', 'o'),
      diode('d2', 'q', 'o'),
      z('load', 'o', '0', 50),
    ]);
    expect(amps(s, 'low')).toBeLessThan(1e-6);
    expect(amps(s, 'load')).toBeCloseTo(12.8 / 50.6, 5);
  });
});

describe('shorts through diodes', () => {
  const paths = (elements: readonly CircuitElement[]) => solved(elements).shorted;

  it('are found in AC whichever half the diode lets through', () => {
    const tx = ac('tx', 'p', '0', 16, { ohms: 2 });
    expect(paths([tx, wire('w', 'p', 'q', 0.1), diode('d', 'q', '0')])).toEqual([{ source: 'tx', path: ['w', 'd'] }]);
    expect(paths([tx, wire('w', 'p', 'q', 0.1), diode('d', '0', 'q')])).toEqual([{ source: 'tx', path: ['w', 'd'] }]);
    expect(paths([tx, diode('d', 'p', 'q'), short('j', 'q', 'r'), diode('e', '0', 'r')])).toEqual([]);
  });

  it('are found in DC only where the diode conducts', () => {
    const supply = dc('s', 'p', '0', 12, 1);
    expect(paths([supply, diode('d', 'p', '0')])).toEqual([{ source: 's', path: ['d'] }]);
    expect(paths([supply, diode('d', '0', 'p')])).toEqual([]);
    expect(paths([{ ...supply, volts: -12 }, diode('d', '0', 'p')])).toHaveLength(1);
  });
});

describe('any network with diodes', () => {
  const STATES: readonly CircuitState[] = [
    { closed: [], loads: 'idle' },
    { closed: ['c1'], loads: 'peak' },
  ];
  const solutions = (elements: readonly CircuitElement[]) => {
    const prepared = prepare({ elements });
    return prepared.circuits.flatMap((circuit) => STATES.map((state) => prepared.solve(circuit, state)));
  };

  it.each(['AC', 'DC'] as const)('has figures or a named problem on %s, whatever the order', (system) => {
    fc.assert(
      fc.property(rectifyingNetwork(6, system), (elements) => {
        const found = solutions(elements);
        for (const solution of found) {
          expect(solution.problem?.kind).not.toBe('self-check-failed');
          expect(solution.problem?.kind).not.toBe('singular');
          for (const { id } of elements) {
            const figures = solution.element(id);
            if (figures === undefined) continue;
            expect(Number.isFinite(figures.volts.re + figures.volts.im)).toBe(true);
            if (figures.amps !== null) expect(Number.isFinite(figures.amps.re + figures.amps.im)).toBe(true);
          }
          const across = voltsBetween(solution, 'n0', 'n1');
          expect(across).not.toBe(Number.POSITIVE_INFINITY);
        }
        const other = solutions([...elements].reverse());
        found.forEach((solution, i) => {
          expect(elements.map(({ id }) => other[i]!.element(id))).toEqual(
            elements.map(({ id }) => solution.element(id)),
          );
        });
      }),
      { numRuns: system === 'AC' ? 20 : 200 },
    );
  });

  it('loses no more than the volt-amperes its source gives', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 40, noNaN: true }),
        fc.array(fc.double({ min: 1, max: 200, noNaN: true }), { minLength: 2, maxLength: 4 }),
        (emf, ohms) => {
          const elements = [
            ac('s', 'n0', '0', emf, { ohms: 1 }),
            ...ohms.flatMap((r, i) => [
              i % 2 === 0 ? diode(`d${i}`, `n${i}`, `n${i + 1}`) : z(`d${i}`, `n${i}`, `n${i + 1}`, 1),
              z(`r${i}`, `n${i + 1}`, '0', r),
            ]),
          ];
          const s = solved(elements);
          const lost = elements
            .filter((e) => e.id.startsWith('r'))
            .reduce((w, e) => w + volts(s, e.id) * amps(s, e.id), 0);
          const inWire = elements
            .filter((e) => e.id.startsWith('d'))
            .reduce((w, e) => w + volts(s, e.id) * amps(s, e.id), 0);
          const given = volts(s, 's') * amps(s, 's');
          expect(lost).toBeLessThanOrEqual(given * 1.0000001);
          expect(lost + inWire).toBeGreaterThan(0);
        },
      ),
      { numRuns: 30 },
    );
  });
});
