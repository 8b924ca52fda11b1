/** Sources whose ends are joined by wire, joints, made contacts and diodes alone. */

import type { Layout, Nets } from './layout.js';
import type { ShortedSource } from './network.js';
import { UnionFind } from './union-find.js';

/** Every such source with one shortest path; among equally short ones the one whose ids come first. */
export function shortedSources(layout: Layout, nets: Nets): readonly ShortedSource[] {
  const { a, b, contacts } = layout;
  const made = contacts.filter((e) => nets.joined[e] === 1);
  if (layout.bare.length + made.length === 0 && layout.sources.every((e) => a[e] !== b[e])) return [];
  const sets = new UnionFind(layout.points.length);
  for (const e of layout.bare) sets.join(a[e]!, b[e]!);
  for (const e of made) sets.join(a[e]!, b[e]!);
  const hit = layout.sources.filter((e) => sets.find(layout.a[e]!) === sets.find(layout.b[e]!));
  if (hit.length === 0) return [];
  const around: number[][] = layout.points.map(() => []);
  for (const e of [...layout.bare, ...made]) {
    around[layout.a[e]!]!.push(e);
    around[layout.b[e]!]!.push(e);
  }
  return hit.flatMap((e) => {
    const path = currentPath(layout, around, e);
    return path === undefined ? [] : [{ source: layout.elementAt(e).id, path }];
  });
}

function otherEnd(layout: Layout, e: number, point: number): number {
  return layout.a[e] === point ? layout.b[e]! : layout.a[e]!;
}

/** Diodes let the current of a DC source through from its `a` alone, that of an AC source in whichever half all of them agree on. */
function currentPath(layout: Layout, around: readonly number[][], e: number): readonly string[] | undefined {
  const element = layout.elementAt(e);
  const isReversed = element.kind === 'source' && element.volts < 0;
  const ways = element.kind === 'source' && element.system === 'DC' ? [!isReversed] : [true, false];
  for (const forwards of ways) {
    const path = shortestPath(layout, around, layout.a[e]!, layout.b[e]!, forwards);
    if (path !== undefined) return path;
  }
  return undefined;
}

function passes(layout: Layout, e: number, from: number, forwards: boolean): boolean {
  return layout.elementAt(e).kind !== 'diode' || (layout.a[e] === from) === forwards;
}

function shortestPath(
  layout: Layout,
  around: readonly number[][],
  from: number,
  to: number,
  forwards: boolean,
): readonly string[] | undefined {
  const distance = new Int32Array(layout.points.length).fill(-1);
  distance[to] = 0;
  const queue = [to];
  for (let head = 0; head < queue.length && distance[from] === -1; head++) {
    const point = queue[head]!;
    for (const e of around[point]!) {
      const next = otherEnd(layout, e, point);
      if (distance[next] !== -1 || !passes(layout, e, next, forwards)) continue;
      distance[next] = distance[point]! + 1;
      queue.push(next);
    }
  }
  if (distance[from] === -1) return undefined;
  const path: string[] = [];
  let at = from;
  while (at !== to) {
    const steps = around[at]!.filter(
      (e) => distance[otherEnd(layout, e, at)] === distance[at]! - 1 && passes(layout, e, at, forwards),
    );
    if (steps.length === 0) break;
    const idOf = (e: number): string => layout.elementAt(e).id;
    const step = steps.reduce((first, e) => (idOf(e) < idOf(first) ? e : first));
    path.push(idOf(step));
    at = otherEnd(layout, step, at);
  }
  return path;
}
