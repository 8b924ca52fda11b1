import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CircuitElement, prepare, statesOf } from '../src/index.js';
import { NameNumbers } from '../src/names.js';
import { ac, contact, dc, short, watts, wire, z } from './networks.js';

function hashOf(name: string): number {
  const numbers = new NameNumbers();
  numbers.put(name);
  return numbers.hash;
}

/** All that is said of a network, whatever the order in which its elements are given. */
function saidOf(elements: readonly CircuitElement[]): unknown {
  const prepared = prepare({ elements });
  return prepared.circuits.map((circuit) => {
    const { id, points, contacts, sources, system, hasPeak } = circuit;
    const described = { id, elements: circuit.elements, points, contacts, sources, system, hasPeak };
    const nets = points.map((point) => [prepared.netOf(point), prepared.circuitOf(point)!.id]);
    const solutions = statesOf(circuit).map((state) => {
      const solution = prepared.solve(circuit, state);
      const figures = circuit.elements.map((one) => solution.element(one));
      return [solution.problem, solution.shorted, solution.droppedOut, solution.cycling, figures];
    });
    return { described, nets, solutions, problems: prepared.problems };
  });
}

function saysTheSameInAnyOrder(elements: readonly CircuitElement[], runs = 20): void {
  const said = saidOf(elements);
  fc.assert(
    fc.property(fc.shuffledSubarray([...elements], { minLength: elements.length }), (shuffled) => {
      expect(saidOf(shuffled)).toEqual(said);
    }),
    { numRuns: runs },
  );
}

function many(count: number): readonly number[] {
  return Array.from({ length: count }, (_, k) => k);
}

/** Found by trying. */
const ONE_HASH = many(10).map((k) => [`wire-qw${'abcdefghij'[k]}`, `wire-47y${'qrstuvwxyz'[k]}`] as const);

describe('the order in which elements are given changes nothing, to the last bit', () => {
  it('where very many meet at two points', () => {
    const across = many(300).map((k) => z(`coil${k}`, 'p', 'q', 100 + k / 7, k % 3));
    saysTheSameInAnyOrder([ac('tx', 'p', 'q', 20, { ohms: 3 }), ...across]);
  });

  it('in a star of wires that end in loads', () => {
    const arms = many(80).flatMap((k) => [
      wire(`go${k}`, 'p', `m${k}`, 0.3 + k / 900),
      wire(`back${k}`, 'q', `n${k}`, 0.2),
      watts(`load${k}`, `m${k}`, `n${k}`, 0.1, 18),
    ]);
    saysTheSameInAnyOrder([ac('tx', 'p', 'q', 20, { ohms: 1 }), ...arms], 5);
  });

  it('in several circuits, of which some have no source', () => {
    const circuits = many(6).flatMap((k) => [
      ...(k % 2 === 0 ? [dc(`supply${k}`, `p${k}`, `q${k}`, 12, 1)] : []),
      wire(`a${9 - k}`, `p${k}`, `m${k}`, 0.7),
      short(`b${k}`, `m${k}`, `n${k}`),
      contact(`push${k}`, `n${k}`, `o${k}`),
      z(`coil${k}`, `o${k}`, `q${k}`, 11),
      z(`lamp${k}`, `n${k}`, `q${k}`, 1300),
    ]);
    saysTheSameInAnyOrder(circuits);
  });

  it('where one winding feeds another, each on a circuit of its own', () => {
    saysTheSameInAnyOrder([
      ac('mains', 'l', 'n', 120, { ohms: 0.1 }),
      ac('tx', 'a', 'b', 16, { ohms: 4, fedBy: { a: 'l', b: 'n', ratio: 16 / 120 } }),
      z('coil', 'a', 'b', 30, 20),
      z('bulb', 'l', 'n', 240),
    ]);
  });

  it('where ids are given twice', () => {
    const twice = [z('r', 'p', 'q', 5), short('r', 'q', 'p'), z('s', 'q', '0', 3), z('s', 'p', '0', 3)];
    saysTheSameInAnyOrder([dc('supply', 'p', '0', 12, 1), ...twice]);
  });

  it('where ids have one hash', () => {
    for (const [one, other] of ONE_HASH) expect(hashOf(one)).toBe(hashOf(other));
    const parallel = ONE_HASH.flat().map((id, k) => z(id, 'p', 'q', 0.1 + (k * k) / 7));
    saysTheSameInAnyOrder([dc('supply', 'p', 'q', 12, 1 / 3), z('first', 'p', 'q', 1.1), ...parallel]);
  });
});

describe('a network without elements', () => {
  it('has no circuits', () => {
    const prepared = prepare({ elements: [] });
    expect([prepared.circuits, prepared.problems, prepared.netOf('p'), prepared.circuitOf('p')]).toEqual([
      [],
      [],
      undefined,
      undefined,
    ]);
  });
});
