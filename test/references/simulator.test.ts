// Held against eecircuit-engine (ngspice compiled to WebAssembly): the solver's volts at every point, in every kind of network and state.
import { describe, expect, it } from 'vitest';
import {
  type CircuitElement,
  type CircuitState,
  magnitude,
  type Phasor,
  prepare,
  type Solution,
  statesOf,
  subtract,
} from '../../packages/circuit/src/index.js';
import { balanceOf } from './balance.js';
import { writtenInParts } from './complex-parts.js';
import { drawCircuit, FREQUENCY } from './random-circuits.js';
import { type Reference, Simulator, written } from './simulator.js';

const simulator = new Simulator();

interface Tally {
  compared: number;
  withoutReference: number;
  collapsed: number;
  worst: number;
}

/** The largest difference from the reference, as a share of the highest volts. */
function difference(
  solution: Solution,
  reference: NonNullable<Reference>,
  points: ReadonlyMap<string, string>,
): number {
  const grounds = [...points].filter(([, name]) => name === '0').map(([point]) => point);
  let highest = 1e-9;
  let worst = 0;
  for (const [point, volts] of reference) {
    const mine = grounds.map((ground) => solution.between(point, ground)).find((found) => found !== null);
    expect(mine, point).toBeDefined();
    worst = Math.max(worst, magnitude(subtract(mine as Phasor, volts)));
    highest = Math.max(highest, magnitude(volts));
  }
  return worst / highest;
}

async function holdAgainst(elements: readonly CircuitElement[], states: number, tally: Tally): Promise<void> {
  const frequency = elements.some((e) => e.kind === 'source' && e.system === 'AC') ? FREQUENCY : 0;
  const prepared = prepare({ elements });
  const circuit = prepared.circuitOf('f0')!;
  const all = statesOf(circuit);
  const step = Math.max(1, Math.floor(all.length / states));
  for (const state of all.filter((_, i) => i % step === 0).slice(0, states)) {
    const solution = prepared.solve(circuit, state);
    if (solution.problem !== undefined) {
      expect(solution.problem.kind).toBe('collapses');
      tally.collapsed++;
      continue;
    }
    const hasLoads = elements.some(({ kind }) => kind === 'power' || kind === 'current');
    const settings = { state, solution, frequency };
    const inParts = hasLoads && frequency > 0;
    const network = inParts ? writtenInParts(elements, settings) : written(elements, settings);
    const reference = await (inParts ? simulator.inParts(network) : simulator.linear({ ...network, frequency }));
    if (reference === undefined) {
      tally.withoutReference++;
      expect(balanceOf(elements, solution)).toBeLessThan(1e-9);
      continue;
    }
    tally.compared++;
    tally.worst = Math.max(tally.worst, difference(solution, reference, network.points));
  }
}

function report(what: string, { compared, withoutReference, collapsed, worst }: Tally): void {
  const alone = withoutReference > 0 ? `, ${withoutReference} where it failed (current balance checked instead)` : '';
  const none = collapsed > 0 ? `, ${collapsed} without an operating point` : '';
  console.info(`${what}: ${compared} solutions against the simulator${alone}${none}; worst ${worst.toExponential(1)}`);
}

/** Of small networks every state is held, up to so many. */
const EVERY = 64;

/** Each of three contacts actuated or not. */
const STATES_OF_THREE_CONTACTS = 8;

const SIZES = [
  { points: 5, seeds: 6, states: EVERY },
  { points: 20, seeds: 5, states: EVERY },
  { points: 100, seeds: 3, states: EVERY },
  { points: 500, seeds: 1, states: 2 },
  { points: 2000, seeds: 1, states: 2 },
];

describe.each(['DC', 'AC'] as const)('ohmic networks on %s', (system) => {
  it.each(SIZES)('of $points points agree to 1e-9 of the highest volts', async ({ points, seeds, states }) => {
    const tally: Tally = { compared: 0, withoutReference: 0, collapsed: 0, worst: 0 };
    for (let seed = 1; seed <= seeds; seed++) {
      await holdAgainst(drawCircuit({ system, points, seed: 1000 * points + seed, loads: false }), states, tally);
    }
    report(`${system}, ${points} points`, tally);
    expect(tally.compared).toBeGreaterThan(tally.withoutReference);
    expect(tally.worst).toBeLessThan(1e-9);
    if (states === EVERY) expect(tally.compared + tally.withoutReference).toBe(seeds * STATES_OF_THREE_CONTACTS);
  });
});

describe.each(['DC', 'AC'] as const)(
  'large networks without anything but wire, coils, buttons and supplies on %s',
  (system) => {
    it('agree in every state, of which all but the first are worked out from what they share', async () => {
      const tally: Tally = { compared: 0, withoutReference: 0, collapsed: 0, worst: 0 };
      const plain = drawCircuit({ system, points: 600, seed: 99, loads: false }).flatMap((e): CircuitElement[] => {
        if (e.kind === 'bypass' || (e.kind === 'source' && e.fedBy !== undefined)) return [];
        if (e.kind === 'source') return [{ ...e, ohms: Math.max(e.ohms, 0.01) }];
        return e.kind === 'impedance' && e.reactance < 0 ? [] : [e];
      });
      const inIt = new Set(prepare({ elements: plain }).circuitOf('f0')!.elements);
      const elements = plain.filter(({ id }) => inIt.has(id));
      expect(elements.length).toBeGreaterThan(600);
      await holdAgainst(elements, EVERY, tally);
      report(`plain ${system}, 600 points`, tally);
      expect(tally.compared).toBe(STATES_OF_THREE_CONTACTS);
      expect(tally.worst).toBeLessThan(1e-9);
    });
  },
);

