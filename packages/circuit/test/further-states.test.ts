import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type CircuitElement,
  type CircuitState,
  magnitude,
  type Phasor,
  type PreparedNetwork,
  prepare,
  statesOf,
  subtract,
} from '../src/index.js';
import { ac, contact, dc, short, wire, z } from './networks.js';

/** Long circuits and short ones: what is drawn says where buttons, coils and second supplies are along some cables. */
interface Drawn {
  readonly system: 'AC' | 'DC';
  readonly contacts: readonly { readonly from: number; readonly to: number; readonly normally: 'open' | 'closed' }[];
  readonly coils: readonly { readonly at: number; readonly ohms: number }[];
  readonly cut: number;
}

const LENGTH = 220;

const drawnOf = (length: number): fc.Arbitrary<Drawn> =>
  fc.record({
    system: fc.constantFrom('AC', 'DC'),
    contacts: fc.array(
      fc.record({
        from: fc.integer({ min: 1, max: length }),
        to: fc.integer({ min: 1, max: length }),
        normally: fc.constantFrom('open', 'closed'),
      }),
      { minLength: 1, maxLength: 5 },
    ),
    coils: fc.array(
      fc.record({ at: fc.integer({ min: 1, max: length }), ohms: fc.double({ min: 1, max: 100, noNaN: true }) }),
      { minLength: 1, maxLength: 30 },
    ),
    cut: fc.integer({ min: 2, max: length - 1 }),
  });

/** Two conductors with coils across them; at `cut` the one is broken by a button, and others bridge what they were drawn to bridge. */
function elementsOf({ system, contacts, coils, cut }: Drawn, length = LENGTH): CircuitElement[] {
  const x = system === 'AC' ? 0.4 : 0;
  const supply = system === 'AC' ? ac('s', 'f0', 'r0', 20, { ohms: 1, reactance: x }) : dc('s', 'f0', 'r0', 20, 1);
  const elements: CircuitElement[] = [supply];
  for (let i = 1; i <= length; i++) {
    elements.push(
      i === cut ? contact('cut', `f${i - 1}`, `f${i}`) : z(`f${i}`, `f${i - 1}`, `f${i}`, 0.01 + (i % 7) / 50, x / 20),
      z(`r${i}`, `r${i - 1}`, `r${i}`, 0.02, 0),
    );
  }
  coils.forEach(({ at, ohms }, k) => {
    elements.push(z(`coil${k}`, `f${at}`, `r${at}`, ohms, ohms * x));
  });
  contacts.forEach(({ from, to, normally }, k) => {
    elements.push(
      z(`load${k}`, `r${from}`, `c${k}`, 8, 5 * x),
      short(`joint${k}`, `c${k}`, `j${k}`),
      contact(`push${k}`, `j${k}`, `f${to}`, `push${k}`, normally),
    );
  });
  return elements;
}

function solvedAnew(elements: readonly CircuitElement[], state: CircuitState) {
  const prepared = prepare({ elements });
  return prepared.solve(prepared.circuits[0]!, state);
}

function expectSame(one: Phasor | null | undefined, other: Phasor | null | undefined, within: number): void {
  if (one === null || one === undefined || other === null || other === undefined) expect(one).toEqual(other);
  else expect(magnitude(subtract(one, other))).toBeLessThan(within);
}

const statesIn = (prepared: PreparedNetwork) => statesOf(prepared.circuits[0]!).slice(0, 12);

describe('a further state', () => {
  it.each([
    ['large', LENGTH],
    ['small', 9],
  ])('of a %s circuit has the figures that it has when it is solved alone', (_, length) => {
    fc.assert(
      fc.property(drawnOf(length), (plan) => {
        const elements = elementsOf(plan, length);
        const prepared = prepare({ elements });
        const states = statesIn(prepared);
        // All of them are solved before any is asked for figures, which small circuits would then be solved in full for.
        const solutions = states.map((state) => prepared.solve(prepared.circuits[0]!, state));
        for (const [k, state] of states.entries()) {
          const further = solutions[k]!;
          const alone = solvedAnew(elements, state);
          expect(further.problem).toEqual(alone.problem);
          for (const { id, a, b } of elements) {
            expectSame(further.between(a, b), alone.between(a, b), 20 * 1e-9);
            const [figures, expected] = [further.element(id)!, alone.element(id)!];
            expect([id, figures.on]).toEqual([id, expected.on]);
            expectSame(figures.volts, expected.volts, 20 * 1e-9);
            expectSame(figures.amps, expected.amps, 20 * 1e-9);
          }
          expectSame(further.between('f0', 'r9'), alone.between('f0', 'r9'), 20 * 1e-9);
          expectSame(further.between('c0', 'r0'), alone.between('c0', 'r0'), 20 * 1e-9);
        }
      }),
      { numRuns: 8 },
    );
  });

  it('keeps its figures while others are asked for theirs', () => {
    const elements = elementsOf({
      system: 'AC',
      contacts: [{ from: 100, to: 7, normally: 'open' }],
      coils: [{ at: LENGTH, ohms: 12 }],
      cut: 50,
    });
    const prepared = prepare({ elements });
    const states = statesIn(prepared);
    const solutions = states.map((state) => prepared.solve(prepared.circuits[0]!, state));
    const first = solutions.map((solution) => solution.between('f60', 'r60'));
    const again = [...solutions].reverse().map((solution) => solution.between('f60', 'r60'));
    expect(again.reverse()).toEqual(first);
    expect(new Set(first.map((volts) => JSON.stringify(volts))).size).toBeGreaterThan(2);
  });

  it('names the supply that a contact shorts', () => {
    const wires = Array.from({ length: 500 }, (_, i) => wire(`w${i}`, `p${i}`, `p${i + 1}`, 0.01));
    const elements = [ac('s', 'p0', 'q', 20, { ohms: 5 }), ...wires, contact('k', 'p500', 'q'), z('r', 'p250', 'q', 9)];
    const prepared = prepare({ elements });
    const [atRest, made] = statesIn(prepared).map((state) => prepared.solve(prepared.circuits[0]!, state));
    expect(atRest?.shorted).toEqual([]);
    expect(made?.shorted[0]?.source).toBe('s');
    expect(made?.shorted[0]?.path).toHaveLength(501);
    expect(magnitude(made!.element('s')!.amps!)).toBeGreaterThan(1.9);
  });
});

