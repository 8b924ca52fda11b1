import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { prepare, statesOf } from '../src/index.js';
import { ac, amps, dc, short, solved, voltsBetween, wire, z } from './networks.js';

describe('ideal sources through which nothing can flow', () => {
  const joined = [dc('s1', 'a', 'b', 16), dc('s2', 'c', 'd', 24), wire('w', 'a', 'c', 0.063)];

  it('have their volts, and no more current than rounding', () => {
    const s = solved(joined);
    expect(s.problem).toBeUndefined();
    expect(voltsBetween(s, 'b', 'd')).toBeCloseTo(8, 9);
    for (const { id } of joined) expect(amps(s, id)).toBeLessThan(1e-10);
  });

  it('pass the check however they are chained', () => {
    const link = fc.record({
      volts: fc.double({ min: 0.001, max: 400, noNaN: true }),
      ohms: fc.double({ min: -6, max: 6, noNaN: true }).map((exponent) => 10 ** exponent),
      isIdeal: fc.boolean(),
      reactance: fc.oneof(fc.constant(0), fc.double({ min: -50, max: 50, noNaN: true })),
      dangling: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(link, { minLength: 1, maxLength: 7 }), fc.boolean(), (links, closes) => {
        const elements = links.flatMap(({ volts, ohms, isIdeal, reactance, dangling }, i) => [
          ac(`s${i}`, `a${i}`, `b${i}`, volts, isIdeal ? {} : { ohms: 1, reactance: 0.5 }),
          dangling ? z(`w${i}`, `a${i}`, `x${i}`, ohms, reactance) : short(`d${i}`, `a${i}`, `x${i}`),
          z(`v${i}`, `b${i}`, `a${i + 1}`, ohms, i % 2 === 0 ? 0 : Math.abs(reactance)),
        ]);
        const ring = closes ? [z('back', `a${links.length}`, 'a0', 0.5)] : [];
        const prepared = prepare({ elements: [...elements, ...ring] });
        for (const circuit of prepared.circuits) {
          for (const state of statesOf(circuit)) expect(prepared.solve(circuit, state).problem).toBeUndefined();
        }
      }),
      { numRuns: 500 },
    );
  });
});
