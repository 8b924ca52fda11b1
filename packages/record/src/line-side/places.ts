/** Places, the innermost first. */

import type { Analysis } from '../analysis-types.js';
import type { Place } from '../model.js';

const byName = new WeakMap<readonly Place[], ReadonlyMap<string, Place>>();

/** A place and those around it; places that are within each other end the search. */
export function placesFrom({ installation }: Analysis, name: string | undefined): readonly Place[] {
  let places = byName.get(installation.places);
  if (places === undefined) {
    places = new Map(installation.places.map((place) => [place.name, place]));
    byName.set(installation.places, places);
  }
  const around: Place[] = [];
  for (
    let place = name === undefined ? undefined : places.get(name);
    place !== undefined && !around.includes(place);
  ) {
    around.push(place);
    place = place.within === undefined ? undefined : places.get(place.within);
  }
  return around;
}
