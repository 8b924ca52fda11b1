/** Which readings tell what a supply gives: the mains, and the first idle reading across it. */

import type { House } from '../explain/house.js';
import type { Taken } from '../explain/observations.js';

/** By a reading's place in its block: the supplies that it sets; none for the mains, which set them all. */
export function setsOf(house: House, taken: readonly Taken[]): ReadonlyMap<number, readonly string[]> {
  const sets = new Map<number, readonly string[]>();
  const known = new Set<string>();
  for (const { index, reading, observation } of taken) {
    if (observation === undefined) continue;
    if (observation.kind === 'mains') sets.set(index, []);
    if (observation.kind !== 'figure' || observation.spot.kind !== 'volts') continue;
    const { state } = reading;
    if (state.kind !== 'live' || state.pressed.length > 0 || (state.bridged ?? []).length > 0) continue;
    const { a, b } = observation.spot;
    const across = house.branches.filter(
      (branch) =>
        branch.kind === 'winding' && ((branch.a === a && branch.b === b) || (branch.a === b && branch.b === a)),
    );
    const supplies = [...new Set(across.flatMap(({ element }) => element?.part ?? []))].filter(
      (name) => !known.has(name),
    );
    for (const name of supplies) known.add(name);
    if (supplies.length > 0) sets.set(index, supplies);
  }
  return sets;
}
