/** Parts that a plan puts in another place, and the runs that go along with them. */

import type { Figure, Installation, Run } from '../model.js';
import { at, type RecordPath } from '../place-in-record.js';
import type { Carried } from './apply-plan.js';

/**
 * The same runs end where the parts are now, as far as all that a run lands on there went to one place; how long they have to be then is not
 * measured any more. A run that also lands on something that stays is left where it was, for the checks to tell of.
 */
export function relocatedParts(
  installation: Installation,
  base: Installation,
  carried: Carried,
  origins: Map<RecordPath, number>,
): Installation {
  if (carried.relocated.size === 0) return installation;
  const places = placesOf(base);
  const moved = new Map<string, Move>();
  for (const [name, { index, place }] of carried.relocated) {
    const now = carried.nameNow(name);
    const was = places.get(name);
    moved.set(now, { index, place, ...(was === undefined ? {} : { was }) });
    origins.set(at.fact(now, 'place'), index);
  }
  const standing = <T extends { readonly name: string; readonly place?: string }>(one: T): T => {
    const move = moved.get(one.name);
    return move === undefined ? one : { ...one, place: move.place };
  };
  const standsIn = placesOf(installation);
  const own = new Set(base.runs.map(({ name }) => carried.nameNow(name)));
  return {
    ...installation,
    supplies: installation.supplies.map(standing),
    devices: installation.devices.map(standing),
    splices: installation.splices.map(standing),
    runs: installation.runs.map((run) =>
      own.has(run.name) ? ledAlong(run, { moved, standsIn }, carried, origins) : run,
    ),
  };
}

interface Move {
  readonly index: number;
  readonly place: string;
  /** Absent where it was not recorded. */
  readonly was?: string;
}

interface Moves {
  readonly moved: ReadonlyMap<string, Move>;
  /** Where everything stood, by its name now; of what has no place on record a run may go along or not. */
  readonly standsIn: ReadonlyMap<string, string>;
}

function placesOf({ supplies, devices, splices }: Installation): ReadonlyMap<string, string> {
  return new Map(
    [...supplies, ...devices, ...splices].flatMap(({ name, place }) => (place === undefined ? [] : [[name, place]])),
  );
}

function ledAlong(run: Run, moves: Moves, carried: Carried, origins: Map<RecordPath, number>): Run {
  const from = placeNow(run, 'from', moves);
  const to = placeNow(run, 'to', moves);
  if (from === undefined && to === undefined) return run;
  if (from !== undefined) origins.set(at.runPlace(run.name, 'from'), from.index);
  if (to !== undefined) origins.set(at.runPlace(run.name, 'to'), to.index);
  const isMeasuredAnew = carried.measuresAnew(run.name);
  const { length, loopOhms } = run;
  const led = {
    ...run,
    ...(from === undefined ? {} : { fromPlace: from.place }),
    ...(to === undefined ? {} : { toPlace: to.place }),
  };
  if (isMeasuredAnew) return led;
  return {
    ...led,
    ...(length === undefined ? {} : { length: notMeasured(length) }),
    ...(loopOhms === undefined ? {} : { loopOhms: notMeasured(loopOhms) }),
  };
}

function notMeasured(figure: Figure): Figure {
  return { ...figure, about: true };
}

/** Where an end of a run goes; undefined where it stays. */
function placeNow(run: Run, end: 'from' | 'to', { moved, standsIn }: Moves): Move | undefined {
  const stated = end === 'from' ? run.fromPlace : run.toPlace;
  if (stated === undefined) return undefined;
  const landed = run.conductors.flatMap(({ [end]: landing, spare }) =>
    landing?.kind === 'on' && !spare && standsIn.has(landing.end.part) ? [moved.get(landing.end.part)] : [],
  );
  const [first] = landed;
  const goesAlong = landed.every((move) => move?.was === stated && move.place === first?.place);
  return goesAlong ? first : undefined;
}
