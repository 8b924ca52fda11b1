/** Runs settled: which conductors carry current, and the ohms of each at every corner. */

import { Beside } from '../analyse/beside.js';
import type { Assumption, ResolvedConductor, ResolvedRun } from '../analysis-types.js';
import type { Conductor, End, Installation, Place, Run } from '../model.js';
import { isSame } from '../analyse/same.js';
import { lengthWords } from '../judging/units.js';
import { withUnit } from './figures.js';
import { compare } from './parts.js';
import { placesByName } from './places.js';
import { conductorOhms, type CornerOhms, loopConductorOhms, temperaturesOf } from './conductor-ohms.js';

/** Every run by name, in order of name. The first of two runs with one name is the one that counts. */
export function resolveRuns(installation: Installation): ReadonlyMap<string, ResolvedRun> {
  const places = placesByName(installation.places);
  const resolved = new Map<string, ResolvedRun>();
  for (const run of [...installation.runs].sort((a, b) => compare(a.name, b.name))) {
    if (!resolved.has(run.name)) resolved.set(run.name, resolveRun(run, places, installation.profile));
  }
  return resolved;
}

interface Resolved {
  readonly temperatures: readonly number[];
  readonly profile: string;
  readonly run: ResolvedRun;
}

/** A run is settled once for the temperatures along it and the record's profile, however many records it is in. */
const known = new Beside<Run, Resolved>();

function resolveRun(run: Run, places: ReadonlyMap<string, Place>, profile: string): ResolvedRun {
  const temperatures = temperaturesAlong(run, places);
  const before = known.get(run);
  if (before !== undefined && before.profile === profile && isSame(before.temperatures, temperatures))
    return before.run;
  const resolved = resolveAt(run, temperatures, profile);
  known.set(run, { temperatures, profile, run: resolved });
  return resolved;
}

function resolveAt(run: Run, temperatures: readonly number[], profile: string): ResolvedRun {
  const ohms = ohmsOfEach(run, temperatures);
  const seen = new Map<string, number>();
  const conductors = run.conductors.map((conductor, index): ResolvedConductor => {
    const [from, to] = [endOf(conductor, 'from'), endOf(conductor, 'to')];
    const base = { run: run.name, index, colour: conductor.colour, from, to };
    if (from === undefined || to === undefined) return base;
    const nth = (seen.get(conductor.colour) ?? 0) + 1;
    seen.set(conductor.colour, nth);
    const suffix = nth === 1 ? '' : `/${nth}`;
    return { ...base, id: `run/${run.name}/${conductor.colour.replaceAll('/', '-')}${suffix}`, ohms };
  });
  return { run, cable: run.cable, conductors, lengthMetres: lengthOf(run), assumed: assumptionsOf(run, ohms, profile) };
}

function endOf(conductor: Conductor, end: 'from' | 'to'): End | undefined {
  const landing = conductor[end];
  return !conductor.spare && landing?.kind === 'on' ? landing.end : undefined;
}

function ohmsOfEach(run: Run, temperatures: readonly number[]): CornerOhms | undefined {
  if (run.loopOhms !== undefined && run.loopOhms.value >= 0) return loopConductorOhms(run.loopOhms.value, temperatures);
  const length = lengthOf(run);
  if (run.cable === undefined || length === undefined) return undefined;
  return conductorOhms(run.cable, length, temperatures);
}

/** Those stated for the places at its ends, degC. */
function temperaturesAlong(run: Run, places: ReadonlyMap<string, Place>): number[] {
  return [run.fromPlace, run.toPlace]
    .map((name) => temperatureOf(name, places))
    .filter((temperature) => temperature !== undefined);
}

/** What its nominal ohms are given at, degC. */
export function nominalTemperature(run: Run, { places }: Installation): number {
  return temperaturesOf(temperaturesAlong(run, placesByName(places))).nominal;
}

/** A length below nothing is no length; the reader of the text reports it. */
function lengthOf({ length }: Run): number | undefined {
  return length !== undefined && Number.isFinite(length.value) && length.value >= 0 ? length.value : undefined;
}

/** A place's own temperature or that of the nearest place around it; places that are within each other end the search. */
function temperatureOf(name: string | undefined, places: ReadonlyMap<string, Place>): number | undefined {
  const visited = new Set<string>();
  for (let at = name; at !== undefined && !visited.has(at); at = places.get(at)?.within) {
    visited.add(at);
    const temperature = places.get(at)?.temperature;
    if (temperature !== undefined) return temperature;
  }
  return undefined;
}

function assumptionsOf(run: Run, ohms: CornerOhms | undefined, profile: string): readonly Assumption[] {
  const assume = (words: string): readonly Assumption[] => [{ part: run.name, what: 'length', words }];
  if (ohms === undefined) return assume('no resistance (no length is recorded)');
  if (run.loopOhms?.about === true)
    return assume(`about ${withUnit(run.loopOhms.value, 'ohm')} out and back (not measured)`);
  if (run.loopOhms === undefined && run.length?.about === true) {
    return assume(`a length of about ${lengthWords(run.length.value, profile)} (not measured)`);
  }
  return [];
}
