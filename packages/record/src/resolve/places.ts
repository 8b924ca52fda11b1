/** Places by their names: of two with one name the last. */

import { keptWith } from '../analyse/lazily.js';
import type { Place } from '../model.js';

export const placesByName = keptWith(
  (places: readonly Place[]): ReadonlyMap<string, Place> => new Map(places.map((place) => [place.name, place])),
);

/** A place and those around it, the innermost first; places that are within each other end the search. */
export function placesAround(places: ReadonlyMap<string, Place>, name: string | undefined): readonly Place[] {
  const around: Place[] = [];
  let place = name === undefined ? undefined : places.get(name);
  while (place !== undefined && !around.includes(place)) {
    around.push(place);
    place = place.within === undefined ? undefined : places.get(place.within);
  }
  return around;
}
