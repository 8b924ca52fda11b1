// The order of elimination, and elimination in blocks: against what elimination itself makes of a graph, and against dense equations.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ComplexLu } from '../src/dense.js';
import { type Elimination, eliminationOf, NOWHERE, type Topology } from '../src/elimination.js';
import { NodalSystem } from '../src/nodal.js';
import { type CircuitElement, prepare } from '../src/index.js';

type Pairs = readonly (readonly [number, number])[];

interface Given {
  readonly nets: number;
  readonly pairs: Pairs;
  readonly reference?: readonly number[];
  readonly pinned?: readonly number[];
  readonly late?: readonly number[];
}

function topologyOf({ nets, pairs, reference = [], pinned = [], late = [] }: Given): Topology {
  const flags = (of: readonly number[]) => {
    const all = new Uint8Array(nets);
    for (const net of of) all[net] = 1;
    return all;
  };
  return {
    nets,
    reference: flags(reference),
    pinned: flags(pinned),
    late: late.length === 0 ? new Uint8Array(0) : flags(late),
    from: Int32Array.from(pairs, ([x]) => x),
    to: Int32Array.from(pairs, ([, y]) => y),
  };
}

function grid(width: number, height = width): Pairs {
  const pairs: [number, number][] = [];
  for (let x = 0; x < width; x++) {
    for (let y = 0; y < height; y++) {
      if (x + 1 < width) pairs.push([x * height + y, (x + 1) * height + y]);
      if (y + 1 < height) pairs.push([x * height + y, x * height + y + 1]);
    }
  }
  return pairs;
}

/** Numbers from 0 up to 1, the same in every run. */
function drawn(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 4_294_967_296;
  };
}

function shuffled<T>(list: readonly T[], random: () => number): T[] {
  const all = [...list];
  for (let k = all.length - 1; k > 0; k--) {
    const other = Math.floor(random() * (k + 1));
    [all[k], all[other]] = [all[other]!, all[k]!];
  }
  return all;
}

const columnOf = ({ starts, rows }: Elimination, position: number) =>
  rows.subarray(starts[position]!, starts[position + 1]!);

/** Holds a plan to all that it promises. */
function check(topology: Topology, plan: Elimination): void {
  const { nets, reference, pinned, late, from, to } = topology;
  const positionOf = new Int32Array(nets).fill(-1);
  plan.netAt.forEach((net, position) => {
    expect(positionOf[net]).toBe(-1);
    positionOf[net] = position;
  });
  expect(plan.netAt.length).toBe(plan.size);
  for (let net = 0; net < nets; net++) {
    const position = positionOf[net]!;
    if (reference[net] === 1) expect(position).toBe(-1);
    else if (pinned[net] === 1) expect(position).toBeGreaterThanOrEqual(plan.eliminated);
    else expect(position >= 0 && position < plan.eliminated).toBe(true);
    if (late[net] === 1 && reference[net] !== 1) expect(position).toBeGreaterThanOrEqual(plan.early);
  }
  expect(plan.early).toBeLessThanOrEqual(plan.eliminated);
  if (late.length === 0) expect(plan.early).toBe(plan.eliminated);
  const has = new Int32Array(plan.size).fill(-1);
  let faults = 0;
  for (let position = 0; position < plan.size; position++) {
    const own = columnOf(plan, position);
    own.forEach((row, k) => {
      if (row <= (k === 0 ? position : own[k - 1]!) || row >= plan.size) faults++;
    });
    if (position >= plan.eliminated) continue;
    // What a net is joined to is joined among itself afterwards: the first of it to all others, and so on along the columns.
    const holders = own.length === 0 ? [] : own[0]! < plan.eliminated ? [own[0]!] : [...own];
    for (const holder of holders) {
      for (const row of columnOf(plan, holder)) has[row] = holder;
      for (const row of own) if (row > holder && has[row] !== holder) faults++;
    }
  }
  expect(faults).toBe(0);
  plan.entryOf.forEach((entry, k) => {
    const x = positionOf[from[k]!]!;
    const y = positionOf[to[k]!]!;
    if (x < 0 && y < 0) expect(entry).toBe(NOWHERE);
    else if (x < 0 || y < 0) expect(entry).toBe(-1 - Math.max(x, y));
    else {
      if (plan.rows[entry] !== Math.max(x, y)) faults++;
      if (entry < plan.starts[Math.min(x, y)]! || entry >= plan.starts[Math.min(x, y) + 1]!) faults++;
    }
  });
  expect(faults).toBe(0);
}

function planned(given: Given): Elimination {
  const topology = topologyOf(given);
  const plan = eliminationOf(topology);
  check(topology, plan);
  return plan;
}

/** Entries and products of elimination in a plan's order. */
function costOf(plan: Elimination): { readonly entries: number; readonly products: number; readonly depth: number } {
  let products = 0;
  let depth = 0;
  const depths = new Int32Array(plan.size).fill(1);
  for (let position = 0; position < plan.size; position++) {
    const column = columnOf(plan, position);
    products += (column.length * (column.length + 1)) / 2;
    depth = Math.max(depth, depths[position]!);
    if (column.length > 0) depths[column[0]!] = Math.max(depths[column[0]!]!, depths[position]! + 1);
  }
  return { entries: plan.rows.length, products, depth };
}

/** Entries that taking out a net with the fewest neighbours, again and again, makes: gone through net by net. */
function entriesByLeastDegree(nets: number, pairs: Pairs): number {
  const joined = Array.from({ length: nets }, () => new Set<number>());
  for (const [x, y] of pairs) {
    joined[x]!.add(y);
    joined[y]!.add(x);
  }
  const left = new Set(joined.keys());
  let entries = 0;
  while (left.size > 0) {
    let least = -1;
    for (const net of left) if (least < 0 || joined[net]!.size < joined[least]!.size) least = net;
    left.delete(least);
    entries += joined[least]!.size;
    for (const one of joined[least]!) {
      joined[one]!.delete(least);
      for (const other of joined[least]!) if (one !== other) joined[one]!.add(other);
    }
  }
  return entries;
}