describe('a network made ready like another', () => {
  const plan: Drawn = {
    system: 'AC',
    contacts: [{ from: 30, to: 60, normally: 'closed' }],
    coils: [{ at: 90, ohms: 20 }],
    cut: 70,
  };
  const elements = elementsOf(plan);
  const warm = elements.map((e) => (e.kind === 'impedance' ? { ...e, ohms: e.ohms * 1.2 } : e));

  it('has the figures that it has when it is made ready alone, to the last bit', () => {
    const first = prepare({ elements });
    first.solve(first.circuits[0]!, { closed: ['cut'], loads: 'idle' });
    const like = prepare({ elements: warm }, first);
    const alone = prepare({ elements: warm });
    for (const state of statesIn(alone)) {
      const one = like.solve(like.circuits[0]!, state);
      const other = alone.solve(alone.circuits[0]!, state);
      for (const { id } of warm) expect(one.element(id)).toEqual(other.element(id));
    }
  });

  it('is made ready anew when anything but figures differs', () => {
    const first = prepare({ elements });
    const moved = warm.map((e) => (e.id === 'coil0' ? { ...e, b: 'r10' } : e));
    for (const other of [moved, warm.slice(1), [...warm, z('more', 'f1', 'r1', 3)]]) {
      const like = prepare({ elements: other }, first);
      const alone = prepare({ elements: other });
      expect(like.circuits).toEqual(alone.circuits);
      expect(like.circuitOf('f1')?.elements).toEqual(alone.circuitOf('f1')?.elements);
      const state = { closed: ['cut'], loads: 'idle' } as const;
      const figures = (p: PreparedNetwork) => p.circuits.map((circuit) => p.solve(circuit, state).element('coil0'));
      expect(figures(like)).toEqual(figures(alone));
    }
  });

  it('finds anew what a load hangs on where figures make a capacitor block', () => {
    const behind = (system: 'AC' | 'DC', reactance: number): CircuitElement[] => [
      { kind: 'source', id: 's', a: 'p', b: 'r', system, frequency: 60, volts: 24, phase: 0, ohms: 1, reactance: 0 },
      { kind: 'power', id: 'l', a: 'p', b: 'z', voltAmperes: { idle: 1, peak: 1 }, powerFactor: 1, staysOnFrom: 20 },
      { kind: 'impedance', id: 'c', a: 'z', b: 'r', ohms: 10, reactance, wire: false },
    ];
    const said = (prepared: PreparedNetwork) => {
      const solution = prepared.solve(prepared.circuits[0]!, { closed: [], loads: 'idle' });
      return { off: solution.droppedOut, volts: solution.between('z', 'r'), load: solution.element('l') };
    };
    for (const [before, after] of [
      [behind('AC', -200), behind('DC', -200)],
      [behind('DC', 200), behind('DC', -200)],
      [behind('DC', -200), behind('AC', -200)],
    ]) {
      const first = prepare({ elements: before! });
      said(first);
      expect(said(prepare({ elements: after! }, first))).toEqual(said(prepare({ elements: after! })));
    }
  });

  it('finds bad figures anew', () => {
    const first = prepare({ elements });
    const bad = elements.map((e) => (e.id === 'coil0' ? { ...e, ohms: -1 } : e)) as CircuitElement[];
    expect(prepare({ elements: bad }, first).problems).toEqual([
      { kind: 'bad-figure', element: 'coil0', what: 'ohms is negative' },
    ]);
    expect(prepare({ elements }, prepare({ elements: bad })).problems).toEqual([]);
  });
});
