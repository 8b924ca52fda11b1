/** Hot and neutral the wrong way round at a part. */

import type { ResolvedPart } from '../analysis-types.js';
import type { Branch, LineSide } from './line-side.js';

/** Whether hot and neutral of a branch circuit are one: what is then wrong is a short, wherever else it shows. */
export function isShorted(lineSide: LineSide, { hot, neutral }: Branch): boolean {
  return neutral !== undefined && lineSide.same(hot.point, neutral.point);
}

/** Whether the part's hot terminal is on the neutral of the branch circuit, or its neutral terminal on the hot conductor. */
export function isSwapped(lineSide: LineSide, part: ResolvedPart, branch: Branch): boolean {
  if (part === branch.part || branch.neutral === undefined || isShorted(lineSide, branch)) return false;
  const neutral = branch.neutral.point;
  return (
    lineSide.markedOf(part, 'hot').some(({ point }) => lineSide.same(point, neutral)) ||
    lineSide.markedOf(part, 'neutral').some(({ point }) => lineSide.same(point, branch.hot.point))
  );
}
