import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  add,
  type CircuitElement,
  type CircuitState,
  conjugate,
  magnitude,
  multiply,
  negate,
  ohmsBetween,
  type Phasor,
  polar,
  power,
  prepare,
  type Solution,
  statesOf,
  subtract,
  ZERO,
} from '../src/index.js';
import { ac, dc, solved, volts, watts, z } from './networks.js';
import { anyNetwork, garbage, linearNetwork } from './random-networks.js';

const STATES: readonly CircuitState[] = [
  { closed: [], loads: 'idle' },
  { closed: ['c1'], loads: 'peak' },
  { closed: ['c1', 'c2', 'c3'], loads: 'idle' },
];

const anything = fc.constantFrom('AC' as const, 'DC' as const).chain((system) => anyNetwork(7, system));

/** Every solution of every circuit of a network, in a few states. */
function solutionsOf(elements: readonly CircuitElement[]): Solution[] {
  const prepared = prepare({ elements });
  return prepared.circuits.flatMap((circuit) => STATES.map((state) => prepared.solve(circuit, state)));
}

/** Largest current missing at a point, over the largest current; loops of ideal connections leave it open. */
function worstBalance(elements: readonly CircuitElement[], solution: Solution): number {
  const sums = new Map<string, Phasor>();
  const open = new Set<string>();
  let largest = 0;
  const leave = (at: string, amps: Phasor): void => {
    sums.set(at, add(sums.get(at) ?? ZERO, amps));
  };
  for (const element of elements) {
    const figures = solution.element(element.id);
    if (figures === undefined) continue;
    if (figures.amps === null) {
      open.add(element.a).add(element.b);
      continue;
    }
    leave(element.a, figures.amps);
    leave(element.b, negate(figures.amps));
    largest = Math.max(largest, magnitude(figures.amps));
    if (element.kind === 'source' && element.fedBy !== undefined) {
      const primary = negate(multiply(conjugate(polar(element.fedBy.ratio, element.phase)), figures.amps));
      leave(element.fedBy.a, primary);
      leave(element.fedBy.b, negate(primary));
    }
  }
  const missing = [...sums].filter(([at]) => !open.has(at)).map(([, sum]) => magnitude(sum));
  return Math.max(0, ...missing) / Math.max(largest, 1e-4);
}

