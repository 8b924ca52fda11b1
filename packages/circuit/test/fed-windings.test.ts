import { describe, expect, it } from 'vitest';
import { type CircuitState, prepare } from '../src/index.js';
import { ac, contact, volts, voltsBetween, z } from './networks.js';

const fed = (id: string, a: string, b: string, ohms = 0) =>
  ac(id, a, b, 16, { ohms, fedBy: { a: 'line', b: 'n', ratio: 16 / 120 } });

describe('a transformer behind a switch', () => {
  const elements = [
    ac('mains', 'l', 'n', 120),
    contact('switch', 'l', 'line'),
    fed('tx/1', 'a', 'b'),
    fed('tx/2', 'c', 'd', 2),
    contact('push', 'a', 'p'),
    z('coil', 'p', 'b', 18, 18),
  ];
  const prepared = prepare({ elements });
  const at = (...closed: string[]) => {
    const state: CircuitState = { closed, loads: 'idle' };
    return prepared.solve(prepared.circuitOf('l')!, state);
  };

  it('has no volts on any winding while the switch is open, loaded or not', () => {
    for (const solution of [at(), at('push')]) {
      expect(solution.problem).toBeUndefined();
      for (const id of ['tx/1', 'tx/2', 'coil']) expect(volts(solution, id)).toBe(0);
      expect(voltsBetween(solution, 'line', 'n')).toBe(0);
    }
  });

  it('has them while it is closed', () => {
    expect(volts(at('switch'), 'tx/1')).toBeCloseTo(16, 12);
    expect(volts(at('push', 'switch'), 'coil')).toBeCloseTo(16, 12);
  });

  it('gives them backwards when its own side is fed by another', () => {
    const backFed = prepare({ elements: [...elements.slice(0, 3), ac('other', 'a', 'b', 8, { ohms: 1 })] });
    const solution = backFed.solve(backFed.circuitOf('l')!, { closed: [], loads: 'idle' });
    expect(voltsBetween(solution, 'line', 'n')).toBeCloseTo(60, 9);
  });
});
