import { describe, expect, it } from 'vitest';
import {
  areaOf,
  awgDiameterMm,
  type Conductor,
  compareSizes,
  IEC_60228_MAXIMUM,
  isThicker,
  isThinner,
  maximumOhmsPerMetre,
  nextThicker,
  ohmsPerMetre,
  resistanceAtTemperature,
} from '../src/index.js';

const FEET_PER_KM = 3280.839895;

const solid = (size: Conductor['size']): Conductor => ({ size, stranded: false, material: 'copper' });
const stranded = (size: Conductor['size']): Conductor => ({ size, stranded: true, material: 'copper' });
const perThousandFeet = (ohmsPerMetre: number | undefined): number => (ohmsPerMetre! * 1e6) / FEET_PER_KM;
const share = (value: number, printed: number): number => Math.abs(value - printed) / printed;

describe('American Wire Gauge table (HyperPhysics), and its page Wire Resistance Table', () => {
  const printed: readonly (readonly [awg: number, mils: number, circularMils: number, ohmsPerThousandFeet: number])[] =
    [
      [24, 20.1, 404.01, 25.67],
      [22, 25.35, 642.4, 16.14],
      [20, 31.96, 1021.5, 10.15],
      [19, 35.89, 1288.1, 8.051],
      [18, 40.3, 1624.3, 6.385],
      [16, 50.82, 2582.9, 4.016],
      [14, 64.08, 4106.8, 2.525],
      [12, 80.8, 6529, 1.588],
      [10, 101.89, 10381, 0.9989],
      [8, 128.49, 16509, 0.6282],
    ];

  it.each(printed)('%i AWG: diameter, area and ohms at 20 degC', (awg, mils, circularMils, ohms) => {
    const diameterMils = awgDiameterMm(awg) / 0.0254;
    expect(share(diameterMils, mils)).toBeLessThan(5e-4);
    expect(share(diameterMils * diameterMils, circularMils)).toBeLessThan(1e-3);
    expect(share(perThousandFeet(ohmsPerMetre(solid({ awg }))), ohms)).toBeLessThan(1e-3);
  });
});

describe('NEC Chapter 9 Table 8, uncoated copper at 75 degC', () => {
  const solidAt75: readonly (readonly [awg: number, ohmsPerThousandFeet: number])[] = [
    [18, 7.77],
    [16, 4.89],
    [14, 3.07],
    [12, 1.93],
    // 10 AWG from memory, not confirmed.
    [10, 1.21],
  ];
  it.each(solidAt75)('%i AWG solid', (awg, ohms) => {
    expect(share(perThousandFeet(ohmsPerMetre(solid({ awg }), 75)), ohms)).toBeLessThan(5e-3);
  });

  const strandedAt75: readonly (readonly [awg: number, ohmsPerThousandFeet: number])[] = [
    [18, 7.95],
    [16, 4.99],
    [14, 3.14],
    [12, 1.98],
  ];
  it.each(strandedAt75)('%i AWG in 7 strands', (awg, ohms) => {
    expect(share(perThousandFeet(ohmsPerMetre(stranded({ awg }), 75)), ohms)).toBeLessThan(7e-3);
  });
});

describe('IEC 60228 Table A.1, maximum ohms per km at 20 degC', () => {
  it.each([
    [0.5, 36.0],
    [0.75, 24.5],
    [1, 18.1],
    [1.5, 12.1],
    [2.5, 7.41],
    [4, 4.61],
    [6, 3.08],
    [10, 1.83],
  ])('%f mm2 class 1: at most %f, and 4 to 8 % above nominal', (mm2, ohms) => {
    expect(maximumOhmsPerMetre(solid({ mm2 }))! * 1000).toBeCloseTo(ohms, 9);
    const margin = maximumOhmsPerMetre(solid({ mm2 }))! / ohmsPerMetre(solid({ mm2 }))!;
    expect(margin).toBeGreaterThan(1.04);
    expect(margin).toBeLessThan(1.08);
  });

  it('takes the flexible class for stranded conductors', () => {
    for (const { mm2, flexible } of IEC_60228_MAXIMUM) {
      expect(maximumOhmsPerMetre(stranded({ mm2 }))! * 1000).toBeCloseTo(flexible, 9);
    }
  });

  it('never lies below the nominal figure, at any size', () => {
    for (const size of [{ mm2: 0.22 }, { mm2: 0.14 }, { diameterMm: 0.6 }, { awg: 18 }, { mm2: 1.5 }]) {
      for (const make of [solid, stranded]) {
        expect(maximumOhmsPerMetre(make(size), 60)!).toBeGreaterThanOrEqual(ohmsPerMetre(make(size), 60)!);
      }
    }
  });
});

