/** Places, the innermost first. */

import type { Analysis } from '../analysis-types.js';
import type { Place } from '../model.js';
import { placesByName } from '../resolve/places.js';

/** A place and those around it; places that are within each other end the search. */
export function placesFrom({ installation }: Analysis, name: string | undefined): readonly Place[] {
  const places = placesByName(installation.places);
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
