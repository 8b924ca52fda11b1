/** The whole of what is concluded from an installation before it is judged: cluster by cluster, so that an edit costs what it touches. */

import { type PreparedNetwork, prepare } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, Condition } from '../analysis-types.js';
import type { Installation } from '../model.js';
import { compare } from '../resolve/parts.js';
import { analyseCluster, assumptionsOf, momentaryContacts } from './analyse-cluster.js';
import { Beside } from './beside.js';
import { buildNetwork } from './build-network.js';
import { type Cluster, type Clustering, clustersOf } from './clusters.js';
import { once } from './lazily.js';
import { solutionsKeptFor } from './solutions.js';

const clusterings = new Beside<Analysis, Clustering>();
const analyses = new Beside<Cluster, Analysis>();

/**
 * Given the analysis of an earlier record, that of every cluster that is still the same is taken over as it is, and of the others the
 * solutions of circuits whose elements are the same to the last figure.
 */
export function analyse(installation: Installation, previous?: Analysis): Analysis {
  const before = previous && clusterings.get(previous);
  const clustering = clustersOf(installation, before);
  const clusters = clustering.clusters.map((cluster) => analysisOf(cluster, before));
  const clusterOf = (name: string): Analysis | undefined => {
    const cluster = clustering.clusterOf(name);
    return cluster && analyses.get(cluster);
  };
  const analysis = new Together(installation, clusters, clusterOf);
  clusterings.set(analysis, clustering);
  taken.set(analysis, { clusters, clusterOf });
  return analysis;
}

function analysisOf(cluster: Cluster, before: Clustering | undefined): Analysis {
  let analysis = analyses.get(cluster);
  if (analysis === undefined) {
    const akin = new Set<Analysis>();
    for (const name of before === undefined ? [] : cluster.names) {
      const was = before!.clusterOf(name);
      const known = was && analyses.get(was);
      if (known !== undefined) akin.add(known);
    }
    analysis = analyseCluster(cluster.installation, solutionsKeptFor(akin));
    analyses.set(cluster, analysis);
  }
  return analysis;
}

/** The analyses that an analysis is put together from; the same cluster keeps its analysis over edits. */
export interface AnalysedApart {
  readonly clusters: readonly Analysis[];
  /** By the name of a part, splice, run, jumper, or box with something in it. */
  clusterOf(name: string): Analysis | undefined;
}

const taken = new Beside<Analysis, AnalysedApart>();

/** Undefined of an analysis that was made in one piece. */
export function takenApart(analysis: Analysis): AnalysedApart | undefined {
  return taken.get(analysis);
}

/** What hangs together, piece by piece; the whole where it was analysed in one piece. What is worked out of a piece can be kept with it. */
export function piecesOf(analysis: Analysis): readonly Analysis[] {
  return takenApart(analysis)?.clusters ?? [analysis];
}

/** Some of the pieces of an analysis as one of its own; readings stay with the whole. */
export function analysisOfPieces({ installation }: Analysis, pieces: readonly Analysis[]): Analysis {
  const own = <T>(of: (one: Installation) => readonly T[]): readonly T[] =>
    pieces.flatMap((one) => of(one.installation));
  const { readings: _readings, ...rest } = installation;
  const made: Installation = {
    ...rest,
    supplies: own(({ supplies }) => supplies),
    devices: own(({ devices }) => devices),
    splices: own(({ splices }) => splices),
    runs: own(({ runs }) => runs),
    jumpers: own(({ jumpers }) => jumpers),
    grounds: own(({ grounds = [] }) => grounds),
    accepts: [],
  };
  const ofName = once(() => {
    const names = (one: Analysis) => [...one.parts.keys(), ...one.runs.keys(), ...one.jumpers.keys()];
    const splices = (one: Analysis) => one.installation.splices.map(({ name }) => name);
    return new Map(pieces.flatMap((one) => [...names(one), ...splices(one)].map((name) => [name, one] as const)));
  });
  const clusterOf = (name: string) => ofName().get(name);
  const analysis = new Together(made, pieces, clusterOf);
  taken.set(analysis, { clusters: pieces, clusterOf });
  return analysis;
}

/**
 * What is asked for seldom is put together when it is. A class, since a getter's function in an object literal is made in old memory and holds
 * on to all that it can see, until all memory is gone through.
 */
class Together implements Analysis {
  readonly installation: Installation;
  readonly #clusters: readonly Analysis[];
  readonly #clusterOf: (name: string) => Analysis | undefined;
  readonly #networks = new Map<Condition, PreparedNetwork>();
  #parts: Analysis['parts'] | undefined;
  #runs: Analysis['runs'] | undefined;
  #jumpers: Analysis['jumpers'] | undefined;
  #elements: Analysis['elements'] | undefined;
  #circuits: Analysis['circuits'] | undefined;
  #assumptions: Analysis['assumptions'] | undefined;
  #momentary: Analysis['momentary'] | undefined;

  constructor(
    installation: Installation,
    clusters: readonly Analysis[],
    clusterOf: (name: string) => Analysis | undefined,
  ) {
    this.installation = installation;
    this.#clusters = clusters;
    this.#clusterOf = clusterOf;
  }

  get parts() {
    this.#parts ??= inOrderOfName(this.#clusters.map((cluster) => cluster.parts));
    return this.#parts;
  }

  get runs() {
    this.#runs ??= inOrderOfName(this.#clusters.map((cluster) => cluster.runs));
    return this.#runs;
  }

  get jumpers() {
    this.#jumpers ??= inOrderOfName(this.#clusters.map((cluster) => cluster.jumpers));
    return this.#jumpers;
  }

  get elements() {
    this.#elements ??= new Map(
      [...this.parts.values()].flatMap((part) => part.elements).map((element) => [element.id, element]),
    );
    return this.#elements;
  }

  get circuits() {
    this.#circuits ??= this.#clusters.flatMap((cluster) => cluster.circuits).sort(byFirstElement);
    return this.#circuits;
  }

  get assumptions() {
    this.#assumptions ??= assumptionsOf(this, this.circuits);
    return this.#assumptions;
  }

  get momentary() {
    this.#momentary ??= momentaryContacts(this.elements.values());
    return this.#momentary;
  }

  network(condition: Condition): PreparedNetwork {
    const network = this.#networks.get(condition) ?? prepare(buildNetwork(this.installation, this, condition));
    this.#networks.set(condition, network);
    return network;
  }

  circuitOfElement(id: string) {
    return this.#clusterOf(id.split('/')[1] ?? '')?.circuitOfElement(id);
  }

  circuitsOfPart(name: string) {
    return this.#clusterOf(name)?.circuitsOfPart(name) ?? [];
  }

  landedOn(point: string) {
    return this.#clusterOf(point.split('.', 1)[0]!)?.landedOn(point) ?? [];
  }
}

function inOrderOfName<T>(maps: readonly ReadonlyMap<string, T>[]): ReadonlyMap<string, T> {
  return new Map(maps.flatMap((map) => [...map]).sort(([one], [other]) => compare(one, other)));
}

function byFirstElement(one: CircuitAnalysis, other: CircuitAnalysis): number {
  return compare(one.circuit.id, other.circuit.id);
}