describe.each(['DC', 'AC'] as const)('constant-power and constant-current loads on %s', (system) => {
  it.each(SIZES.filter(({ points }) => system === 'DC' || points <= 500))(
    'of $points points agree to 1e-6 of the highest volts',
    async ({ points, seeds, states }) => {
      const tally: Tally = { compared: 0, withoutReference: 0, collapsed: 0, worst: 0 };
      for (let seed = 1; seed <= seeds; seed++) {
        await holdAgainst(drawCircuit({ system, points, seed: 7000 * points + seed, loads: true }), states, tally);
      }
      report(`loads on ${system}, ${points} points`, tally);
      expect(tally.compared).toBeGreaterThan(0);
      expect(tally.worst).toBeLessThan(1e-6);
      const held = tally.compared + tally.withoutReference + tally.collapsed;
      if (states === EVERY) expect(held).toBe(2 * seeds * STATES_OF_THREE_CONTACTS);
    },
  );
});

describe('where the simulator has no answer or a wrong one', () => {
  const AT_REST: CircuitState = { closed: [], loads: 'idle' };
  const battery = (id: string, a: string, b: string, volts: number, ohms = 0): CircuitElement => ({
    kind: 'source',
    id,
    a,
    b,
    system: 'DC',
    frequency: 0,
    volts,
    phase: 0,
    ohms,
    reactance: 0,
  });
  const resistor = (id: string, a: string, b: string, ohms: number): CircuitElement => ({
    kind: 'impedance',
    id,
    a,
    b,
    ohms,
    reactance: 0,
    wire: false,
  });
  const solve = (elements: readonly CircuitElement[]): Solution => {
    const prepared = prepare({ elements });
    return prepared.solve(prepared.circuitOf(elements[0]!.a)!, AT_REST);
  };

  it('hangs free: it says 0 V, the solver that there is no answer', async () => {
    const elements = [
      battery('s', 'a', '0', 12, 1),
      { kind: 'contact', id: 'c', a: 'a', b: 'x', contact: 'c', normally: 'open' } as const,
      resistor('r', 'x', 'y', 5),
    ];
    const values = await simulator.run(['v1 a 0 dc 12', 'r1 x y 5', '.op'], ['v(a)']);
    expect(values?.get('v(x)')?.[0]?.re ?? 0).toBe(0);
    expect(solve(elements).between('a', 'x')).toBeNull();
  });

  it('fails on ideal sources that contradict one another, which the solver names', async () => {
    const values = await simulator.run(['v1 a 0 dc 12', 'v2 a 0 dc 13', 'r1 a 0 5', '.op'], ['v(a)']);
    expect(values).toBeUndefined();
    expect(
      solve([battery('s1', 'a', '0', 12), battery('s2', 'a', '0', 13), resistor('r', 'a', '0', 5)]).problem,
    ).toEqual({
      kind: 'ideal-sources-parallel',
      sources: ['s1', 's2'],
    });
  });

  it('writes 0 ohm as a small resistance, where the solver merges both ends', async () => {
    const values = await simulator.run(['v1 a 0 dc 10', 'r1 a b 0', 'r2 b c 1e-5', 'r3 c 0 1', '.op'], ['v(b)']);
    expect(Math.abs((values?.get('v(b)')?.[0]?.re ?? 10) - 10)).toBeLessThan(1e-2);
    const solution = solve([
      battery('s', 'a', '0', 10),
      resistor('r1', 'a', 'b', 0),
      resistor('r2', 'b', 'c', 1e-5),
      resistor('r3', 'c', '0', 1),
    ]);
    expect(solution.between('a', 'b')).toEqual({ re: 0, im: 0 });
    expect(solution.element('r1')?.amps?.re).toBeCloseTo(10 / 1.00001, 9);
  });

  it('has an operating point just below the most that can be had, and none above', async () => {
    const asks = (watts: number): CircuitElement[] => [
      battery('s', 'a', '0', 16, 2),
      {
        kind: 'power',
        id: 'l',
        a: 'a',
        b: '0',
        voltAmperes: { idle: watts, peak: watts },
        powerFactor: 1,
        staysOnFrom: 0,
      },
    ];
    const below = await simulator.run(
      ['v1 e 0 dc 16', 'r1 e a 2', 'b1 a 0 i=31.9/v(a)', '.nodeset v(a)=9', '.op'],
      ['v(a)'],
    );
    expect(solve(asks(31.9)).element('l')?.volts.re).toBeCloseTo(below!.get('v(a)')![0]!.re, 6);
    expect(solve(asks(32.001)).problem?.kind).toBe('collapses');
  });
});
