// The order of elimination: against what elimination itself makes of a graph.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Elimination, eliminationOf, NOWHERE, type Topology } from '../src/elimination.js';
import { drawn, entriesByLeastDegree, type Given, grid, randomPairs, someOf, topologyOf } from './graphs.js';

const columnOf = ({ starts, rows }: Elimination, position: number) =>
  rows.subarray(starts[position]!, starts[position + 1]!);

/** Holds a plan to all that it promises. */
function check(topology: Topology, plan: Elimination): void {
  const { nets, reference, pinned, late, from, to } = topology;
  const positionOf = new Int32Array(nets).fill(-1);
  let faults = 0;
  plan.netAt.forEach((net, position) => {
    if (positionOf[net] !== -1) faults++;
    positionOf[net] = position;
  });
  expect(plan.netAt.length).toBe(plan.size);
  for (let net = 0; net < nets; net++) {
    const position = positionOf[net]!;
    if (reference[net] === 1) {
      if (position !== -1) faults++;
      continue;
    }
    if (pinned[net] === 1 ? position < plan.eliminated : position < 0 || position >= plan.eliminated) faults++;
    if (late[net] === 1 && position < plan.early) faults++;
  }
  expect(plan.early).toBeLessThanOrEqual(plan.eliminated);
  if (late.length === 0) expect(plan.early).toBe(plan.eliminated);
  const has = new Int32Array(plan.size).fill(-1);
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
  plan.entryOf.forEach((entry, k) => {
    const x = positionOf[from[k]!]!;
    const y = positionOf[to[k]!]!;
    const first = Math.min(x, y);
    const last = Math.max(x, y);
    if (last < 0) faults += entry === NOWHERE ? 0 : 1;
    else if (first < 0) faults += entry === -1 - last ? 0 : 1;
    else if (plan.rows[entry] !== last || entry < plan.starts[first]! || entry >= plan.starts[first + 1]!) faults++;
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

describe('the order of elimination', () => {
  it('makes no more entries and products in a grid than nested dissection is proved to (George 1973)', () => {
    for (const side of [20, 60, 150]) {
      const nets = side * side;
      const { entries, products } = costOf(planned({ nets, pairs: grid(side) }));
      expect(entries).toBeLessThan(0.6 * (31 / 4) * nets * Math.log2(nets));
      expect(products).toBeLessThan((side < 150 ? 10 : 6) * nets ** 1.5);
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
