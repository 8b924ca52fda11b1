// Blocks of a graph (Hopcroft and Tarjan, 1973): edges that share a closed loop, against a plain search for loops.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { blocksOf } from '../../src/judging/loops.js';

interface Link {
  readonly id: string;
  readonly a: string;
  readonly b: string;
}

function links(...pairs: readonly (readonly [string, string])[]): Link[] {
  return pairs.map(([a, b], index) => ({ id: String(index), a, b }));
}

/** Whether two edges share a simple loop: two paths from the ends of one to the ends of the other that meet nowhere. */
function shareLoop(edges: readonly Link[], one: Link, other: Link): boolean {
  const walk = (point: string, passed: ReadonlySet<string>, used: ReadonlySet<string>): boolean =>
    edges.some((edge) => {
      if (used.has(edge.id)) return false;
      const next = edge.a === point ? edge.b : edge.b === point ? edge.a : undefined;
      if (next === undefined) return false;
      const all = new Set([...used, edge.id]);
      if (next === one.a) return all.has(other.id);
      return !passed.has(next) && walk(next, new Set([...passed, next]), all);
    });
  return walk(one.b, new Set([one.a, one.b]), new Set([one.id]));
}

describe('blocks', () => {
  test('a lone edge and a tree have none', () => {
    expect(blocksOf(links(['a', 'b'])).size).toBe(0);
    expect(blocksOf(links(['a', 'b'], ['b', 'c'], ['b', 'd'])).size).toBe(0);
  });

  test('two edges between the same points are a loop', () => {
    const blocks = blocksOf(links(['a', 'b'], ['a', 'b'], ['b', 'c']));
    expect(blocks.get('0')).toBe(blocks.get('1'));
    expect(blocks.has('2')).toBe(false);
  });

  test('two loops that touch in one point are apart', () => {
    const blocks = blocksOf(links(['a', 'b'], ['b', 'c'], ['c', 'a'], ['a', 'd'], ['d', 'e'], ['e', 'a']));
    expect(new Set([0, 1, 2].map((id) => blocks.get(String(id)))).size).toBe(1);
    expect(blocks.get('0')).not.toBe(blocks.get('3'));
  });

  test('agree with a search for loops on small graphs', () => {
    const point = fc.constantFrom('a', 'b', 'c', 'd', 'e');
    const graph = fc
      .array(fc.tuple(point, point), { maxLength: 8 })
      .map((pairs) => links(...pairs.filter(([a, b]) => a !== b)));
    fc.assert(
      fc.property(graph, (edges) => {
        const blocks = blocksOf(edges);
        for (const one of edges) {
          for (const other of edges) {
            if (one === other) continue;
            const together = blocks.has(one.id) && blocks.get(one.id) === blocks.get(other.id);
            expect(together).toBe(shareLoop(edges, one, other));
          }
        }
      }),
      { numRuns: 200 },
    );
  });
});
