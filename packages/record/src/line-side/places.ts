/** Places, the innermost first. */

import type { Analysis } from '../analysis-types.js';
import type { Place } from '../model.js';
import { placesAround, placesByName } from '../resolve/places.js';

export function placesFrom({ installation }: Analysis, name: string | undefined): readonly Place[] {
  return placesAround(placesByName(installation.places), name);
}
