/** Kirchhoff's current law over a solution, by plain summing: what is checked where a reference has no answer. */

import {
  add,
  type CircuitElement,
  conjugate,
  magnitude,
  multiply,
  negate,
  type Phasor,
  polar,
  type Solution,
  ZERO,
} from '../../packages/circuit/src/index.js';

/** The largest current missing at a point, over the largest current; points of jumpers in a loop are left out. */
export function balanceOf(elements: readonly CircuitElement[], solution: Solution): number {
  const sums = new Map<string, Phasor>();
  const open = new Set<string>();
  let largest = 1e-6;
  const leave = (at: string, amps: Phasor): void => {
    sums.set(at, add(sums.get(at) ?? ZERO, amps));
  };
  for (const element of elements) {
    const figures = solution.element(element.id);
    if (figures === undefined) continue;
    if (figures.amps === null) {
      open.add(element.a).add(element.b);
      continue;
    }
    leave(element.a, figures.amps);
    leave(element.b, negate(figures.amps));
    largest = Math.max(largest, magnitude(figures.amps));
    if (element.kind !== 'source' || element.fedBy === undefined) continue;
    const primary = negate(multiply(conjugate(polar(element.fedBy.ratio, element.phase)), figures.amps));
    leave(element.fedBy.a, primary);
    leave(element.fedBy.b, negate(primary));
  }
  return Math.max(0, ...[...sums].filter(([at]) => !open.has(at)).map(([, sum]) => magnitude(sum))) / largest;
}