function randomPairs(nets: number, count: number, random: () => number): Pairs {
  const pairs: [number, number][] = [];
  for (let k = 0; k < count; k++) {
    const x = Math.floor(random() * nets);
    const y = Math.floor(random() * nets);
    if (x !== y) pairs.push([x, y]);
  }
  return pairs;
}

function someOf(nets: number, share: number, random: () => number): number[] {
  return [...Array(nets).keys()].filter(() => random() < share);
}

describe('the order of elimination', () => {
  it('makes no more entries and products in a grid than nested dissection is proved to (George 1973)', () => {
    for (const side of [20, 60, 120]) {
      const nets = side * side;
      const { entries, products } = costOf(planned({ nets, pairs: grid(side) }));
      expect(entries).toBeLessThan(0.6 * (31 / 4) * nets * Math.log2(nets));
      expect(products).toBeLessThan(10 * nets ** 1.5);
    }
  });

  it('makes hardly more entries in a grid than the least degree does, worked out net by net', () => {
    for (const [width, height] of [
      [16, 16],
      [30, 30],
      [10, 60],
    ] as const) {
      const pairs = grid(width, height);
      const { entries } = costOf(planned({ nets: width * height, pairs }));
      expect(entries).toBeLessThan(1.15 * entriesByLeastDegree(width * height, pairs));
    }
  });

  it('puts what is left of a grid in blocks of columns with the same rows', () => {
    const plan = planned({ nets: 3600, pairs: grid(60) });
    expect(plan.blocksFrom).toBeLessThan(plan.eliminated);
    let blocks = 1;
    for (let position = plan.blocksFrom + 1; position < plan.eliminated; position++) {
      const before = columnOf(plan, position - 1);
      if (before[0] !== position || columnOf(plan, position).length !== before.length - 1) blocks++;
    }
    expect(blocks).toBeLessThan((plan.eliminated - plan.blocksFrom) / 3);
  });

  it('makes no entries beyond those given in a path, a star and a tree', () => {
    const nets = 10_000;
    const random = drawn(3);
    for (const parent of [(net: number) => net - 1, () => 0, (net: number) => Math.floor(random() * net)]) {
      const pairs = Array.from({ length: nets - 1 }, (_, k) => [parent(k + 1), k + 1] as const);
      expect(planned({ nets, pairs }).rows.length).toBe(nets - 1);
    }
  });

  it('takes a ring apart from all along it, so that no net depends on many others', () => {
    const nets = 10_000;
    const { entries, depth } = costOf(
      planned({ nets, pairs: Array.from({ length: nets }, (_, k) => [k, (k + 1) % nets]) }),
    );
    expect(entries).toBeLessThan(2 * nets);
    expect(depth).toBeLessThan(40);
  });

  it('takes the points of a wheel out one by one, whatever its hub is joined to', () => {
    const nets = 10_001;
    const rim = nets - 1;
    const pairs = Array.from(
      { length: rim },
      (_, k) =>
        [
          [k, (k + 1) % rim],
          [k, rim],
        ] as const,
    ).flat();
    expect(costOf(planned({ nets, pairs })).entries).toBeLessThan(3.1 * nets);
  });

  it('leaves hubs to the end of a grid that hangs at them', () => {
    const side = 40;
    const nets = side * side + 2;
    const hubs = [nets - 2, nets - 1];
    const feeds = Array.from({ length: nets - 2 }, (_, net) => [net, hubs[net % 2]!] as const);
    const plan = planned({ nets, pairs: [...grid(side), ...feeds] });
    expect([...plan.netAt.subarray(nets - 20)]).toEqual(expect.arrayContaining(hubs));
  });

  it('knows a complete graph, an empty one, and parts that nothing joins', () => {
    const nets = 120;
    const all: [number, number][] = [];
    for (let x = 0; x < nets; x++) for (let y = 0; y < x; y++) all.push([x, y]);
    expect(planned({ nets, pairs: all }).rows.length).toBe((nets * (nets - 1)) / 2);
    expect(planned({ nets: 50, pairs: [] }).rows.length).toBe(0);
    expect(planned({ nets: 0, pairs: [] }).size).toBe(0);
    const apart = [0, 400, 800].flatMap((from) => grid(20).map(([x, y]) => [from + x, from + y] as const));
    planned({ nets: 1300, pairs: apart, reference: [0, 799] });
  });

  it('keeps its promises for any graph with nets at zero volts, pinned ones and late ones', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 0, max: 9 }), fc.nat(), (nets, per, seed) => {
        const random = drawn(seed);
        const share = () => [0, 0.02, 0.3][Math.floor(random() * 3)]!;
        planned({
          nets,
          pairs: randomPairs(nets, (nets * per) / 2, random),
          reference: someOf(nets, share(), random),
          pinned: someOf(nets, share(), random),
          late: someOf(nets, share(), random),
        });
      }),
      { numRuns: 150 },
    );
  });

  it('eliminates nothing that a late net does not need after the first late one', () => {
    const side = 40;
    const late = [0, 1, 2, side, side + 1];
    const plan = planned({ nets: side * side, pairs: grid(side), late });
    expect(plan.hasLate).toBe(true);
    // What comes after is what the late ones are joined to at last: a path to the end for each, not the whole grid.
    expect(plan.eliminated - plan.early).toBeLessThan((side * side) / 4);
  });
});

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
