import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  type Conductor,
  coilImpedance,
  cornersOf,
  mostVoltAmperes,
  ohmsPerMetre,
  shortCircuitAmps,
  windingModel,
} from '../src/index.js';
import { ac, amps, solved, volts, watts, wire, z } from './networks.js';

const README = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
const bell = windingModel({ volts: 16, voltAmperes: 10 })!;
const coil = coilImpedance(16, 10, 0.7)!;
const gauge = (awg: number): Conductor => ({ size: { awg }, stranded: false, material: 'copper' });
const loop = (awg: number, metres: number, temperatureC = 20): number =>
  2 * metres * ohmsPerMetre(gauge(awg), temperatureC)!;

/** The figure as the page prints it. */
function expectPrinted(value: number, decimals: number, unit: string): void {
  expect(README).toContain(`${value.toFixed(decimals)}${unit}`);
}

describe('the worked examples of README.md', () => {
  it('a bell transformer', () => {
    expect(bell.emfVolts).toBeCloseTo(20, 12);
    expectPrinted(bell.ratedAmps, 3, ' A');
    expectPrinted(bell.ohms, 1, ' ohm');
    expectPrinted(shortCircuitAmps(20, bell.ohms) + 1e-9, 2, ' A into a short');
    expectPrinted(mostVoltAmperes(20, bell.ohms), 1, ' VA');
  });

  it('a chime at 30 m, nominal and at low mains and warm wire', () => {
    const [, low] = cornersOf('north-america');
    const at = (mainsFactor: number, temperature: number) =>
      solved([
        ac('tx', 'a', 'b', bell.emfVolts * mainsFactor, { ohms: bell.ohms }),
        wire('w', 'a', 'x', loop(18, 30, temperature)),
        z('coil', 'x', 'b', coil.ohms, coil.reactance),
      ]);
    expectPrinted(coil.ohms, 2, ' + j');
    expectPrinted(coil.reactance, 2, ' ohm');
    expectPrinted(amps(at(1, 20), 'coil'), 3, ' A');
    expectPrinted(volts(at(1, 20), 'coil'), 2, ' V');
    expectPrinted(volts(at(low.mainsFactor, low.conductorTemperature), 'coil'), 2, ' V');
  });

  it('a doorbell of 8 W at 12 m and at 30 m', () => {
    for (const metres of [12, 30]) {
      const s = solved([
        ac('tx', 'a', 'b', bell.emfVolts, { ohms: bell.ohms }),
        wire('w', 'a', 'x', loop(18, metres)),
        watts('cam', 'x', 'b', 8, 10),
      ]);
      expectPrinted(volts(s, 'cam'), 2, ' V');
    }
  });

  it('a doorbell of 3 W through the coil of a chime', () => {
    const s = solved([
      ac('tx', 'a', 'b', bell.emfVolts, { ohms: bell.ohms }),
      z('coil', 'a', 'x', coil.ohms, coil.reactance),
      watts('cam', 'x', 'b', 3, 10),
    ]);
    expectPrinted((amps(s, 'coil') / 0.625) * 100, 0, ' % of the coil');
  });

  it('a long short', () => {
    const supply = windingModel({ volts: 16, voltAmperes: 30 })!;
    const s = solved([
      ac('tx', 'a', 'b', supply.emfVolts, { ohms: supply.ohms }),
      wire('go', 'a', 'x', loop(20, 60) / 2),
      wire('back', 'x', 'b', loop(20, 60) / 2),
    ]);
    expectPrinted(amps(s, 'tx'), 2, ' A, 1.9 times rated');
    expect(amps(s, 'tx') / supply.ratedAmps).toBeCloseTo(1.9, 1);
    expect(s.shorted).toEqual([{ source: 'tx', path: ['go', 'back'] }]);
  });
});
