/** An installation taken apart into what hangs together: nothing that is concluded of one cluster leans on another. */

import type { Box, Installation, PartType, Place } from '../model.js';
import {
  type Group,
  groupsOf,
  inBox,
  KINDS,
  type Member,
  type Members,
  membersOf,
  nameOf,
  namesOf,
} from './joining.js';
import { between, isSame } from './same.js';
import { Surroundings } from './surroundings.js';

/** A part of an installation as an installation of its own, with all that it leans on. Its acceptances and readings stay with the whole. */
export interface Cluster {
  /** Of its first part, splice, run, jumper or bond, so that it is found again after an edit. */
  readonly name: string;
  /**
   * Its places are those that its parts, splices and runs are in and those around them, its boxes those of them that are one and those
   * that stand where its splices are; its types and broken names its own.
   */
  readonly installation: Installation;
  /** All names that something is said of in it: also those of ends that nothing declares, and of what it has in a box. */
  readonly names: ReadonlySet<string>;
  /** Whether something in it is told of together with all that is loose in the record. */
  readonly isLoose: boolean;
}

export interface Clustering {
  readonly installation: Installation;
  readonly clusters: readonly Cluster[];
  /** By the name of a part, splice, run, jumper, or box with something in it. */
  clusterOf(name: string): Cluster | undefined;
}

/** Every part, splice, run and jumper is in one of them. What is as it was before is the cluster that it was. */
export function clustersOf(installation: Installation, before?: Clustering): Clustering {
  if (before instanceof Clusters && before.standsAroundThe(installation)) return before.edited(installation);
  const around = new Surroundings(installation);
  const members = membersOf(installation);
  const clusters = groupsOf(members, installation.partTypes, around).map((group) =>
    asBefore(clusterOf(installation, group, around), before),
  );
  return new Clusters(installation, members, clusters, around, namesTo(clusters));
}

class Clusters implements Clustering {
  readonly installation: Installation;
  readonly clusters: readonly Cluster[];
  readonly #members: Members;
  readonly #around: Surroundings;
  /** Of an earlier record that this one is an edit of; `#since` goes before it. */
  readonly #byName: ReadonlyMap<string, Cluster>;
  readonly #since: ReadonlyMap<string, Cluster | undefined>;

  constructor(
    installation: Installation,
    members: Members,
    clusters: readonly Cluster[],
    around: Surroundings,
    byName: ReadonlyMap<string, Cluster>,
    since: ReadonlyMap<string, Cluster | undefined> = new Map(),
  ) {
    this.installation = installation;
    this.clusters = clusters;
    this.#members = members;
    this.#around = around;
    const isWorn = since.size > MOST_SINCE;
    this.#byName = isWorn ? namesTo(clusters) : byName;
    this.#since = isWorn ? new Map() : since;
  }

  clusterOf(name: string): Cluster | undefined {
    return this.#named(name) ?? this.#named(inBox(name));
  }

