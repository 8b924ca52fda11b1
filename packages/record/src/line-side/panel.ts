/** The panel: the box in which a branch circuit's breaker stands. */

import type { ResolvedPart } from '../analysis-types.js';
import type { Box } from '../model.js';
import { isBranchCircuit, type LineSide } from './line-side.js';

function isPanel(lineSide: LineSide, box: Box): boolean {
  return lineSide.branches.some(({ part }) => lineSide.boxAround(part.place?.name) === box);
}

/** Whether a supply is in the same box as a breaker. */
export function standsInPanel(lineSide: LineSide, part: ResolvedPart): boolean {
  if (part.kind !== 'supply' || isBranchCircuit(part)) return false;
  const box = lineSide.boxAround(part.place?.name);
  return box !== undefined && isPanel(lineSide, box);
}
