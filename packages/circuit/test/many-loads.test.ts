import { describe, expect, it } from 'vitest';
import { type CircuitElement, type PowerLoad, prepare, type Solution } from '../src/index.js';
import { ac, AT_REST, circuitOf, dc, solved, volts, watts, z } from './networks.js';

/** Loads along a cable of two conductors, as many as `count`, of `total` volt-amperes together. */
function alongCable(
  supply: CircuitElement,
  count: number,
  total: number,
  staysOnFrom: number,
  parent = (i: number) => i - 1,
): CircuitElement[] {
  const elements: CircuitElement[] = [supply];
  for (let i = 1; i <= count; i++) {
    elements.push(
      z(
        `go${i}`,
        `f${parent(i)}`,
        `f${i}`,
        0.5 / count,
        supply.kind === 'source' && supply.system === 'AC' ? 0.2 / count : 0,
      ),
    );
    elements.push(z(`back${i}`, `r${parent(i)}`, `r${i}`, 0.5 / count));
    elements.push(watts(`load${i}`, `f${i}`, `r${i}`, total / count, staysOnFrom));
  }
  return elements;
}

const SUPPLIES = {
  DC: dc('supply', 'f0', 'r0', 24, 0.01),
  AC: ac('supply', 'f0', 'r0', 24, { ohms: 0.01, reactance: 0.005 }),
  'ideal DC': dc('supply', 'f0', 'r0', 24),
};

function available({ problem }: Solution): number {
  return problem?.kind === 'collapses' ? problem.available : Number.NaN;
}

describe.each(Object.entries(SUPPLIES))('loads by the hundred on %s', (_, supply) => {
  it('draw what they ask at the share that is said to be had, and no operating point is found beyond it', () => {
    const share = available(solved(alongCable(supply, 200, 2000, 0)));
    expect(share).toBeGreaterThan(0.1);
    expect(share).toBeLessThan(0.3);
    const within = solved(alongCable(supply, 200, 2000 * (share - 1e-5), 0));
    expect(within.problem).toBeUndefined();
    for (const e of alongCable(supply, 200, 2000 * (share - 1e-5), 0)) {
      if (e.kind !== 'power') continue;
      const figures = within.element(e.id)!;
      const drawn = figures.volts.re * figures.amps!.re + figures.volts.im * figures.amps!.im;
      expect(drawn / (e as PowerLoad).voltAmperes.idle).toBeCloseTo(1, 9);
    }
    expect(solved(alongCable(supply, 200, 2000 * (share + 1e-4), 0)).problem?.kind).toBe('collapses');
  });

  it('have the operating point of as many ohms', () => {
    const elements = alongCable(supply, 60, 150, 1);
    const s = solved(elements);
    expect(s.problem).toBeUndefined();
    const asOhms = elements.map((e) =>
      e.kind === 'power' ? z(e.id, e.a, e.b, volts(s, e.id) ** 2 / e.voltAmperes.idle) : e,
    );
    const linear = solved(asOhms);
    for (const { id } of elements) expect(volts(s, id)).toBeCloseTo(volts(linear, id), 9);
  });

  it.each([3000, 3e6])(
    'come to an end by the thousand when they ask for %d VA',
    (total) => {
      for (const staysOnFrom of [0, 12]) {
        const elements = alongCable(supply, 2500, total, staysOnFrom, (i) => (i % 50 === 1 ? 0 : i - 1));
        const prepared = prepare({ elements });
        const start = process.cpuUsage();
        const s = prepared.solve(circuitOf(prepared, elements), AT_REST);
        const { user, system } = process.cpuUsage(start);
        expect((user + system) / 1000).toBeLessThan(10_000);
        if (s.problem === undefined) expect(Number.isFinite(volts(s, 'load2500'))).toBe(true);
        else expect(s.problem.kind).toBe('collapses');
      }
    },
    60_000,
  );
});

describe('loads by the hundred', () => {
  const around = (j: number): CircuitElement => z('around', 'f0', 'f150', 0.2, j);
  const [, ...cable] = alongCable(SUPPLIES.DC, 200, 20, 0);
  const inAc = (phase: number, j: number) => [ac('supply', 'f0', 'r0', 24, { ohms: 0.01, phase }), ...cable, around(j)];

  it.each([
    ['reactance', inAc(0, 0), inAc(0, 0.1)],
    ['a phase', inAc(0, 0), inAc(30, 0)],
  ])('have the same figures where a network like it differs in having %s', (_, without, having) => {
    for (const [first, second] of [
      [without, having],
      [having, without],
    ] as const) {
      const before = prepare({ elements: first });
      before.solve(circuitOf(before, first), AT_REST);
      const prepared = prepare({ elements: second }, before);
      const like = prepared.solve(circuitOf(prepared, second), AT_REST);
      const fresh = solved(second);
      expect([like.problem, like.droppedOut]).toEqual([fresh.problem, fresh.droppedOut]);
      for (const { id } of second) expect(like.element(id)).toEqual(fresh.element(id));
    }
  });
});
