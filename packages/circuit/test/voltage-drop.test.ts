import { describe, expect, it } from 'vitest';
import { angleDegrees, type CircuitElement, divide, magnitude, multiply, type Phasor, phasor } from '../src/index.js';
import { add } from '../src/phasor.js';
import { ac, amps, dc, draws, solved, voltsBetween, wire, z } from './networks.js';

const KFT = 1000;

describe('two wires, one load', () => {
  it('V1, electrician2: 16 AWG stranded, 100 ft, 4 A at 24 V', () => {
    const ohms = (4.99 / KFT) * 100;
    const s = solved([
      dc('s', 'p', 'n', 24),
      wire('go', 'p', 'x', ohms),
      draws('load', 'x', 'y', 4),
      wire('back', 'y', 'n', ohms),
    ]);
    expect(24 - voltsBetween(s, 'x', 'y')).toBeCloseTo(3.992, 9);
  });

  it('V12, notification circuit (a manual’s appendix A): 2 A over 800 ft of 12 AWG leaves 16 V of 22.4', () => {
    const ohms = 0.002 * 800;
    const s = solved([
      dc('s', 'p', 'n', 22.4),
      wire('go', 'p', 'x', ohms),
      ...Array.from({ length: 20 }, (_, i) => draws(`horn${i}`, 'x', 'y', 0.1)),
      wire('back', 'y', 'n', ohms),
    ]);
    expect(voltsBetween(s, 'x', 'y')).toBeCloseTo(16, 9);
  });

  const ohmsPerKm = new Map([
    [0.5, 38.4],
    [1, 21.2],
    [1.5, 13.6],
    [2.5, 7.4],
    [4, 4.6],
    [6, 3.1],
  ]);
  it.each([
    [0.5, [153, 197, 226, 257, 274, 283]],
    [1, [197, 277, 338, 411, 456, 484]],
    [1.5, [226, 338, 433, 560, 646, 704]],
    [2.5, [257, 411, 560, 795, 980, 1120]],
    [4, [274, 456, 646, 980, 1279, 1528]],
    [6, [283, 484, 704, 1120, 1528, 1898]],
  ])(
    'V10, valve cable of %f mm2 common: metres for a drop of 4 V at 0.34 A (a catalogue’s table)',
    (common, metres) => {
      const found = [...ohmsPerKm.values()].map((active) => {
        const s = solved([
          ac('s', 'p', 'n', 24),
          wire('go', 'p', 'x', active / 1000),
          draws('valve', 'x', 'y', 0.34),
          wire('back', 'y', 'n', ohmsPerKm.get(common)! / 1000),
        ]);
        return 4 / (24 - voltsBetween(s, 'x', 'y'));
      });
      found.forEach((length, column) => {
        expect(Math.abs(length - metres[column]!)).toBeLessThan(0.51);
      });
    },
  );
});

