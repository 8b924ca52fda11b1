// Orders of elimination of graphs: against what elimination itself makes of them.
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dissect } from '../src/dissection.js';
import { type Graph, minimumDegree } from '../src/minimum-degree.js';
import { drawn, entriesByLeastDegree, grid, type Pairs, randomPairs } from './graphs.js';

function graphOf(nodes: number, pairs: Pairs): Graph {
  const lists = Array.from({ length: nodes }, () => new Set<number>());
  for (const [x, y] of pairs) {
    lists[x]!.add(y);
    lists[y]!.add(x);
  }
  const starts = new Int32Array(nodes + 1);
  lists.forEach((list, node) => {
    starts[node + 1] = starts[node]! + list.size;
  });
  return { starts, neighbours: Int32Array.from(lists.flatMap((list) => [...list].sort((x, y) => x - y))) };
}

/** Entries of elimination in an order, column by column along the elimination tree (Liu 1990). */
function entriesIn(graph: Graph, nodes: Int32Array): number {
  const places = new Int32Array(nodes.length);
  nodes.forEach((node, place) => {
    places[node] = place;
  });
  const columns: Set<number>[] = Array.from(nodes, () => new Set());
  let entries = 0;
  nodes.forEach((node, place) => {
    const own = columns[place]!;
    for (let k = graph.starts[node]!; k < graph.starts[node + 1]!; k++) own.add(places[graph.neighbours[k]!]!);
    for (const row of own) if (row <= place) own.delete(row);
    entries += own.size;
    if (own.size === 0) return;
    const next = Math.min(...own);
    for (const row of own) columns[next]!.add(row);
    columns[place] = new Set();
  });
  return entries;
}

describe.each([
  ['approximate minimum degree', minimumDegree],
  ['dissection', dissect],
] as const)('%s', (_, order) => {
  it('orders any graph, in groups joined to the same others', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 0, max: 7 }), fc.nat(), (nodes, per, seed) => {
        const graph = graphOf(nodes, randomPairs(nodes, (nodes * per) / 2, drawn(seed)));
        const ordered = order(graph);
        expect([...ordered.nodes].sort((x, y) => x - y)).toEqual([...Array(nodes).keys()]);
        expect(ordered.groups[0]).toBe(0);
        expect(ordered.groups.at(-1)).toBe(nodes);
        ordered.groups.forEach((start, k) => {
          if (k > 0) expect(start).toBeGreaterThan(ordered.groups[k - 1]!);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('makes hardly more entries in a grid than the least degree does, worked out net by net', () => {
    const pairs = grid(32);
    const graph = graphOf(1024, pairs);
    expect(entriesIn(graph, order(graph).nodes)).toBeLessThan(1.15 * entriesByLeastDegree(1024, pairs));
  });

  it('orders a complete graph, a path, a star, and thousands of parts that nothing joins', () => {
    const all: [number, number][] = [];
    for (let x = 0; x < 300; x++) for (let y = 0; y < x; y++) all.push([x, y]);
    const complete = graphOf(300, all);
    expect(entriesIn(complete, order(complete).nodes)).toBe((300 * 299) / 2);
    const path = graphOf(
      10_000,
      Array.from({ length: 9999 }, (_, k) => [k, k + 1] as const),
    );
    expect(entriesIn(path, order(path).nodes)).toBeLessThan(order === dissect ? 20_000 : 10_000);
    const star = graphOf(
      10_000,
      Array.from({ length: 9999 }, (_, k) => [0, k + 1] as const),
    );
    expect(entriesIn(star, order(star).nodes)).toBe(9999);
    const apart = graphOf(
      9000,
      Array.from({ length: 9000 }, (_, k) => [k, k - (k % 3) + ((k + 1) % 3)] as const),
    );
    expect(entriesIn(apart, order(apart).nodes)).toBe(9000);
  });
});