describe('Bird, Electrical Circuit Theory and Technology, chapter 3: temperature', () => {
  it.each([
    ['example 8', 100, 0, 70, 0.0043, 0, 130.1, 0.05],
    ['example 9', 27, 35, 0, 0.0038, 0, 23.83, 0.005],
    ['example 10', 1000, 0, 80, -0.0005, 0, 960, 0.5],
    ['example 11', 10, 20, 100, 0.004, 20, 13.2, 0.05],
    ['example 13', 200, 20, 90, 0.004, 0, 251.85, 0.005],
  ])('%s', (_, ohms, knownAt, wantedAt, coefficient, coefficientAt, printed, rounding) => {
    const found = resistanceAtTemperature(ohms, knownAt, wantedAt, coefficient, coefficientAt);
    expect(Math.abs(found - printed)).toBeLessThan(rounding);
  });
});

describe('materials', () => {
  it('takes copper-clad aluminium at 62.9 % of the conductivity of copper (ASTM B566)', () => {
    const clad: Conductor = { size: { awg: 18 }, stranded: false, material: 'copper-clad-aluminium' };
    expect(share(ohmsPerMetre(clad)!, ohmsPerMetre(solid({ awg: 18 }))! / 0.629)).toBeLessThan(1e-3);
  });

  it('uses a resistance that the cable states, for nominal and maximum alike', () => {
    const stated: Conductor = { ...solid({ awg: 18 }), resistancePerKm20: 25 };
    expect(ohmsPerMetre(stated)).toBeCloseTo(0.025, 12);
    expect(maximumOhmsPerMetre(stated)).toBeCloseTo(0.025, 12);
    expect(ohmsPerMetre(stated, 60)).toBeCloseTo(0.025 * (1 + 0.00393 * 40), 12);
  });

  it('answers nothing for what is no size or no temperature, instead of NaN', () => {
    expect(ohmsPerMetre(solid({ mm2: 0 }))).toBeUndefined();
    expect(ohmsPerMetre(solid({ mm2: Number.NaN }))).toBeUndefined();
    expect(ohmsPerMetre(solid({ awg: -1e6 }))).toBeUndefined();
    expect(ohmsPerMetre(solid({ awg: 18 }), Number.NaN)).toBeUndefined();
    expect(ohmsPerMetre({ ...solid({ awg: 18 }), resistancePerKm20: -3 })).toBeCloseTo(0.02095, 4);
  });
});

describe('sizes', () => {
  it('compares across ways of naming', () => {
    expect(isThicker({ awg: 18 }, { awg: 20 })).toBe(true);
    expect(isThinner({ awg: 18 }, { mm2: 1 })).toBe(true);
    expect(isThicker({ awg: 18 }, { mm2: 0.75 })).toBe(true);
    expect(isThinner({ diameterMm: 0.6 }, { mm2: 0.5 })).toBe(true);
    expect(compareSizes({ awg: 12 }, { awg: 12 })).toBe(0);
    expect(areaOf({ diameterMm: 0.6 })).toBeCloseTo(0.28274, 5);
  });

  it('names the next size up in kind', () => {
    expect(nextThicker({ awg: 20 })).toEqual({ awg: 18 });
    expect(nextThicker({ awg: 19 })).toEqual({ awg: 18 });
    expect(nextThicker({ mm2: 0.5 })).toEqual({ mm2: 0.75 });
    expect(nextThicker({ diameterMm: 0.6 })).toEqual({ diameterMm: 0.8 });
    expect(nextThicker({ awg: 8 })).toBeUndefined();
  });
});
