/** Of several parts with one fault in common the one to tell of. */

import { grouped } from '../grouped.js';
import type { Analysis, ResolvedPart } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';

/** Grouped by what they share, each group with the part that conductors come to in front. */
export function foremostOf(
  analysis: Analysis,
  parts: readonly ResolvedPart[],
  sharing: (part: ResolvedPart) => string,
): readonly (readonly [ResolvedPart, ...ResolvedPart[]])[] {
  return [...grouped(parts, sharing).values()].map((group) => {
    const first = group.find((part) => isWired(analysis, part)) ?? group[0];
    return [first, ...group.filter((part) => part !== first)] as const;
  });
}

/** Whether a conductor is landed on one of its line-voltage terminals. */
function isWired(analysis: Analysis, { name: part, terminals }: ResolvedPart): boolean {
  return terminals.some(
    ({ name: terminal, lineSide }) =>
      lineSide !== undefined && analysis.landedOn(pointOf({ part, terminal })).some(({ kind }) => kind === 'conductor'),
  );
}
