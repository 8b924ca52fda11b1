// Elimination in blocks: against dense equations.
import { describe, expect, it } from 'vitest';
import { ComplexLu } from '../src/dense.js';
import { eliminationOf, NOWHERE } from '../src/elimination.js';
import { type CircuitElement, type CircuitState, magnitude, prepare, subtract } from '../src/index.js';
import { NodalSystem } from '../src/nodal.js';
import { drawn, type Given, grid, randomPairs, shuffled, someOf, topologyOf } from './graphs.js';
import { AT_REST, ac, contact, dc, watts, z } from './networks.js';

/** A system of equations in blocks and the same densely, both for one injected current, compared net by net. */
function compare(given: Given, isReal: boolean, random: () => number): void {
  const topology = topologyOf(given);
  const plan = eliminationOf(topology);
  const { nets, reference } = topology;
  const system = new NodalSystem(plan, nets, [], isReal);
  const dense = new ComplexLu(nets);
  const add = (x: number, y: number, re: number, im: number) => {
    if (reference[x] !== 1) dense.add(x, y, re, im);
  };
  given.pairs.forEach(([x, y], k) => {
    const re = 0.1 + random();
    const im = isReal ? 0 : -random();
    if (plan.entryOf[k] !== NOWHERE) system.enter(plan.entryOf[k]!, re, im);
    for (const [one, other] of [
      [x, y],
      [y, x],
    ] as const) {
      add(one, one, re, im);
      if (reference[other] !== 1) add(one, other, -re, -im);
    }
  });
  for (let net = 0; net < nets; net++) if (reference[net] === 1) dense.add(net, net, 1, 0);
  expect(system.factor()).toBe(-1);
  expect(dense.factor()).toBe(-1);
  const re = Float64Array.from({ length: nets }, (_, net) => (reference[net] === 1 ? 0 : random() - 0.5));
  const im = Float64Array.from({ length: nets }, (_, net) => (isReal || reference[net] === 1 ? 0 : random() - 0.5));
  const denseRe = re.slice();
  const denseIm = im.slice();
  dense.solve(denseRe, denseIm);
  system.solve(re, im, new Float64Array(0), new Float64Array(0));
  const scale = Math.max(...denseRe.map(Math.abs), ...denseIm.map(Math.abs));
  for (let net = 0; net < nets; net++) {
    expect(Math.abs(re[net]! - denseRe[net]!) + Math.abs(im[net]! - denseIm[net]!)).toBeLessThan(1e-11 * scale);
  }
}

