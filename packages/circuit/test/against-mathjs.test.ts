import * as fc from 'fast-check';
import {
  type Complex,
  complex,
  divide,
  lusolve,
  type Matrix,
  matrix,
  subtract as minus,
  multiply,
  add as plus,
} from 'mathjs';
import { describe, expect, it } from 'vitest';
import { type CircuitElement, magnitude, polar, subtract } from '../src/index.js';
import { solved } from './networks.js';
import { linearNetwork } from './random-networks.js';

/** Volts of points n1 .. n(count-1) against n0, from a textbook nodal matrix solved by mathjs. */
function referenceVolts(elements: readonly CircuitElement[], count: number): Complex[] {
  const size = count - 1;
  const y: Complex[][] = Array.from({ length: size }, () => Array.from({ length: size }, () => complex(0, 0)));
  const j: Complex[] = Array.from({ length: size }, () => complex(0, 0));
  const indexOf = (point: string): number => Number(point.slice(1)) - 1;
  for (const element of elements) {
    if (element.kind !== 'impedance' && element.kind !== 'source') continue;
    if (element.a === element.b) continue;
    const admittance = divide(1, complex(element.ohms, element.reactance)) as Complex;
    const a = indexOf(element.a);
    const b = indexOf(element.b);
    for (const [row, column, sign] of [
      [a, a, 1],
      [b, b, 1],
      [a, b, -1],
      [b, a, -1],
    ] as const) {
      if (row < 0 || column < 0) continue;
      const sum = sign === 1 ? plus(y[row]![column]!, admittance) : minus(y[row]![column]!, admittance);
      y[row]![column] = sum as Complex;
    }
    if (element.kind !== 'source') continue;
    const emf = polar(element.volts, element.phase);
    const injected = multiply(admittance, complex(emf.re, emf.im)) as Complex;
    if (a >= 0) j[a] = plus(j[a]!, injected) as Complex;
    if (b >= 0) j[b] = minus(j[b]!, injected) as Complex;
  }
  const answer = lusolve(matrix(y), matrix(j.map((value) => [value]))) as Matrix;
  return answer.toArray().map((row) => {
    const value = (row as unknown[])[0];
    return typeof value === 'number' ? complex(value, 0) : (value as Complex);
  });
}

describe('against mathjs lusolve', () => {
  it.each([
    { system: 'AC', points: 5, runs: 100 },
    { system: 'AC', points: 12, runs: 60 },
    { system: 'AC', points: 80, runs: 3 },
    { system: 'DC', points: 9, runs: 100 },
    { system: 'DC', points: 80, runs: 3 },
  ] as const)('random $system networks of $points points agree to 1e-9', ({ system, points, runs }) => {
    fc.assert(
      fc.property(linearNetwork(points, system), (drawn) => {
        const elements =
          system === 'AC' ? drawn : drawn.map((e) => (e.kind === 'impedance' ? { ...e, reactance: 0 } : e));
        const reference = referenceVolts(elements, points);
        const solution = solved(elements);
        const scale = Math.max(1, ...reference.map((value) => value.toPolar().r));
        reference.forEach((value, i) => {
          const mine = solution.between(`n${i + 1}`, 'n0')!;
          expect(magnitude(subtract(mine, { re: value.re, im: value.im })) / scale).toBeLessThan(1e-9);
        });
      }),
      { numRuns: runs },
    );
  });
});