describe('Mehta, Principles of Power System, chapter 13', () => {
  it('V7, example 13.3: trolley wire with two trams', () => {
    const s = solved([
      dc('s', 'p', '0', 600),
      wire('1', 'p', 'a', 2 * 0.28),
      draws('A', 'a', '0', 40),
      wire('2', 'a', 'b', 4 * 0.28),
      draws('B', 'b', '0', 20),
    ]);
    expect(voltsBetween(s, 'a', '0')).toBeCloseTo(566.4, 9);
    expect(voltsBetween(s, 'b', '0')).toBeCloseTo(544, 9);
  });

  it('V20, example 13.1: four loads, fed at one end', () => {
    const r = 0.02 / 1000;
    const s = solved([
      dc('s', 'p', '0', 300),
      wire('1', 'p', 'c', 500 * r),
      draws('C', 'c', '0', 100),
      wire('2', 'c', 'd', 500 * r),
      draws('D', 'd', '0', 150),
      wire('3', 'd', 'e', 600 * r),
      draws('E', 'e', '0', 200),
      wire('4', 'e', 'b', 400 * r),
      draws('B', 'b', '0', 50),
    ]);
    const at = (point: string): number => voltsBetween(s, point, '0');
    expect([at('c'), at('d'), at('e'), at('b')].map((v) => Number(v.toFixed(9)))).toEqual([295, 291, 288, 287.6]);
  });

  it('V24, example 13.10: fed at both ends', () => {
    const r = 2 * 1.7e-4;
    const s = solved([
      dc('s1', 'a', '0', 220),
      wire('1', 'a', 'c', 100 * r),
      draws('C', 'c', '0', 20),
      wire('2', 'c', 'd', 150 * r),
      draws('D', 'd', '0', 40),
      wire('3', 'd', 'e', 150 * r),
      draws('E', 'e', '0', 50),
      wire('4', 'e', 'f', 100 * r),
      draws('F', 'f', '0', 30),
      wire('5', 'f', 'b', 100 * r),
      dc('s2', 'b', '0', 220),
    ]);
    expect(amps(s, 's1')).toBeCloseTo(61.67, 2);
    expect(voltsBetween(s, 'e', '0')).toBeCloseTo(215.693, 3);
  });

  it('V25, example 13.11: fed at both ends with unequal volts', () => {
    const r = 2 * 0.0003;
    const s = solved([
      dc('s1', 'a', '0', 230),
      wire('ac', 'a', 'c', 50 * r),
      draws('C', 'c', '0', 25),
      wire('cd', 'c', 'd', 25 * r),
      draws('D', 'd', '0', 50),
      wire('de', 'd', 'e', 25 * r),
      draws('E', 'e', '0', 30),
      wire('ef', 'e', 'f', 50 * r),
      draws('F', 'f', '0', 40),
      wire('fb', 'f', 'b', 50 * r),
      dc('s2', 'b', '0', 235),
    ]);
    const found = ['ac', 'cd', 'de', 'ef', 'fb'].map((id) => s.element(id)!.amps!.re);
    [33.33, 8.33, -41.67, -71.67, -111.67].forEach((printed, i) => {
      expect(Math.abs(found[i]! - printed)).toBeLessThan(0.006);
    });
    expect(voltsBetween(s, 'd', '0')).toBeCloseTo(228.875, 3);
  });

  it('V31, example 13.23: a ring main', () => {
    const s = solved([
      dc('s', 'a', '0', 240),
      wire('ab', 'a', 'b', 0.1),
      wire('bc', 'b', 'c', 0.05),
      wire('cd', 'c', 'd', 0.01),
      wire('de', 'd', 'e', 0.025),
      wire('ea', 'e', 'a', 0.075),
      draws('B', 'b', '0', 10),
      draws('C', 'c', '0', 20),
      draws('D', 'd', '0', 30),
      draws('E', 'e', '0', 10),
    ]);
    const found = ['ab', 'bc', 'cd', 'de', 'ea'].map((id) => amps(s, id));
    [29.04, 19.04, 0.96, 30.96, 40.96].forEach((printed, i) => {
      expect(Math.abs(found[i]! - printed)).toBeLessThan(0.006);
    });
  });

  const ring: readonly CircuitElement[] = [
    dc('s', 'a', '0', 250),
    wire('ab', 'a', 'b', 0.02),
    wire('bc', 'b', 'c', 0.018),
    wire('cd', 'c', 'd', 0.025),
    wire('da', 'd', 'a', 0.02),
    draws('B', 'b', '0', 150),
    draws('C', 'c', '0', 300),
    draws('D', 'd', '0', 250),
  ];

  it('V32, example 13.24: a ring main, without and with an interconnector (exact values for the latter)', () => {
    const linked = [...ring, wire('ac', 'a', 'c', 0.02)];
    for (const [network, printed] of [
      [ring, [243.265, 239.903, 242.735]],
      [linked, [245.961, 245.027, 245.012]],
    ] as const) {
      const s = solved(network);
      ['b', 'c', 'd'].forEach((point, i) => {
        expect(Math.abs(voltsBetween(s, point, '0') - printed[i]!)).toBeLessThan(0.001);
      });
    }
  });

  it('V35, example 13.27: three wires, unequal loads', () => {
    const s = solved([
      dc('upper', 'p', 'm', 245.6),
      dc('lower', 'm', 'n', 243.2),
      wire('1', 'p', 'x', 0.1),
      wire('2', 'm', 'y', 0.1),
      wire('3', 'n', 'z', 0.1),
      z('r1', 'x', 'y', 5),
      z('r2', 'y', 'z', 6),
    ]);
    expect(voltsBetween(s, 'x', 'y')).toBeCloseTo(240, 9);
    expect(voltsBetween(s, 'y', 'z')).toBeCloseTo(240, 9);
    expect(amps(s, '2')).toBeCloseTo(8, 9);
  });
});

describe('Mehta, chapter 14: AC feeders, power factors referred to the far end', () => {
  /** Two lagging loads along a feeder; the near one as seen in phase with the far end. */
  function feeder(perKm: Phasor, near: Phasor, nearKm: number, far: Phasor, farKm: number, farVolts: number) {
    const leg = (km: number): Phasor => ({ re: perKm.re * km, im: perKm.im * km });
    const far1 = phasor(farVolts);
    const nearVolts = add(far1, multiply(leg(farKm - nearKm), far));
    const sending = add(nearVolts, multiply(leg(nearKm), add(near, far)));
    const load = (id: string, point: string, at: Phasor, current: Phasor) => {
      const ohms = divide(at, current)!;
      return z(id, point, '0', ohms.re, ohms.im);
    };
    const solution = solved([
      ac('s', 'p', '0', magnitude(sending), { phase: angleDegrees(sending) }),
      z('leg1', 'p', 'near', leg(nearKm).re, leg(nearKm).im),
      load('l1', 'near', nearVolts, near),
      z('leg2', 'near', 'far', leg(farKm - nearKm).re, leg(farKm - nearKm).im),
      load('l2', 'far', far1, far),
    ]);
    return { solution, sending };
  }
  const lagging = (size: number, powerFactor: number): Phasor =>
    phasor(size * powerFactor, -size * Math.sqrt(1 - powerFactor * powerFactor));

  it('V40, example 14.1: drop of 17.85 V', () => {
    const { solution } = feeder({ re: 0.2, im: 0.1 }, lagging(100, Math.SQRT1_2), 0.2, lagging(200, 0.8), 0.3, 230);
    expect(amps(solution, 'l2')).toBeCloseTo(200, 6);
    expect(magnitude(solution.between('p', 'far')!)).toBeCloseTo(17.85, 1.5);
  });

  it('V41, example 14.2: sending 261.67 V at 3.83 degrees', () => {
    const { solution, sending } = feeder({ re: 0.05, im: 0.1 }, lagging(80, 0.9), 1, lagging(120, 0.8), 2, 230);
    expect(magnitude(sending)).toBeCloseTo(261.67, 1.5);
    expect(angleDegrees(solution.between('p', '0')!)).toBeCloseTo(3.83, 1.5);
    expect(voltsBetween(solution, 'far', '0')).toBeCloseTo(230, 9);
    expect(amps(solution, 'l1')).toBeCloseTo(80, 6);
  });
});
