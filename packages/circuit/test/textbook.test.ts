import { describe, expect, it } from 'vitest';
import { angleDegrees, magnitude, type Phasor, power, subtract } from '../src/index.js';
import { ac, amps, dc, solved, volts, voltsBetween, z } from './networks.js';

const henry = (value: number, hertz: number): number => 2 * Math.PI * hertz * value;
const farad = (value: number, hertz: number): number => -1 / (2 * Math.PI * hertz * value);

function expectPhasor(found: Phasor | null | undefined, re: number, im: number, within: number): void {
  expect(magnitude(subtract(found!, { re, im }))).toBeLessThan(within);
}

describe('Bird, Electrical Circuit Theory and Technology', () => {
  it('N1, example 31.2: 100 V, 5 ohm, capacitor beside coil', () => {
    const s = solved([ac('s', 'p', '0', 100), z('r', 'p', 'a', 5), z('c', 'a', '0', 0, -4), z('l', 'a', '0', 4, 3)]);
    expectPhasor(s.element('r')?.amps, 10.17, 3.55, 0.008);
    expectPhasor(s.element('l')?.amps, 5.73, -8.74, 0.008);
    expect(amps(s, 'c')).toBeCloseTo(13.06, 2);
    expect(-power(s.element('s')!.volts, s.element('s')!.amps!).re).toBeCloseTo(1017.06, 1);
  });

  it('N4, examples 30.1 and 31.6: two sources, one node', () => {
    const s = solved([
      ac('e1', 'p', '0', 100, { ohms: 25 }),
      ac('e2', 'p', '0', 50, { ohms: 10, phase: 90 }),
      z('r', 'p', '0', 20),
    ]);
    expectPhasor(s.between('p', '0'), 21.053, 26.316, 0.001);
    expectPhasor(s.element('e1')?.amps, -3.16, 1.05, 0.008);
    expectPhasor(s.element('r')?.amps, 1.05, 1.32, 0.008);
    expectPhasor(s.element('e2')?.amps, 2.11, -2.37, 0.008);
  });

  it('N8, example 15.15: coil and capacitor in series at 50 Hz', () => {
    const s = solved([
      ac('s', 'p', '0', 300, { frequency: 50 }),
      z('coil', 'p', 'a', 5, henry(0.12, 50)),
      z('c', 'a', '0', 0, farad(100e-6, 50)),
    ]);
    expect(amps(s, 'coil')).toBeCloseTo(38.91, 2);
    expect(angleDegrees(s.element('coil')!.amps!)).toBeCloseTo(-49.57, 1);
    expect(volts(s, 'coil')).toBeCloseTo(1480, -0.5);
    expect(volts(s, 'c')).toBeCloseTo(1239, -0.5);
  });

  it('N9, example 16.7: coil beside a capacitor at 5 kHz', () => {
    const s = solved([
      ac('s', 'p', '0', 40, { frequency: 5000 }),
      z('coil', 'p', '0', 3000, henry(0.12, 5000)),
      z('c', 'p', '0', 0, farad(0.02e-6, 5000)),
    ]);
    expect(amps(s, 'coil') * 1000).toBeCloseTo(8.3, 1);
    expect(angleDegrees(s.element('coil')!.amps!)).toBeCloseTo(-51.5, 1);
    expect(amps(s, 'c') * 1000).toBeCloseTo(25.13, 2);
    expect(amps(s, 's') * 1000).toBeCloseTo(19.3, 1);
    expect(power(s.element('coil')!.volts, s.element('coil')!.amps!).re * 1000).toBeCloseTo(206.8, 0);
  });

  it('N10, example 16.4: inductor beside a capacitor at 50 Hz', () => {
    const s = solved([
      ac('s', 'p', '0', 100, { frequency: 50 }),
      z('l', 'p', '0', 0, henry(0.12, 50)),
      z('c', 'p', '0', 0, farad(25e-6, 50)),
    ]);
    expect(amps(s, 'l')).toBeCloseTo(2.65, 2);
    expect(amps(s, 'c')).toBeCloseTo(0.785, 2);
    expect(amps(s, 's')).toBeCloseTo(1.87, 2);
    expect(100 / amps(s, 's')).toBeCloseTo(53.56, 1);
  });

  it('N11, example 31.1: DC ladder with two sources', () => {
    const s = solved([
      dc('e1', 'p', '0', 4, 3),
      z('r5', 'p', '0', 5),
      z('r4', 'p', 'm', 4),
      z('r6', 'm', 'q', 6),
      z('r1', 'q', '0', 1),
      z('r8', 'q', 't', 8),
      dc('e2', 't', '0', 5),
    ]);
    expect(amps(s, 'r5')).toBeCloseTo(0.44, 2);
    expect(amps(s, 'r1')).toBeCloseTo(0.69, 2);
  });
});

