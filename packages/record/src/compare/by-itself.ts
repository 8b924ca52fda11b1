/** Whether part of a record says by itself what the whole says of it. */

import { recordChecks } from '../checks/registry.js';
import type { Installation } from '../model.js';

/** For what hangs together with nothing else of its record. */
export function isToldByItself(installation: Installation): boolean {
  return recordChecks.every((check) => check.isToldByItself(installation));
}
