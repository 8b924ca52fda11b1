/** Currents of ideal connections: what flows through a jumper follows from what enters and leaves its ends. */

import type { Layout, Nets } from './layout.js';
import type { Phasor } from './network.js';

/**
 * Amps from a to b of each ideal connection, by current balance over a spanning tree; null for one that is part of a loop of them, since its
 * share of the current has no answer. Other elements stay undefined.
 */
export function joinAmps(
  layout: Layout,
  nets: Nets,
  leavingRe: Float64Array,
  leavingIm: Float64Array,
): readonly (Phasor | null | undefined)[] {
  const around = neighbourhoods(layout, nets);
  const amps: (Phasor | null | undefined)[] = new Array(layout.kind.length).fill(undefined);
  const entered = new Int32Array(layout.points.length).fill(-1);
  const lowest = new Int32Array(layout.points.length);
  const through = new Int32Array(layout.points.length).fill(-1);
  const sumRe = leavingRe.slice();
  const sumIm = leavingIm.slice();
  let clock = 0;

  for (let root = 0; root < layout.points.length; root++) {
    if (entered[root] !== -1 || around[root]!.length === 0) continue;
    const stack = [{ point: root, next: 0 }];
    entered[root] = lowest[root] = clock++;
    while (stack.length > 0) {
      const top = stack.at(-1)!;
      const { point } = top;
      const e = around[point]![top.next++];
      if (e === undefined) {
        stack.pop();
        const parent = stack.at(-1)?.point;
        if (parent !== undefined) closeBranch(point, parent);
        continue;
      }
      if (e === through[point]) continue;
      const other = layout.a[e] === point ? layout.b[e]! : layout.a[e]!;
      if (entered[other] === -1) {
        entered[other] = lowest[other] = clock++;
        through[other] = e;
        stack.push({ point: other, next: 0 });
      } else {
        amps[e] = null;
        lowest[point] = Math.min(lowest[point]!, entered[other]!);
      }
    }
  }
  return amps;

  function closeBranch(point: number, parent: number): void {
    const e = through[point]!;
    lowest[parent] = Math.min(lowest[parent]!, lowest[point]!);
    const bridge = lowest[point]! > entered[parent]!;
    const sign = layout.b[e] === point ? 1 : -1;
    amps[e] = bridge ? { re: sign * sumRe[point]! + 0, im: sign * sumIm[point]! + 0 } : null;
    sumRe[parent]! += sumRe[point]!;
    sumIm[parent]! += sumIm[point]!;
  }
}

function neighbourhoods(layout: Layout, nets: Nets): readonly number[][] {
  const around: number[][] = layout.points.map(() => []);
  for (let e = 0; e < nets.joined.length; e++) {
    if (nets.joined[e] !== 1) continue;
    around[layout.a[e]!]!.push(e);
    if (layout.a[e] !== layout.b[e]) around[layout.b[e]!]!.push(e);
  }
  return around;
}
