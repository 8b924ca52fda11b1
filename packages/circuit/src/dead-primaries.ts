/** Windings whose primary is cut off: nothing can flow in it, and nothing else excites it. */

import type { Layout, Nets } from './layout.js';
import { UnionFind } from './union-find.js';

/**
 * The fed windings whose primary lies in no loop and whose own side has no other source; windings of one primary count as one. Such a primary
 * has no volts: without the little that excites a real core, the equations would leave them open.
 */
export function deadPrimaries(layout: Layout, nets: Nets, conducts: (e: number) => boolean): readonly number[] {
  const fed = layout.sources.filter((e) => layout.fedA[e]! >= 0);
  if (fed.length === 0) return [];
  const without = new UnionFind(nets.count);
  for (let e = 0; e < layout.kind.length; e++) {
    if (conducts(e)) without.join(nets.netOf[layout.a[e]!]!, nets.netOf[layout.b[e]!]!);
  }
  const sideOf = (e: number): number => without.find(nets.netOf[layout.a[e]!]!);
  const endsOf = (e: number): readonly [number, number] => {
    const from = without.find(nets.netOf[layout.fedA[e]!]!);
    const to = without.find(nets.netOf[layout.fedB[e]!]!);
    return from < to ? [from, to] : [to, from];
  };
  const primaries = new Map<string, number[]>();
  for (const e of fed) {
    const key = endsOf(e).join();
    primaries.set(key, [...(primaries.get(key) ?? []), e]);
  }
  return [...primaries.values()]
    .filter((windings) => {
      const [from, to] = endsOf(windings[0]!);
      if (from === to) return false;
      const sides = new Set(windings.map(sideOf));
      if (layout.sources.some((e) => sides.has(sideOf(e)) && !windings.includes(e))) return false;
      const around = new UnionFind(nets.count);
      for (const other of fed) if (!windings.includes(other)) around.join(...endsOf(other));
      return around.find(from) !== around.find(to);
    })
    .flat();
}
