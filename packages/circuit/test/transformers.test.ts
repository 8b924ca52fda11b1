import { describe, expect, it } from 'vitest';
import {
  coilImpedance,
  cornersOf,
  defaultRegulation,
  MAINS,
  mostVoltAmperes,
  shortCircuitAmps,
  windingModel,
} from '../src/index.js';

describe('default regulation (common practice, no source)', () => {
  it('takes the next larger size between the steps', () => {
    expect([2, 3, 4, 5, 8, 9, 10, 15, 16, 20, 30, 40, 100].map(defaultRegulation)).toEqual([
      0.6, 0.6, 0.4, 0.4, 0.3, 0.25, 0.25, 0.2, 0.18, 0.18, 0.15, 0.125, 0.125,
    ]);
  });

  it('gives the EMF, ohms and short-circuit current of a 16 V 10 VA unit', () => {
    const winding = windingModel({ volts: 16, voltAmperes: 10 })!;
    expect(winding).toMatchObject({ emfVolts: 20, ohms: 6.4, reactance: 0, ratedAmps: 0.625, basis: 'assumed' });
    expect(shortCircuitAmps(winding.emfVolts, winding.ohms)).toBeCloseTo(3.125, 9);
    expect(mostVoltAmperes(winding.emfVolts, winding.ohms)).toBeCloseTo(15.625, 9);
  });
});

describe('what a label says', () => {
  it('derives the ohms from the no-load volts', () => {
    const winding = windingModel({ volts: 16, voltAmperes: 10, noLoadVolts: 19.8 })!;
    expect(winding.emfVolts).toBe(19.8);
    expect(winding.ohms).toBeCloseTo(6.08, 9);
    expect(winding.basis).toBe('label');
  });

  it('is ideal where no-load and rated volts agree, and where the output is regulated', () => {
    expect(windingModel({ volts: 16, voltAmperes: 10, noLoadVolts: 16 })).toMatchObject({ emfVolts: 16, ohms: 0 });
    expect(windingModel({ volts: 12, voltAmperes: 12, regulated: true })).toMatchObject({
      emfVolts: 12,
      ohms: 0,
      basis: 'regulated',
    });
  });

  it('lets reactance make up part of the drop: still rated volts at a rated resistive load', () => {
    const winding = windingModel({ volts: 16, voltAmperes: 30, noLoadVolts: 18.4, reactance: 1.5 })!;
    const drop = { re: winding.ohms * 1.875, im: winding.reactance * 1.875 };
    expect(Math.sqrt((16 + drop.re) ** 2 + drop.im ** 2)).toBeCloseTo(18.4, 9);
  });

  it('holds the reactance to what the drop leaves room for', () => {
    const winding = windingModel({ volts: 16, voltAmperes: 30, noLoadVolts: 16.46, reactance: 50 })!;
    expect(winding.ohms).toBe(0);
    expect(Math.sqrt(16 ** 2 + (winding.reactance * 1.875) ** 2)).toBeCloseTo(16.46, 9);
    expect(shortCircuitAmps(16.46, 0, winding.reactance)).toBeCloseTo(8, 1);
  });
});

describe('what a meter says', () => {
  it('sets the EMF by an open reading and never makes the supply look stronger than its size', () => {
    const weak = windingModel({ volts: 16, voltAmperes: 10, measuredOpenVolts: 17.9 })!;
    expect(weak.emfVolts).toBe(17.9);
    expect(weak.ohms).toBeCloseTo(6.4, 9);
    const high = windingModel({ volts: 16, voltAmperes: 10, measuredOpenVolts: 22 })!;
    expect(high.ohms).toBeCloseTo(9.6, 9);
  });

  it('sets the ohms by a loaded reading, held between half and twice the default', () => {
    const loaded = windingModel({ volts: 16, voltAmperes: 10, measuredLoaded: { volts: 15.1, amps: 0.62 } })!;
    expect(loaded.ohms).toBeCloseTo((20 - 15.1) / 0.62, 9);
    expect(loaded).toMatchObject({ basis: 'measured', held: false });
    const strong = windingModel({ volts: 16, voltAmperes: 10, measuredLoaded: { volts: 19.9, amps: 0.62 } })!;
    expect(strong).toMatchObject({ ohms: 3.2, held: true });
    const tired = windingModel({ volts: 16, voltAmperes: 10, measuredLoaded: { volts: 6, amps: 0.62 } })!;
    expect(tired).toMatchObject({ ohms: 12.8, held: true });
  });
});

describe('nothing sensible', () => {
  it('answers undefined, never NaN', () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(windingModel({ volts: bad, voltAmperes: 10 })).toBeUndefined();
      expect(windingModel({ volts: 16, voltAmperes: bad })).toBeUndefined();
      expect(coilImpedance(16, bad, 0.7)).toBeUndefined();
    }
    expect(coilImpedance(16, 10, 1.2)).toBeUndefined();
    const odd = windingModel({ volts: 16, voltAmperes: 10, noLoadVolts: Number.NaN, measuredOpenVolts: -4 })!;
    expect(odd.emfVolts).toBe(20);
    expect(windingModel({ volts: 16, voltAmperes: 10, noLoadVolts: 12 })!.ohms).toBe(0);
  });
});

describe('coils', () => {
  it('has 25.6 ohms at 16 V and 10 VA, turned by its power factor', () => {
    const coil = coilImpedance(16, 10, 0.625)!;
    expect(coil.ohms).toBeCloseTo(16, 9);
    expect(Math.sqrt(coil.ohms ** 2 + coil.reactance ** 2)).toBeCloseTo(25.6, 9);
  });
});

describe('mains', () => {
  it('has a nominal, a low and a high corner', () => {
    expect(cornersOf('north-america')).toEqual([
      { name: 'nominal', mainsFactor: 1, conductorTemperature: 20 },
      { name: 'low', mainsFactor: 0.95, conductorTemperature: 60 },
      { name: 'high', mainsFactor: 1.05, conductorTemperature: 0 },
    ]);
    expect(cornersOf('europe').map((corner) => corner.mainsFactor)).toEqual([1, 0.94, 1.1]);
    expect(MAINS['north-america']).toMatchObject({ mainsVolts: 120, frequency: 60 });
    expect(MAINS['united-kingdom']).toMatchObject({ mainsVolts: 230, frequency: 50 });
  });
});
