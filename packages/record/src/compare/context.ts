/** Two installations with what of one is what in the other. */

import { pointOf } from '../analysis-types.js';
import type { End, Installation, Part, Place, Run, Splice } from '../model.js';
import { compare } from '../resolve/parts.js';
import { type Match, matchRecords } from './match.js';
import type { Pair } from './types.js';

export type AnyPart =
  | { readonly kind: 'supply' | 'device'; readonly part: Part }
  | { readonly kind: 'splice'; readonly splice: Splice };

export interface Indexed {
  readonly installation: Installation;
  readonly parts: ReadonlyMap<string, AnyPart>;
  readonly runs: ReadonlyMap<string, Run>;
}

/** Something with its like; one of the two may be missing. */
export interface Couple<T> {
  readonly before: T | undefined;
  readonly after: T | undefined;
}

export interface ComparedRecords {
  readonly before: Indexed;
  readonly after: Indexed;
  readonly parts: readonly Couple<AnyPart>[];
  readonly runs: readonly Couple<Run>[];
  readonly places: readonly Couple<Place>[];
  readonly match: Match & { readonly places: ReadonlyMap<string, string> };
  /** A point of the old record under the names of the new one. */
  carried(end: End): string;
  carriedName(name: string): string;
}

export function nameOf(part: AnyPart): string {
  return part.kind === 'splice' ? part.splice.name : part.part.name;
}

export function placeNameOf(part: AnyPart): string | undefined {
  return part.kind === 'splice' ? part.splice.place : part.part.place;
}

export function pairOf<T, V>({ before, after }: Couple<T>, of: (one: T) => V | undefined): Pair<V> {
  return {
    before: before === undefined ? null : (of(before) ?? null),
    after: after === undefined ? null : (of(after) ?? null),
  };
}

export function compareInstallations(one: Installation, other: Installation): ComparedRecords {
  const before = indexed(one);
  const after = indexed(other);
  const match = matchRecords(one, other);
  const parts = couples(before.parts, after.parts, match.parts);
  const runs = couples(before.runs, after.runs, match.runs);
  const places = matchPlaces(before, after, match);
  // What is gone keeps a name that nothing of the new record has.
  const carriedName = (name: string): string =>
    match.parts.get(name) ?? (before.parts.has(name) ? `${name} (gone)` : name);
  return {
    before,
    after,
    parts,
    runs,
    places: couples(byName(one.places), byName(other.places), places),
    match: { ...match, places },
    carriedName,
    carried: (end) => pointOf({ ...end, part: carriedName(end.part) }),
  };
}

function indexed(installation: Installation): Indexed {
  const parts = new Map<string, AnyPart>();
  for (const part of [...installation.supplies, ...installation.devices]) {
    if (!parts.has(part.name)) parts.set(part.name, { kind: part.kind, part });
  }
  for (const splice of installation.splices) {
    if (!parts.has(splice.name)) parts.set(splice.name, { kind: 'splice', splice });
  }
  return { installation, parts, runs: byName(installation.runs) };
}

function byName<T extends { readonly name: string }>(list: readonly T[]): ReadonlyMap<string, T> {
  const found = new Map<string, T>();
  for (const one of list) if (!found.has(one.name)) found.set(one.name, one);
  return found;
}

/** In order of name, by whichever name comes first. */
function couples<T>(
  before: ReadonlyMap<string, T>,
  after: ReadonlyMap<string, T>,
  match: ReadonlyMap<string, string>,
): readonly Couple<T>[] {
  const found = new Set(match.values());
  const all: { readonly key: string; readonly couple: Couple<T> }[] = [];
  for (const [name, one] of before) {
    const other = match.get(name);
    const key = other === undefined || compare(name, other) < 0 ? name : other;
    all.push({ key, couple: { before: one, after: other === undefined ? undefined : after.get(other) } });
  }
  for (const [name, other] of after) {
    if (!found.has(name)) all.push({ key: name, couple: { before: undefined, after: other } });
  }
  return all.sort((a, b) => compare(a.key, b.key)).map(({ couple }) => couple);
}

/** By name, then by what stands there. */
function matchPlaces(before: Indexed, after: Indexed, match: Match): ReadonlyMap<string, string> {
  const places = new Map<string, string>();
  const now = new Set(after.installation.places.map(({ name }) => name));
  for (const { name } of before.installation.places) if (now.has(name)) places.set(name, name);
  const there = (side: Indexed, nameIs: (name: string) => string, runIs: (name: string) => string) => {
    const holds = new Map<string, string[]>();
    const put = (place: string | undefined, what: string): void => {
      if (place !== undefined) holds.set(place, [...(holds.get(place) ?? []), what]);
    };
    for (const [name, part] of side.parts) put(placeNameOf(part), `part ${nameIs(name)}`);
    for (const run of side.runs.values()) {
      put(run.fromPlace, `run ${runIs(run.name)}`);
      put(run.toPlace, `run ${runIs(run.name)}`);
    }
    return new Map([...holds].map(([place, what]) => [place, what.sort(compare).join('; ')]));
  };
  const old = there(
    before,
    (name) => match.parts.get(name) ?? `-${name}`,
    (name) => match.runs.get(name) ?? `-${name}`,
  );
  const newParts = new Set(match.parts.values());
  const newRuns = new Set(match.runs.values());
  const held = there(
    after,
    (name) => (newParts.has(name) ? name : `+${name}`),
    (name) => (newRuns.has(name) ? name : `+${name}`),
  );
  const taken = new Set(places.values());
  for (const { name } of [...before.installation.places].sort((a, b) => compare(a.name, b.name))) {
    const holds = old.get(name);
    if (places.has(name) || holds === undefined) continue;
    const alike = [...held].filter(([place, what]) => what === holds && !taken.has(place)).map(([place]) => place);
    const [found] = alike.sort(compare);
    if (found === undefined || alike.length > 1) continue;
    places.set(name, found);
    taken.add(found);
  }
  return places;
}
