import { describe, expect, it } from 'vitest';
import {
  formatAmps,
  formatGauge,
  formatLength,
  formatOhms,
  formatShare,
  formatVoltAmperes,
  formatVolts,
  formatWatts,
  fromSI,
  NOT_KNOWN,
  toSI,
  UNITS,
  unitOf,
  unitsFor,
} from '../src/index.js';

describe('units', () => {
  it.each([
    [16, 'V', 16],
    [16, 'VAC', 16],
    [350, 'mA', 0.35],
    [2.2, 'kohm', 2200],
    [2.2, 'k\u03a9', 2200],
    [30, 'ft', 9.144],
    [6, 'in', 0.1524],
    [6, '"', 0.1524],
    [0.75, 'mm\u00b2', 0.75e-6],
    [18, 'in3', 18 * 0.0254 ** 3],
    [70, '%', 0.7],
    [212, 'degF', 100],
    [40, 'degC', 40],
    [18, 'awg', 18],
  ])('%f %s', (value, unit, si) => {
    expect(toSI(value, unit)).toBeCloseTo(si, 12);
    expect(fromSI(si, unit)).toBeCloseTo(value, 9);
  });

  it('reads every spelling without regard to case, and each means one unit', () => {
    const seen = new Map<string, string>();
    for (const unit of UNITS) {
      for (const spelling of [unit.symbol, ...unit.spellings]) {
        const key = spelling.toLowerCase();
        expect(seen.get(key) ?? unit.symbol).toBe(unit.symbol);
        seen.set(key, unit.symbol);
        expect(unitOf(spelling.toUpperCase())?.dimension ?? unitOf(spelling)?.dimension).toBe(unit.dimension);
      }
    }
  });

  it('names the units that fit', () => {
    expect(unitsFor('length').map((unit) => unit.symbol)).toEqual(['m', 'cm', 'mm', 'km', 'ft', 'in']);
    expect(unitsFor('apparent-power')[0]?.symbol).toBe('VA');
    expect(toSI(1, 'furlong')).toBeUndefined();
    expect(unitOf('')).toBeUndefined();
  });
});

describe('figures for people', () => {
  it.each([
    [formatVolts(16.688), '16.7 V'],
    [formatVolts(16), '16 V'],
    [formatVolts(-0.04), '-0.04 V'],
    [formatVolts(-0.0001), '0 V'],
    [formatAmps(0.625), '0.63 A'],
    [formatAmps(0.062), '62 mA'],
    [formatAmps(0.0012), '1.2 mA'],
    [formatAmps(14.375), '14.4 A'],
    [formatAmps(0), '0 A'],
    [formatVoltAmperes(9.44), '9.4 VA'],
    [formatVoltAmperes(0.04), '0.04 VA'],
    [formatVoltAmperes(0.96), '1 VA'],
    [formatWatts(0.5), '0.5 W'],
    [formatWatts(10.24), '10.2 W'],
    [formatOhms(1.28), '1.28 ohm'],
    [formatOhms(25.6), '25.6 ohm'],
    [formatOhms(2200), '2.2 kohm'],
    [formatShare(0.1663), '17 %'],
    [formatShare(0.026), '2.6 %'],
    [formatLength(9, 'metres'), '9 m'],
    [formatLength(6.5532, 'feet'), '21 ft 6 in'],
    [formatLength(9.144, 'feet'), '30 ft'],
    [formatLength(0.1524, 'feet'), '6 in'],
    [formatLength(3.6575, 'feet'), '12 ft'],
    [formatGauge({ awg: 18 }), '18 AWG'],
    [formatGauge({ awg: 0 }), '1/0 AWG'],
    [formatGauge({ mm2: 0.75 }), '0.75 mm2'],
    [formatGauge({ diameterMm: 0.6 }), '0.6 mm'],
    [formatVolts(Number.NaN), NOT_KNOWN],
    [formatLength(Number.POSITIVE_INFINITY, 'feet'), NOT_KNOWN],
  ])('%s', (written, wanted) => {
    expect(written).toBe(wanted);
  });
});
