/** An installation taken apart into what hangs together: nothing that is concluded of one cluster leans on another. */

import { pointOf } from '../analysis-types.js';
import type { Box, End, Installation, Landing, Part, PartType, Place } from '../model.js';

/** A part of an installation as an installation of its own, with all that it leans on. Its acceptances and readings stay with the whole. */
export interface Cluster {
  /** Of its first part, splice, run or jumper, so that it is found again after an edit. */
  readonly name: string;
  readonly installation: Installation;
  /** Places that its parts, splices and runs are in, and those around them. */
  readonly places: readonly Place[];
  /** Those of its places that are boxes. */
  readonly boxes: readonly Box[];
  /** Types of its parts, in order of the parts. */
  readonly types: readonly (PartType | undefined)[];
  /** Those of its names that are broken. */
  readonly broken: readonly string[];
}

type Members = Pick<Installation, 'supplies' | 'devices' | 'splices' | 'runs' | 'jumpers'>;
const KINDS = ['supplies', 'devices', 'splices', 'runs', 'jumpers'] as const satisfies readonly (keyof Members)[];

/** In order of their first members. Every part, splice, run and jumper is in one of them. */
export function clustersOf(installation: Installation): readonly Cluster[] {
  const names = new Names();
  joinAll(installation, names);
  const members = new Map<number, { -readonly [Kind in keyof Members]: Members[Kind][number][] }>();
  for (const kind of KINDS) {
    for (const member of installation[kind]) {
      const root = names.rootOf(member.name);
      let own = members.get(root);
      if (own === undefined) {
        own = { supplies: [], devices: [], splices: [], runs: [], jumpers: [] };
        members.set(root, own);
      }
      (own[kind] as (typeof member)[]).push(member);
    }
  }
  const places = new Map(installation.places.map((place) => [place.name, place]));
  return [...members.values()].map((own) => clusterOf(installation, own, places));
}

function clusterOf(installation: Installation, own: Members, places: ReadonlyMap<string, Place>): Cluster {
  const { title: _title, readings: _readings, ...rest } = installation;
  const parts = [...own.supplies, ...own.devices];
  const all = [...parts, ...own.splices, ...own.runs, ...own.jumpers];
  const around = placesAround(own, places);
  return {
    name: all[0]!.name,
    installation: { ...rest, ...own, accepts: [] },
    places: around,
    boxes: (installation.boxes ?? []).filter(({ name }) => around.some((place) => place.name === name)),
    types: parts.map(({ type }) => (type === undefined ? undefined : installation.partTypes.get(type))),
    broken: brokenOf(installation, own),
  };
}

function brokenOf({ broken }: Installation, own: Members): readonly string[] {
  return broken.size === 0 ? [] : [...namesIn(own)].filter((name) => broken.has(name)).sort();
}

/** Whether all that can be concluded of two clusters is the same. */
export function isSameCluster(one: Cluster, other: Cluster): boolean {
  return (
    one.installation.profile === other.installation.profile &&
    KINDS.every((kind) => isSame(one.installation[kind], other.installation[kind])) &&
    isSame(one.types, other.types) &&
    isSame(one.places, other.places) &&
    isSame(one.boxes, other.boxes) &&
    isSame(one.broken, other.broken)
  );
}

/** Plain data alike to the last figure; what is one and the same object is not looked into. */
function isSame(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return Object.is(one, other);
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const [mine, its] = [Object.keys(one), Object.keys(other)];
  return (
    mine.length === its.length &&
    mine.every((key) => Object.hasOwn(other, key) && isSame(one[key as keyof object], other[key as keyof object]))
  );
}

function joinAll(installation: Installation, names: Names): void {
  const { supplies, devices, splices, runs, jumpers } = installation;
  for (const run of runs) {
    names.add(run.name);
    for (const { run: other } of run.beside ?? []) names.join(run.name, other);
    for (const { from, to } of run.conductors) {
      for (const landing of [from, to]) if (landing?.kind === 'on') names.join(run.name, landing.end.part);
    }
  }
  for (const { name, from, to } of jumpers) {
    names.add(name);
    names.join(name, from.part);
    names.join(name, to.part);
  }
  for (const { name, lands } of [...supplies, ...devices]) {
    names.add(name);
    for (const { on } of lands) names.join(name, on.part);
  }
  for (const { name } of splices) names.add(name);
  const [first, ...others] = looseIn(installation);
  for (const name of others) names.join(first!, name);
}