describe('Kuphaldt, Lessons In Electric Circuits (from memory, not confirmed; re-solved independently)', () => {
  it('L1, AC chapter 3: resistor and inductor in series', () => {
    const s = solved([ac('s', 'p', '0', 10), z('r', 'p', 'a', 5), z('l', 'a', '0', 0, henry(0.01, 60))]);
    expect(amps(s, 'r')).toBeCloseTo(1.597, 3);
    expect(angleDegrees(s.element('r')!.amps!)).toBeCloseTo(-37.016, 3);
    expect(volts(s, 'r')).toBeCloseTo(7.9847, 3);
    expect(volts(s, 'l')).toBeCloseTo(6.0203, 3);
  });

  it('L2, the same in parallel', () => {
    const s = solved([ac('s', 'p', '0', 10), z('r', 'p', '0', 5), z('l', 'p', '0', 0, henry(0.01, 60))]);
    expect(amps(s, 's')).toBeCloseTo(3.3221, 3);
  });

  it('L3 and L4, AC chapter 4: resistor and capacitor', () => {
    const series = solved([ac('s', 'p', '0', 10), z('r', 'p', 'a', 5), z('c', 'a', '0', 0, farad(100e-6, 60))]);
    expect(amps(series, 'r') * 1000).toBeCloseTo(370.5, 1);
    expect(volts(series, 'c')).toBeCloseTo(9.8269, 3);
    const parallel = solved([ac('s', 'p', '0', 10), z('r', 'p', '0', 5), z('c', 'p', '0', 0, farad(100e-6, 60))]);
    expect(amps(parallel, 's')).toBeCloseTo(2.0352, 3);
  });

  it('L5, AC chapter 5: R, L and C in series', () => {
    const s = solved([
      ac('s', 'p', '0', 120),
      z('r', 'p', 'a', 250),
      z('l', 'a', 'b', 0, henry(0.65, 60)),
      z('c', 'b', '0', 0, farad(1.5e-6, 60)),
    ]);
    expect(amps(s, 'r') * 1000).toBeCloseTo(77.734, 2);
    expect(angleDegrees(s.element('r')!.amps!)).toBeCloseTo(80.68, 2);
    expect(volts(s, 'r')).toBeCloseTo(19.434, 2);
    expect(volts(s, 'l')).toBeCloseTo(19.048, 2);
    expect(volts(s, 'c')).toBeCloseTo(137.46, 1);
  });

  it('L6, the same in parallel', () => {
    const s = solved([
      ac('s', 'p', '0', 120),
      z('r', 'p', '0', 250),
      z('l', 'p', '0', 0, henry(0.65, 60)),
      z('c', 'p', '0', 0, farad(1.5e-6, 60)),
    ]);
    expect(amps(s, 's') * 1000).toBeCloseTo(639.03, 1);
    expect(amps(s, 'c') * 1000).toBeCloseTo(67.858, 2);
  });

  it('L8, DC chapter 7: two parallel pairs in series', () => {
    const s = solved([
      dc('s', 'p', '0', 24),
      z('r1', 'p', 'a', 100),
      z('r2', 'p', 'a', 250),
      z('r3', 'a', '0', 350),
      z('r4', 'a', '0', 200),
    ]);
    expect(amps(s, 's') * 1000).toBeCloseTo(120.78, 2);
    expect(voltsBetween(s, 'p', 'a')).toBeCloseTo(8.6275, 4);
    expect(voltsBetween(s, 'a', '0')).toBeCloseTo(15.373, 3);
    expect(['r1', 'r2', 'r3', 'r4'].map((id) => amps(s, id) * 1000)).toEqual([
      expect.closeTo(86.275, 2),
      expect.closeTo(34.51, 2),
      expect.closeTo(43.922, 2),
      expect.closeTo(76.863, 2),
    ]);
  });
});

