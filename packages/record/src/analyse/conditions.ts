/** What the mains do to a winding at a corner. */

import { cornersOf } from '@ohmstead/circuit';
import type { Condition, ResolvedElement, ResolvedPart } from '../analysis-types.js';
import { mainsOf } from '../resolve/mains.js';

/** Factor on a winding's EMF. A regulated DC output and a cell without a primary do not follow the mains. */
export function mainsFactor(
  profile: string,
  part: ResolvedPart,
  winding: ResolvedElement,
  condition: Condition,
): number {
  if (condition === 'labels' || !followsMains(part, winding)) return 1;
  const corner = cornersOf(mainsOf(profile).name).find(({ name }) => name === condition);
  return corner?.mainsFactor ?? 1;
}

/** Of a winding that no other feeds. */
export function followsMains(part: ResolvedPart, { system }: ResolvedElement): boolean {
  if (system !== 'DC') return true;
  return part.facts.regulated !== true && part.elements.some(({ element }) => element.kind === 'primary');
}
