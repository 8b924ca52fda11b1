/** What of a part is on the line side, and so in no circuit that is solved. */

import type { Analysis, ResolvedElement } from '../analysis-types.js';

/** Whether both ends of an element are terminals marked hot, neutral or ground. */
export function isLineSideElement({ parts }: Analysis, { part, a, b }: ResolvedElement): boolean {
  const terminals = parts.get(part)?.terminals ?? [];
  const isMarked = (point: string): boolean =>
    terminals.some(({ name, lineSide }) => lineSide !== undefined && point === `${part}.${name}`);
  return isMarked(a) && isMarked(b);
}
