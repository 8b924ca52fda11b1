/** The whole of what is concluded from an installation before it is judged: cluster by cluster, so that an edit costs what it touches. */

import { prepare } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, Condition } from '../analysis-types.js';
import type { Installation } from '../model.js';
import { compare } from '../resolve/parts.js';
import { analyseCluster, assumptionsOf, momentaryContacts } from './analyse-cluster.js';
import { buildNetwork } from './build-network.js';
import { type Cluster, type Clustering, clustersOf } from './clusters.js';
import { lazily, once } from './lazily.js';
import { solutionsKeptFor } from './solutions.js';

const clusterings = new WeakMap<Analysis, Clustering>();
const analyses = new WeakMap<Cluster, Analysis>();

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
  const analysis = together(installation, clusters, clusterOf);
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

const taken = new WeakMap<Analysis, AnalysedApart>();

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
  const analysis = together(made, pieces, clusterOf);
  taken.set(analysis, { clusters: pieces, clusterOf });
  return analysis;
}

/** What is asked for seldom is put together when it is. */
function together(
  installation: Installation,
  clusters: readonly Analysis[],
  clusterOf: (name: string) => Analysis | undefined,
): Analysis {
  const parts = once(() => inOrderOfName(clusters.map((cluster) => cluster.parts)));
  const runs = once(() => inOrderOfName(clusters.map((cluster) => cluster.runs)));
  const jumpers = once(() => inOrderOfName(clusters.map((cluster) => cluster.jumpers)));
  const elements = once(
    () => new Map([...parts().values()].flatMap((part) => part.elements).map((element) => [element.id, element])),
  );
  const circuits = once(() => clusters.flatMap((cluster) => cluster.circuits).sort(byFirstElement));
  const resolved = once(() => ({ parts: parts(), runs: runs(), jumpers: jumpers() }));
  const assumptions = once(() => assumptionsOf(resolved(), circuits()));
  const momentary = once(() => momentaryContacts(elements().values()));
  return {
    installation,
    get parts() {
      return parts();
    },
    get runs() {
      return runs();
    },
    get jumpers() {
      return jumpers();
    },
    get elements() {
      return elements();
    },
    get circuits() {
      return circuits();
    },
    get assumptions() {
      return assumptions();
    },
    get momentary() {
      return momentary();
    },
    network: lazily((condition: Condition) => prepare(buildNetwork(installation, resolved(), condition))),
    circuitOfElement: (id) => clusterOf(id.split('/')[1] ?? '')?.circuitOfElement(id),
    circuitsOfPart: (name) => clusterOf(name)?.circuitsOfPart(name) ?? [],
    landedOn: (point) => clusterOf(point.split('.', 1)[0]!)?.landedOn(point) ?? [],
  };
}

function inOrderOfName<T>(maps: readonly ReadonlyMap<string, T>[]): ReadonlyMap<string, T> {
  return new Map(maps.flatMap((map) => [...map]).sort(([one], [other]) => compare(one, other)));
}

function byFirstElement(one: CircuitAnalysis, other: CircuitAnalysis): number {
  return compare(one.circuit.id, other.circuit.id);
}
