// Elimination in blocks: against dense equations.
import { describe, expect, it } from 'vitest';
import { ComplexLu } from '../src/dense.js';
import { eliminationOf, NOWHERE } from '../src/elimination.js';
import { type CircuitElement, prepare } from '../src/index.js';
import { NodalSystem } from '../src/nodal.js';
import { drawn, type Given, grid, randomPairs, shuffled, someOf, topologyOf } from './graphs.js';

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

  it('balances in a large grid, which is cut in two again and again', () => {
    const large = 150;
    const elements: CircuitElement[] = grid(large).map(([x, y], k) => ({
      kind: 'impedance',
      id: `w${k}`,
      a: `p${x}`,
      b: `p${y}`,
      ohms: 1,
      reactance: 0,
      wire: false,
    }));
    const source = {
      kind: 'source',
      id: 's',
      system: 'DC',
      frequency: 0,
      volts: 10,
      phase: 0,
      ohms: 1,
      reactance: 0,
    } as const;
    elements.push({ ...source, a: 'p0', b: `p${large * large - 1}` });
    const prepared = prepare({ elements });
    const solution = prepared.solve(prepared.circuitOf('p0')!, { closed: [], loads: 'idle' });
    expect(solution.problem).toBeUndefined();
    // By symmetry all along the other diagonal is halfway between the corners.
    const half = solution.between('p0', `p${large * large - 1}`)!.re / 2;
    for (const x of [0, 40, 75, 149]) {
      expect(solution.between('p0', `p${x * large + large - 1 - x}`)!.re).toBeCloseTo(half, 10);
    }
  });

  it('says the same to the last digit in whatever order statements come', () => {
    const name = (net: number) => (net === 0 ? 'f' : net === nets - 1 ? 'r' : `p${net}`);
    const elements: CircuitElement[] = grid(side).map(([x, y], k) => ({
      kind: 'impedance',
      id: `w${k}`,
      a: name(x),
      b: name(y),
      ohms: 1 + (k % 7),
      reactance: k % 3,
      wire: false,
    }));
    elements.push({
      kind: 'source',
      id: 's',
      a: 'f',
      b: 'r',
      system: 'AC',
      frequency: 60,
      volts: 24,
      phase: 0,
      ohms: 0.1,
      reactance: 0,
    });
    const volts = (given: readonly CircuitElement[]) => {
      const prepared = prepare({ elements: given });
      const solution = prepared.solve(prepared.circuitOf('f')!, { closed: [], loads: 'idle' });
      return Array.from({ length: nets }, (_, net) => solution.between('f', name(net)));
    };
    const first = volts(elements);
    for (const seed of [1, 2]) expect(volts(shuffled(elements, drawn(seed)))).toEqual(first);
  });
});
