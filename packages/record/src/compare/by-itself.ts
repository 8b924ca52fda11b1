/** Whether part of a record says by itself what the whole says of it. */

import { looseIn } from '../analyse/joining.js';
import { strangersIn } from '../checks/colour-not-in-cable.js';
import type { Installation } from '../model.js';

/**
 * For what hangs together with nothing else of its record. Loose ends are told of with all others, wherever they are, and strange colours
 * by how many there are.
 */
export function isToldByItself(installation: Installation): boolean {
  return looseIn(installation).length === 0 && strangersIn(installation).length === 0;
}
