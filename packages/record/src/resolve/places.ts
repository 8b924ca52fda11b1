/** Places by their names: of two with one name the last. */

import type { Place } from '../model.js';

const known = new WeakMap<readonly Place[], ReadonlyMap<string, Place>>();

export function placesByName(places: readonly Place[]): ReadonlyMap<string, Place> {
  let byName = known.get(places);
  if (byName === undefined) {
    byName = new Map(places.map((place) => [place.name, place]));
    known.set(places, byName);
  }
  return byName;
}
