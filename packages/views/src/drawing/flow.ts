/** Which way the drawing runs: away from the supplies, place by place, so that no wire has to turn back. */

import type { Analysis } from '@ohmstead/record';
import { placeOfPart } from '../papers/landings.js';
import type { Wire } from './scope.js';

export type Side = 'WEST' | 'EAST';

export interface Flow {
  /** True where the wire is drawn from its `to` to its `from`. */
  isTurned(wire: Wire): boolean;
  /** The edge of the part on which a terminal stands: left where its wires arrive, right where they leave. */
  sideOf(part: string, terminal: string): Side;
}

export function flowOf(analysis: Analysis, wires: readonly Wire[]): Flow {
  const ranks = ranksOf(analysis, wires);
  const rank = (point: string) => ranks.get(ownerOf(point)) ?? Number.MAX_SAFE_INTEGER;
  const isTurned = ({ from, to }: Wire) => rank(to) < rank(from);
  const leaving = new Map<string, number>();
  for (const wire of wires) {
    const [source, target] = isTurned(wire) ? [wire.to, wire.from] : [wire.from, wire.to];
    if (ownerOf(source) === ownerOf(target)) continue;
    leaving.set(source, (leaving.get(source) ?? 0) + 1);
    leaving.set(target, (leaving.get(target) ?? 0) - 1);
  }
  return {
    isTurned,
    sideOf(part, terminal) {
      const resolved = analysis.parts.get(part);
      if (resolved?.kind === 'supply') {
        const lineSide = resolved.terminals.find(({ name }) => name === terminal)?.lineSide !== undefined;
        return lineSide ? 'WEST' : 'EAST';
      }
      return (leaving.get(`${part}.${terminal}`) ?? 0) > 0 ? 'EAST' : 'WEST';
    },
  };
}

export const ownerOf = (point: string): string => point.split('.')[0] ?? point;

/** Places in the order in which wires reach them from the supplies; inside a place, parts likewise. */
function ranksOf(analysis: Analysis, wires: readonly Wire[]): Map<string, number> {
  const placeOf = (name: string) => placeOfPart(analysis, name) ?? '';
  const owners = wires.map(({ from, to }) => [ownerOf(from), ownerOf(to)] as const);
  const supplies = analysis.installation.supplies.map(({ name }) => name);
  const parts = reached(supplies, owners);
  const places = reached(
    supplies.map(placeOf),
    owners.map(([one, other]) => [placeOf(one), placeOf(other)] as const),
  );
  const placeOrder = [...places.keys()];
  const order = [...parts.keys()].sort(
    (one, other) =>
      placeOrder.indexOf(placeOf(one)) - placeOrder.indexOf(placeOf(other)) ||
      (parts.get(one) ?? 0) - (parts.get(other) ?? 0),
  );
  return new Map(order.map((name, index) => [name, index]));
}

/** Steps from the starts, in the order of reaching; what no start reaches comes last, in the order of its wires. */
function reached(starts: readonly string[], pairs: readonly (readonly [string, string])[]): Map<string, number> {
  const near = new Map<string, string[]>();
  for (const [one, other] of pairs) {
    near.set(one, [...(near.get(one) ?? []), other]);
    near.set(other, [...(near.get(other) ?? []), one]);
  }
  const steps = new Map<string, number>();
  for (const group of [starts, ...[...near.keys()].map((name) => [name])]) {
    const queue = group.filter((name) => !steps.has(name));
    for (const name of queue) steps.set(name, 0);
    for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
      for (const next of near.get(at) ?? []) {
        if (steps.has(next)) continue;
        steps.set(next, (steps.get(at) ?? 0) + 1);
        queue.push(next);
      }
    }
  }
  return steps;
}
