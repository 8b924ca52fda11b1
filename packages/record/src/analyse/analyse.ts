/** The whole of what is concluded from an installation before it is judged: cluster by cluster, so that an edit costs what it touches. */

import { prepare } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, Condition } from '../analysis-types.js';
import type { Installation } from '../model.js';
import { compare } from '../resolve/parts.js';
import { analyseCluster, assumptionsOf, momentaryContacts } from './analyse-cluster.js';
import { buildNetwork } from './build-network.js';
import { type Cluster, clustersOf, isSameCluster, namesIn } from './clusters.js';
import { lazily, once } from './lazily.js';
import { solutionsKeptFor } from './solutions.js';

interface AnalysedCluster {
  readonly cluster: Cluster;
  readonly analysis: Analysis;
}

/** What an installation was taken apart into, and how. */
interface Apart {
  readonly byName: ReadonlyMap<string, AnalysedCluster>;
  /** By the name of anything in it. */
  readonly ofName: () => ReadonlyMap<string, AnalysedCluster>;
}

const apart = new WeakMap<Analysis, Apart>();

/**
 * Given the analysis of an earlier record, that of every cluster that is still the same is taken over as it is, and of the others the
 * solutions of circuits whose elements are the same to the last figure.
 */
export function analyse(installation: Installation, previous?: Analysis): Analysis {
  const before = previous && apart.get(previous);
  const clusters = clustersOf(installation).map((cluster): AnalysedCluster => {
    const known = before?.byName.get(cluster.name);
    if (known !== undefined && isSameCluster(known.cluster, cluster)) return known;
    const akin = new Set(
      [...namesIn(cluster.installation)].flatMap((name) => before?.ofName().get(name)?.analysis ?? []),
    );
    return { cluster, analysis: analyseCluster(cluster.installation, solutionsKeptFor(akin)) };
  });
  const ofName = once(
    () =>
      new Map(clusters.flatMap((one) => [...namesIn(one.cluster.installation)].map((name) => [name, one] as const))),
  );
  const analysis = together(
    installation,
    clusters.map((one) => one.analysis),
    (name) => ofName().get(name)?.analysis,
  );
  apart.set(analysis, { byName: new Map(clusters.map((one) => [one.cluster.name, one])), ofName });
  return analysis;
}

/** The analyses that an analysis is put together from; the same cluster keeps its analysis over edits. */
export interface AnalysedApart {
  readonly clusters: readonly Analysis[];
  /** By the name of a part, splice, run or jumper. */
  clusterOf(name: string): Analysis | undefined;
}

/** Undefined of an analysis that was made in one piece. */
export function takenApart(analysis: Analysis): AnalysedApart | undefined {
  const known = apart.get(analysis);
  if (known === undefined) return undefined;
  return {
    clusters: [...known.byName.values()].map((one) => one.analysis),
    clusterOf: (name) => known.ofName().get(name)?.analysis,
  };
}

/** What hangs together, piece by piece; the whole where it was analysed in one piece. What is worked out of a piece can be kept with it. */
export function piecesOf(analysis: Analysis): readonly Analysis[] {
  return takenApart(analysis)?.clusters ?? [analysis];
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