describe('every solution', () => {
  it('balances its currents at every point', () => {
    fc.assert(
      fc.property(anything, (elements) => {
        for (const solution of solutionsOf(elements)) expect(worstBalance(elements, solution)).toBeLessThan(1e-9);
      }),
      { numRuns: 300 },
    );
  });

  it('passes its own check, and takes in as much power as its sources give', () => {
    fc.assert(
      fc.property(anything, (elements) => {
        for (const solution of solutionsOf(elements)) {
          expect(solution.problem?.kind).not.toBe('self-check-failed');
          expect(solution.problem?.kind).not.toBe('singular');
          let sum = ZERO;
          let all = 1e-4;
          for (const element of elements) {
            const figures = solution.element(element.id);
            if (figures === undefined || figures.amps === null) continue;
            const taken = power(figures.volts, figures.amps);
            sum = add(sum, taken);
            all += magnitude(taken);
          }
          expect(magnitude(sum) / all).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('obeys Ohm’s law and the laws of its loads', () => {
    fc.assert(
      fc.property(anything, (elements) => {
        for (const solution of solutionsOf(elements)) {
          for (const element of elements) {
            const figures = solution.element(element.id);
            if (figures === undefined || !figures.on || figures.amps === null) continue;
            if (element.kind === 'power') {
              const asked = element.voltAmperes[solution.state.loads];
              expect(Math.abs(magnitude(figures.volts) * magnitude(figures.amps) - asked)).toBeLessThan(1e-9);
              expect(magnitude(figures.volts)).toBeGreaterThanOrEqual(element.staysOnFrom * (1 - 1e-7));
            }
            if (element.kind === 'current') {
              expect(Math.abs(magnitude(figures.amps) - element.amps[solution.state.loads])).toBeLessThan(1e-12);
            }
            if (element.kind === 'bypass') expect(magnitude(figures.amps)).toBeLessThanOrEqual(element.opensAbove);
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  it('does not depend on the order of elements, to the last bit', () => {
    fc.assert(
      fc.property(
        anything.chain((elements) =>
          fc.tuple(fc.constant(elements), fc.shuffledSubarray(elements, { minLength: elements.length })),
        ),
        ([elements, shuffled]) => {
          const figures = (list: readonly CircuitElement[]) =>
            solutionsOf(list).map((s) => [s.problem, s.shorted, s.droppedOut, elements.map((e) => s.element(e.id))]);
          expect(figures(shuffled)).toEqual(figures(elements));
        },
      ),
      { numRuns: 100 },
    );
  });

  it('does not depend on names, to 1e-9', () => {
    const rename = (name: string): string => `x${9 - Number(name.slice(1))}`;
    fc.assert(
      fc.property(linearNetwork(8, 'AC'), (elements) => {
        const renamed = elements.map((e, i) => ({ ...e, id: `f${999 - i}`, a: rename(e.a), b: rename(e.b) }));
        const one = solved(elements);
        const two = solved(renamed);
        elements.forEach((element, i) => {
          const difference = subtract(one.element(element.id)!.volts, two.element(`f${999 - i}`)!.volts);
          expect(magnitude(difference)).toBeLessThan(1e-9 * 200);
        });
      }),
      { numRuns: 100 },
    );
  });
});

describe('linear networks', () => {
  it('superpose', () => {
    fc.assert(
      fc.property(linearNetwork(8, 'AC'), (elements) => {
        const together = solved(elements);
        const sources = elements.filter((e) => e.kind === 'source');
        const alone = sources.map((kept) =>
          solved(elements.map((e) => (e.kind === 'source' && e.id !== kept.id ? { ...e, volts: 0 } : e))),
        );
        for (const element of elements) {
          const sum = alone.map((s) => s.element(element.id)!.volts).reduce(add);
          expect(magnitude(subtract(together.element(element.id)!.volts, sum))).toBeLessThan(1e-9 * 200);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('scale', () => {
    fc.assert(
      fc.property(linearNetwork(6, 'DC'), (elements) => {
        const tripled = elements.map((e) => (e.kind === 'source' ? { ...e, volts: e.volts * 3 } : e));
        const one = solved(elements);
        const three = solved(tripled);
        for (const { id } of elements) {
          expect(Math.abs(three.element(id)!.volts.re - 3 * one.element(id)!.volts.re)).toBeLessThan(1e-9 * 200);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('never read more ohms for one more path (Rayleigh), and the same both ways', () => {
    fc.assert(
      fc.property(linearNetwork(7, 'DC'), fc.double({ min: 0.01, max: 100, noNaN: true }), (elements, ohms) => {
        const before = ohmsBetween({ elements }, 'n0', 'n6', [])!;
        const more = [...elements, z('more', 'n2', 'n5', ohms)];
        expect(ohmsBetween({ elements: more }, 'n0', 'n6', [])!).toBeLessThanOrEqual(before * (1 + 1e-12));
        expect(Math.abs(ohmsBetween({ elements }, 'n6', 'n0', [])! / before - 1)).toBeLessThan(1e-10);
      }),
      { numRuns: 150 },
    );
  });
});

describe('loads on a ladder', () => {
  it('lower each other’s volts, the more they ask', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 2, maxLength: 5 }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (asked, factor) => {
          const ladder = (scaled: number) =>
            solved([
              dc('s', 'n0', '0', 24, 0.5),
              ...asked.flatMap((w, i) => [
                z(`w${i}`, `n${i}`, `n${i + 1}`, 0.5),
                watts(`l${i}`, `n${i + 1}`, '0', i === 0 ? w * scaled : w, 5),
              ]),
            ]);
          const less = ladder(1);
          const more = ladder(factor);
          asked.forEach((_, i) => {
            expect(volts(more, `l${i}`)).toBeLessThanOrEqual(volts(less, `l${i}`) + 1e-10);
          });
        },
      ),
      { numRuns: 100 },
    );
  });
});

describe('a collapse', () => {
  it('tells the share at which there is just an operating point', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.5, max: 30, noNaN: true }), { minLength: 1, maxLength: 4 }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (asked, reactance) => {
          const ladder = (share: number) =>
            solved([
              ac('s', 'n0', '0', 24, { ohms: 2, reactance }),
              ...asked.flatMap((w, i) => [
                z(`w${i}`, `n${i}`, `n${i + 1}`, 0.5),
                watts(`l${i}`, `n${i + 1}`, '0', w * share),
              ]),
            ]).problem;
          const problem = ladder(1);
          if (problem === undefined) return;
          expect(problem.kind).toBe('collapses');
          const { available } = problem as { available: number };
          expect(available).toBeGreaterThan(0);
          expect(ladder(available * 0.9999)).toBeUndefined();
          expect(ladder(available * 1.0001)?.kind).toBe('collapses');
        },
      ),
      { numRuns: 150 },
    );
  });
});

describe('random garbage', () => {
  it('never gives NaN and never throws', () => {
    fc.assert(
      fc.property(garbage(6), (elements) => {
        const prepared = prepare({ elements });
        for (const circuit of prepared.circuits) {
          for (const state of statesOf(circuit)) {
            const solution = prepared.solve(circuit, state);
            for (const id of circuit.elements) {
              const figures = solution.element(id);
              if (figures === undefined) continue;
              expect(Number.isFinite(figures.volts.re + figures.volts.im)).toBe(true);
              if (figures.amps !== null) expect(Number.isFinite(figures.amps.re + figures.amps.im)).toBe(true);
            }
            const across = solution.between('n0', 'n1');
            if (across !== null) expect(Number.isFinite(across.re + across.im)).toBe(true);
          }
        }
        const ohms = ohmsBetween({ elements }, 'n0', 'n1', ['c1']);
        expect(ohms === null || ohms >= 0).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});