describe('elimination in blocks', () => {
  const side = 18;
  const nets = side * side;

  it.each([true, false])('says what dense equations say of a grid (resistances alone: %s)', (isReal) => {
    compare({ nets, pairs: grid(side), reference: [0] }, isReal, drawn(1));
    compare({ nets, pairs: grid(side), reference: [5], pinned: [60, 61, 300], late: [100, 7, 250] }, isReal, drawn(2));
    compare({ nets, pairs: [...grid(side), ...grid(side)], reference: [5, 200, 201] }, isReal, drawn(3));
  });

  it.each([true, false])('says what dense equations say of random graphs (resistances alone: %s)', (isReal) => {
    for (let seed = 0; seed < 12; seed++) {
      const random = drawn(seed);
      const count = 80 + Math.floor(random() * 150);
      const ring = Array.from({ length: count }, (_, k) => [k, (k + 1) % count] as const);
      const pairs = [...ring, ...randomPairs(count, count * (1 + (seed % 4)), random)];
      const pinned = someOf(count, seed % 2 === 0 ? 0 : 0.05, random).filter((net) => net > 0);
      compare({ nets: count, pairs, reference: [0], pinned, late: someOf(count, 0.1, random) }, isReal, random);
    }
  });

  it.each([true, false])('says it of grids side by side between nets that stay (resistances alone: %s)', (isReal) => {
    const [small, staying] = [9, 12];
    const each = small * small;
    const count = 2 * each + staying;
    const pairs = [...grid(small), ...grid(small).map(([x, y]) => [x + each, y + each] as const)];
    for (let seed = 0; seed < 30; seed++) {
      const random = drawn(seed);
      const numbers = shuffled([...Array(count).keys()], random);
      const below = (most: number): number => Math.floor(random() * most);
      const pinned = Array.from({ length: staying }, (_, k) => 2 * each + k);
      // The first is joined to both grids, and each of the others to one at least, and to some of the rest: hardly two of them to the same.
      const ties = pinned.flatMap((net, k) => {
        const [one, other] = [random() < 0.5, random() < 0.3];
        const toFirst = one || other || k === 0 ? [[net, below(each)]] : [];
        const toSecond = !one || other || k === 0 ? [[net, each + below(each)]] : [];
        return [
          ...toFirst,
          ...toSecond,
          ...pinned.filter((far) => far < net && random() < 0.2).map((far) => [net, far]),
        ];
      });
      const own = [...pairs, ...ties].map(([x, y]) => [numbers[x!]!, numbers[y!]!] as const);
      const reference = [numbers[below(each)]!];
      compare({ nets: count, pairs: own, reference, pinned: pinned.map((net) => numbers[net]!) }, isReal, random);
    }
  });

  /** Wires in a grid from corner to corner, and a supply between these. */
  function meshOf(side: number, system: 'AC' | 'DC', ohms: (k: number) => number): CircuitElement[] {
    const far = `p${side * side - 1}`;
    const supply = system === 'AC' ? ac('s', 'p0', far, 24, { ohms: 0.1 }) : dc('s', 'p0', far, 24, 0.1);
    const wires = grid(side).map(([x, y], k) => z(`w${k}`, `p${x}`, `p${y}`, ohms(k), system === 'AC' ? k % 3 : 0));
    return [supply, ...wires];
  }

  const solve = (elements: readonly CircuitElement[], state: CircuitState = AT_REST) => {
    const prepared = prepare({ elements });
    return prepared.solve(prepared.circuitOf('p0')!, state);
  };

  it('balances in a large grid, which is cut in two again and again', () => {
    const large = 150;
    const solution = solve(meshOf(large, 'DC', () => 1));
    expect(solution.problem).toBeUndefined();
    // By symmetry all along the other diagonal is halfway between the corners.
    const half = solution.between('p0', `p${large * large - 1}`)!.re / 2;
    for (const x of [0, 40, 75, 149]) {
      expect(solution.between('p0', `p${x * large + large - 1 - x}`)!.re).toBeCloseTo(half, 10);
    }
  });

  it('says the same to the last digit in whatever order statements come', () => {
    const elements = meshOf(side, 'AC', (k) => 1 + (k % 7));
    const volts = (given: readonly CircuitElement[]) => {
      const solution = solve(given);
      return Array.from({ length: nets }, (_, net) => solution.between('p0', `p${net}`));
    };
    const first = volts(elements);
    for (const seed of [1, 2]) expect(volts(shuffled(elements, drawn(seed)))).toEqual(first);
  });

  it.each(['AC', 'DC'] as const)('gives a further state of a grid the volts that it has alone (%s)', (system) => {
    const elements = [
      ...meshOf(side, system, (k) => 1 + (k % 5)),
      contact('push', 'p7', 'c'),
      z('coil', 'c', 'p300', 5),
      contact('bridge', 'p40', 'p290'),
    ];
    const prepared = prepare({ elements });
    for (const closed of [[], ['push'], ['bridge'], ['push', 'bridge'], []]) {
      const state = { closed, loads: 'idle' } as const;
      const further = prepared.solve(prepared.circuitOf('p0')!, state);
      const alone = solve(elements, state);
      for (let net = 1; net < nets; net++) {
        const [one, other] = [further.between('p0', `p${net}`)!, alone.between('p0', `p${net}`)!];
        expect(magnitude(subtract(one, other))).toBeLessThan(24 * 1e-10);
      }
    }
  });

  it.each(['AC', 'DC'] as const)('brings loads all over a grid to the watts they ask for (%s)', (system) => {
    const loads = Array.from({ length: 40 }, (_, k) => watts(`l${k}`, `p${k + 2}`, `p${nets - 2 - 3 * k}`, 0.005));
    const solution = solve([...meshOf(side, system, (k) => 0.1 + (k % 5) / 50), ...loads]);
    expect([solution.problem, solution.droppedOut]).toEqual([undefined, []]);
    for (const { id } of loads) {
      const { volts, amps } = solution.element(id)!;
      expect(magnitude(volts!) * magnitude(amps!)).toBeCloseTo(0.005, 11);
    }
  });
});