  #named(name: string): Cluster | undefined {
    const since = this.#since.get(name);
    return since !== undefined || this.#since.has(name) ? since : this.#byName.get(name);
  }

  /** Whether all that is no part, splice, run, jumper or bond is as it was. */
  standsAroundThe({ profile, places, boxes, partTypes }: Installation): boolean {
    const was = this.installation;
    return (
      was.profile === profile &&
      isSame(was.places, places) &&
      isSame(was.boxes ?? [], boxes ?? []) &&
      isSameMap(was.partTypes, partTypes)
    );
  }

  /** Only what the changed members hang together with, before or now, is taken apart anew. */
  edited(installation: Installation): Clusters {
    const members = membersOf(installation);
    const touched = new Set<Cluster>();
    const touch = (name: string): void => {
      const cluster = this.#named(name);
      if (cluster !== undefined) touched.add(cluster);
    };
    const added = new Set<Member>();
    for (const kind of KINDS) {
      const changed = between<Member>(this.#members[kind], members[kind]);
      for (const member of changed.before) touch(nameOf(member));
      for (const member of changed.after) {
        added.add(member);
        for (const name of namesOf(kind, member, this.#around)) touch(name);
      }
    }
    const was = this.installation.broken;
    for (const name of installation.broken) if (!was.has(name)) touch(name);
    for (const name of was) if (!installation.broken.has(name)) touch(name);
    if (touched.size === 0 && added.size === 0) return this.#with(installation, members, this.clusters, this.#since);
    for (const cluster of this.clusters) if (cluster.isLoose) touched.add(cluster);
    return this.#takenApart(installation, members, touched, added);
  }

  #takenApart(
    installation: Installation,
    members: Members,
    touched: ReadonlySet<Cluster>,
    added: ReadonlySet<Member>,
  ): Clusters {
    const names = new Set<string>();
    for (const cluster of touched) for (const name of cluster.names) names.add(name);
    const of = <Kind extends keyof Members>(kind: Kind): Members[Kind] => {
      const all: readonly Member[] = members[kind];
      return all.filter((member) => names.has(nameOf(member)) || added.has(member)) as unknown as Members[Kind];
    };
    const own: Members = {
      supplies: of('supplies'),
      devices: of('devices'),
      splices: of('splices'),
      runs: of('runs'),
      jumpers: of('jumpers'),
      grounds: of('grounds'),
    };
    const made = groupsOf(own, installation.partTypes, this.#around).map((group) =>
      asBefore(clusterOf(installation, group, this.#around), this),
    );
    const left = new Map(made.map((cluster) => [cluster.name, cluster]));
    const inPlace = (cluster: Cluster): readonly Cluster[] => {
      if (!touched.has(cluster)) return [cluster];
      const now = left.get(cluster.name);
      left.delete(cluster.name);
      return now === undefined ? [] : [now];
    };
    const clusters = this.clusters.flatMap(inPlace);
    clusters.push(...left.values());
    const since = new Map(this.#since);
    for (const { names } of touched) for (const name of names) since.set(name, undefined);
    for (const cluster of made) for (const name of cluster.names) since.set(name, cluster);
    return this.#with(installation, members, clusters, since);
  }

  #with(
    installation: Installation,
    members: Members,
    clusters: readonly Cluster[],
    since: ReadonlyMap<string, Cluster | undefined>,
  ): Clusters {
    return new Clusters(installation, members, clusters, this.#around, this.#byName, since);
  }
}

/** From as many names on they are gathered anew. */
const MOST_SINCE = 500;

function namesTo(clusters: readonly Cluster[]): ReadonlyMap<string, Cluster> {
  const byName = new Map<string, Cluster>();
  for (const cluster of clusters) for (const name of cluster.names) byName.set(name, cluster);
  return byName;
}

function clusterOf(installation: Installation, { own, isLoose }: Group, around: Surroundings): Cluster {
  const names = new Set<string>();
  for (const kind of KINDS) {
    for (const member of own[kind]) for (const name of namesOf(kind, member, around)) names.add(name);
  }
  const { title: _title, readings: _readings, ...rest } = installation;
  const places = placesOf(own, around);
  const boxes = boxesOf(own, places, around);
  for (const { name } of boxes) for (const place of around.around(name)) places.add(place);
  const isOwn = (name: string): boolean => names.has(name) || boxes.some((box) => box.name === name);
  return {
    name: names.values().next().value!,
    installation: {
      ...rest,
      ...own,
      accepts: [],
      places: [...places],
      boxes,
      partTypes: typesOf(installation, own),
      broken: new Set([...installation.broken].filter(isOwn)),
    },
    names,
    isLoose,
  };
}

function placesOf({ supplies, devices, splices, runs }: Members, around: Surroundings): Set<Place> {
  const places = new Set<Place>();
  const take = (name: string | undefined): void => {
    for (const place of around.around(name)) places.add(place);
  };
  for (const { place } of supplies) take(place);
  for (const { place } of devices) take(place);
  for (const { place } of splices) take(place);
  for (const { fromPlace, toPlace } of runs) {
    take(fromPlace);
    take(toPlace);
  }
  return places;
}

function boxesOf({ splices, grounds }: Members, places: ReadonlySet<Place>, around: Surroundings): readonly Box[] {
  const boxes = new Set<Box>();
  const take = (box: Box | undefined): void => {
    if (box !== undefined) boxes.add(box);
  };
  for (const { name } of places) take(around.boxes.get(name));
  for (const { box } of grounds) take(around.boxes.get(box));
  // Where a joint may be put: a box that holds nothing of the cluster yet.
  for (const { place } of splices) if (place !== undefined) around.boxesStandingIn(place).forEach(take);
  return around.inOrder(boxes);
}

function typesOf({ partTypes }: Installation, { supplies, devices }: Members): ReadonlyMap<string, PartType> {
  const types = new Map<string, PartType>();
  for (const parts of [supplies, devices]) {
    for (const { type: name } of parts) {
      const type = name === undefined ? undefined : partTypes.get(name);
      if (type !== undefined) types.set(name!, type);
    }
  }
  return types;
}

/** The cluster that it was before, where all that can be concluded of the two is the same. */
function asBefore(cluster: Cluster, before: Clustering | undefined): Cluster {
  const was = before?.clusterOf(cluster.name);
  return was !== undefined && was.name === cluster.name && isSameCluster(was, cluster) ? was : cluster;
}

function isSameCluster(one: Cluster, other: Cluster): boolean {
  const [mine, its] = [one.installation, other.installation];
  return (
    mine.profile === its.profile &&
    KINDS.every((kind) => isSame(mine[kind], its[kind])) &&
    isSame(mine.places, its.places) &&
    isSame(mine.boxes, its.boxes) &&
    isSameMap(mine.partTypes, its.partTypes) &&
    mine.broken.size === its.broken.size &&
    [...mine.broken].every((name) => its.broken.has(name))
  );
}

function isSameMap(one: ReadonlyMap<string, unknown>, other: ReadonlyMap<string, unknown>): boolean {
  if (one === other) return true;
  if (one.size !== other.size) return false;
  for (const [key, value] of one) if (!isSame(value, other.get(key))) return false;
  return true;
}
