/** Where a probe is held, as nodes and branches of the house. */

import { pointOf, partNameOf } from '../analysis-types.js';
import { quote } from '../judging/words.js';
import type { House, HouseConductor } from './house.js';
import type { MeterPoint } from '../readings-types.js';

export type Found<T> = { readonly found: T } | { readonly reason: string };

export function nodeOf(house: House, point: MeterPoint): Found<number> {
  if (point.kind === 'end') {
    const name = pointOf(point.end);
    const node = house.known(name);
    return node === undefined ? { reason: `there is no ${quote(name)} in the record` } : { found: node };
  }
  const conductor = conductorOf(house, point);
  if (conductor === undefined) return unknownConductor(point);
  const end = endAt(house, conductor, point.at);
  if (end === undefined) {
    const where = point.at === undefined ? 'say at which end' : `it has no end at ${quote(point.at)}`;
    return { reason: `${point.colour} of ${quote(point.run)}: ${where}` };
  }
  return { found: conductor.ends[end].node };
}

/** The branch whose amps a clamp on a conductor, or in the only lead of a terminal, shows. */
export function branchOf(house: House, point: MeterPoint): Found<number> {
  if (point.kind === 'conductor') {
    const conductor = conductorOf(house, point);
    return conductor === undefined ? unknownConductor(point) : { found: conductor.wire };
  }
  const name = pointOf(point.end);
  const wires = house.conductors.filter(({ ends }) => ends.some(({ on }) => on === name));
  if (wires.length === 1) return { found: wires[0]!.wire };
  if (wires.length > 1) return { reason: `several conductors are landed on ${quote(name)}: say through which` };
  return { reason: `no conductor is landed on ${quote(name)}` };
}

function conductorOf(house: House, { run, colour }: MeterPoint & { kind: 'conductor' }): HouseConductor | undefined {
  return house.conductors.find((one) => one.run === run && one.colour === colour);
}

function unknownConductor({ run, colour }: MeterPoint & { kind: 'conductor' }): { readonly reason: string } {
  return { reason: `${quote(run)} has no ${colour} conductor that the record says anything of` };
}

/** By the end's place, the part it is landed on, or the point itself. */
function endAt(house: House, { ends }: HouseConductor, at: string | undefined): 0 | 1 | undefined {
  if (at === undefined) return undefined;
  for (const end of [0, 1] as const) if (ends[end].place === at) return end;
  for (const end of [0, 1] as const) {
    const { on } = ends[end];
    if (on === undefined) continue;
    const part = partNameOf(on);
    if (on === at || part === at || house.analysis.parts.get(part)?.place?.name === at) return end;
  }
  return undefined;
}
