/** Which supplies have their primary wired to another supply's winding, and so follow its volts. */

import type { ResolvedElement, ResolvedPart } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import type { Installation } from '../model.js';
import { mainsOf } from '../resolve/mains.js';
import type { ResolvedInstallation } from './build-network.js';
import { Joined } from './joined.js';

/** The points that feed a part's windings, and the volts its primary is made for. */
export interface Feed {
  readonly a: string;
  readonly b: string;
  readonly volts: number;
}

/** By part. Parts that are not in it stand at the mains. */
export type FeedsOfWindings = ReadonlyMap<string, Feed>;

/** A primary is fed when both its ends are wired, through whatever there is, to one winding of another part. */
export function feedsOfWindings(installation: Installation, resolved: ResolvedInstallation): FeedsOfWindings {
  const feeds = new Map<string, Feed>();
  const parts = [...resolved.parts.values()];
  const primaries = parts.flatMap((part) => {
    const primary = part.elements.find(({ element }) => element.kind === 'primary');
    return primary === undefined ? [] : [{ part, primary }];
  });
  if (primaries.length === 0) return feeds;
  const joined = wiredTogether(installation, resolved);
  const windings = parts.flatMap((part) => part.elements.filter(({ element }) => element.kind === 'winding'));
  for (const { part, primary } of primaries) {
    const place = joined.of(primary.a);
    const isFed = windings.some((w) => w.part !== part.name && joined.of(w.a) === place && joined.of(w.b) === place);
    if (place !== joined.of(primary.b) || !isFed || windsItself(part, joined, place)) continue;
    const volts = primary.element.kind === 'primary' ? primary.element.volts : undefined;
    feeds.set(part.name, { a: primary.a, b: primary.b, volts: volts ?? mainsOf(installation.profile).mainsVolts });
  }
  return feeds;
}

/** A primary joined to the part's own winding is a mistake in the wiring, not a feed. */
function windsItself(part: ResolvedPart, joined: Joined, place: string): boolean {
  return part.elements.some(({ element, a }) => element.kind === 'winding' && joined.of(a) === place);
}

function wiredTogether(installation: Installation, { parts, runs, jumpers }: ResolvedInstallation): Joined {
  const joined = new Joined();
  for (const run of runs.values()) {
    for (const { id, from, to } of run.conductors) {
      if (id !== undefined && from !== undefined && to !== undefined) joined.join(pointOf(from), pointOf(to));
    }
  }
  for (const { from, to } of jumpers.values()) joined.join(pointOf(from), pointOf(to));
  for (const part of [...installation.supplies, ...installation.devices]) {
    for (const { terminal, on } of part.lands) joined.join(`${part.name}.${terminal}`, pointOf(on));
  }
  for (const part of parts.values()) {
    for (const element of part.elements.filter(joinsItsEnds)) joined.join(element.a, element.b);
  }
  return joined;
}

/** Everything but a primary, which passes nothing on. */
function joinsItsEnds({ element, present }: ResolvedElement): boolean {
  return present && element.kind !== 'primary';
}