/** A part with nothing on it is told together with every splice that holds a single conductor, wherever that is: the names of both. */
export function looseIn(installation: Installation): readonly string[] {
  const { supplies, devices, splices, runs, jumpers } = installation;
  const landed = new Map<string, number>();
  const land = (end: End): void => {
    const point = pointOf(end);
    landed.set(point, (landed.get(point) ?? 0) + 1);
  };
  for (const { conductors } of runs) {
    for (const { from, to, spare } of conductors) {
      if (spare) continue;
      for (const landing of [from, to]) if (landing?.kind === 'on') land(landing.end);
    }
  }
  for (const { from, to } of jumpers) {
    land(from);
    land(to);
  }
  const parts = [...supplies, ...devices];
  for (const { lands } of parts) for (const { on } of lands) land(on);
  return [
    ...splices.filter(({ name }) => landed.get(name) === 1),
    ...parts.filter((part) => hasNothingOnIt(installation, part, landed)),
  ].map(({ name }) => name);
}

function hasNothingOnIt({ partTypes }: Installation, part: Part, landed: ReadonlyMap<string, number>): boolean {
  const type = part.type === undefined ? undefined : partTypes.get(part.type);
  return (type?.terminals ?? []).every(({ name }) => {
    const isLead = part.lands.some(({ terminal }) => terminal === name);
    return !isLead && !landed.has(pointOf({ part: part.name, terminal: name }));
  });
}

/** Names that hang together, by numbers. */
class Names {
  readonly #numbers = new Map<string, number>();
  readonly #above: number[] = [];

  add(name: string): number {
    const known = this.#numbers.get(name);
    if (known !== undefined) return known;
    const number = this.#above.length;
    this.#numbers.set(name, number);
    this.#above.push(number);
    return number;
  }

  join(one: string, other: string): void {
    const [first, second] = [this.#top(this.add(one)), this.#top(this.add(other))];
    if (first !== second) this.#above[Math.max(first, second)] = Math.min(first, second);
  }

  rootOf(name: string): number {
    return this.#top(this.add(name));
  }

  #top(number: number): number {
    let top = number;
    while (this.#above[top] !== top) top = this.#above[top]!;
    for (let at = number; at !== top; ) {
      const above = this.#above[at]!;
      this.#above[at] = top;
      at = above;
    }
    return top;
  }
}

function placesAround({ supplies, devices, splices, runs }: Members, places: ReadonlyMap<string, Place>): Place[] {
  const around = new Set<Place>();
  const take = (name: string | undefined): void => {
    let place = name === undefined ? undefined : places.get(name);
    while (place !== undefined && !around.has(place)) {
      around.add(place);
      place = place.within === undefined ? undefined : places.get(place.within);
    }
  };
  for (const { place } of supplies) take(place);
  for (const { place } of devices) take(place);
  for (const { place } of splices) take(place);
  for (const { fromPlace, toPlace } of runs) {
    take(fromPlace);
    take(toPlace);
  }
  return [...around];
}

/** All names that something is said of: also those of ends that nothing declares. */
export function namesIn({ supplies, devices, splices, runs, jumpers }: Members): Set<string> {
  const names = new Set<string>();
  const takeLanding = (landing: Landing | undefined): void => {
    if (landing?.kind === 'on') names.add(landing.end.part);
  };
  for (const { name, lands } of [...supplies, ...devices]) {
    names.add(name);
    for (const { on } of lands) names.add(on.part);
  }
  for (const { name } of splices) names.add(name);
  for (const { name, conductors } of runs) {
    names.add(name);
    for (const { from, to } of conductors) {
      takeLanding(from);
      takeLanding(to);
    }
  }
  for (const { name, from, to } of jumpers) names.add(name).add(from.part).add(to.part);
  return names;
}
