/** Grounding that is on a conductor which carries current. */

import type { Branch, LineSide } from './line-side.js';

/** The grounding terminal or metal box that is on a net, that of the branch circuit itself first. */
export function groundedOn(lineSide: LineSide, branch: Branch, net: string): string | undefined {
  const grounds = lineSide.marksOn(net).filter(({ side }) => side === 'ground');
  const own = grounds.find(({ point }) => point === branch.ground?.point) ?? grounds[0];
  return own?.point ?? lineSide.boxes.find(({ name, metal }) => metal && lineSide.netOf(name) === net)?.name;
}