describe('others', () => {
  it('O1, DOE Fundamentals Handbook, Electrical Science (ES-08 p. 17): R, L, C in parallel', () => {
    const s = solved([
      ac('s', 'p', '0', 120),
      z('r', 'p', '0', 200),
      z('l', 'p', '0', 0, 100),
      z('c', 'p', '0', 0, -80),
    ]);
    expect([amps(s, 'r'), amps(s, 'l'), amps(s, 'c')]).toEqual([
      expect.closeTo(0.6, 9),
      expect.closeTo(1.2, 9),
      expect.closeTo(1.5, 9),
    ]);
    expect(amps(s, 's')).toBeCloseTo(0.671, 3);
  });

  it('O2, ch31 p061: series RLC at 550 Hz', () => {
    const s = solved([
      ac('s', 'p', '0', 75, { frequency: 550 }),
      z('r', 'p', 'a', 15),
      z('c', 'a', 'b', 0, farad(4.7e-6, 550)),
      z('l', 'b', '0', 0, henry(0.025, 550)),
    ]);
    expect(amps(s, 'r')).toBeCloseTo(2.586, 2);
    expect(volts(s, 'r')).toBeCloseTo(38.79, 1);
    expect(volts(s, 'c')).toBeCloseTo(159.2, 0);
    expect(volts(s, 'l')).toBeCloseTo(223.4, 0);
    expect(voltsBetween(s, 'a', '0')).toBeCloseTo(64.19, 1);
  });

  it('O3, a series LCR circuit at 50/pi Hz', () => {
    const f = 50 / Math.PI;
    const s = solved([
      ac('s', 'p', '0', 50, { frequency: f }),
      z('r', 'p', 'a', 300),
      z('c', 'a', 'b', 0, farad(20e-6, f)),
      z('l', 'b', '0', 0, henry(1, f)),
    ]);
    expect(amps(s, 'r')).toBeCloseTo(0.1, 9);
    expect([volts(s, 'c'), volts(s, 'r'), volts(s, 'l')]).toEqual([
      expect.closeTo(50, 9),
      expect.closeTo(30, 9),
      expect.closeTo(10, 9),
    ]);
  });

  it('O4, two impedances in parallel', () => {
    const s = solved([ac('s', 'p', '0', 150), z('z1', 'p', '0', 100, -2202.9), z('z2', 'p', '0', 110, -1105.243)]);
    expect(amps(s, 's') * 1000).toBeCloseTo(203, 0);
  });

  it('P1, Kosow example 14.32: secondaries of 6.3 V and 5.0 V put in parallel', () => {
    const s = solved([ac('s1', 'p', '0', 6.3, { ohms: 0.2 }), ac('s2', 'p', '0', 5, { ohms: 0.15 })]);
    expect(amps(s, 's1')).toBeCloseTo(3.714, 3);
    expect(amps(s, 's1') / 0.885).toBeCloseTo(4.2, 1);
  });

  it('Kosow example 14.8: 20 V behind 18 ohm into 8 ohm, and matched', () => {
    const into = (ohms: number): number => {
      const s = solved([ac('s', 'p', '0', 20, { ohms: 18 }), z('r', 'p', '0', ohms)]);
      return amps(s, 'r') ** 2 * ohms;
    };
    expect(into(8)).toBeCloseTo(4.73, 2);
    expect(into(18)).toBeCloseTo(5.556, 3);
  });

  it('Kosow example 14.1: 12 A from a 500:100 transformer take 2.4 A on its primary', () => {
    const s = solved([
      ac('mains', 'l', 'n', 120),
      ac('tx', 'a', 'b', 24, { fedBy: { a: 'l', b: 'n', ratio: 0.2 } }),
      z('r', 'a', 'b', 2),
    ]);
    expect(amps(s, 'r')).toBeCloseTo(12, 9);
    expect(amps(s, 'mains')).toBeCloseTo(2.4, 9);
  });
});
