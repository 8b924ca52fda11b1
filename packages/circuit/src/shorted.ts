/** Sources whose ends are joined by wire, joints and made contacts alone. */

import type { Layout, Nets } from './layout.js';
import type { ShortedSource } from './network.js';
import { UnionFind } from './union-find.js';

/** Every such source with one shortest path; among equally short ones the one whose ids come first. */
export function shortedSources(layout: Layout, nets: Nets): readonly ShortedSource[] {
  const bare: number[] = [];
  const sets = new UnionFind(layout.points.length);
  layout.elements.forEach((element, e) => {
    if (nets.joined[e] !== 1 && !(element.kind === 'impedance' && element.wire)) return;
    bare.push(e);
    sets.join(layout.a[e]!, layout.b[e]!);
  });
  const hit = layout.sources.filter((e) => sets.find(layout.a[e]!) === sets.find(layout.b[e]!));
  if (hit.length === 0) return [];
  const around: number[][] = layout.points.map(() => []);
  for (const e of bare) {
    around[layout.a[e]!]!.push(e);
    around[layout.b[e]!]!.push(e);
  }
  return hit.map((e) => ({
    source: layout.elements[e]!.id,
    path: shortestPath(layout, around, layout.a[e]!, layout.b[e]!),
  }));
}

function otherEnd(layout: Layout, e: number, point: number): number {
  return layout.a[e] === point ? layout.b[e]! : layout.a[e]!;
}

function shortestPath(layout: Layout, around: readonly number[][], from: number, to: number): readonly string[] {
  const distance = new Int32Array(layout.points.length).fill(-1);
  distance[to] = 0;
  const queue = [to];
  for (let head = 0; head < queue.length && distance[from] === -1; head++) {
    const point = queue[head]!;
    for (const e of around[point]!) {
      const next = otherEnd(layout, e, point);
      if (distance[next] !== -1) continue;
      distance[next] = distance[point]! + 1;
      queue.push(next);
    }
  }
  const path: string[] = [];
  let at = from;
  while (at !== to) {
    const step = around[at]!.find((e) => distance[otherEnd(layout, e, at)] === distance[at]! - 1);
    if (step === undefined) break;
    path.push(layout.elements[step]!.id);
    at = otherEnd(layout, step, at);
  }
  return path;
}
