/** What two records have in common, circuit by circuit. */

import { clustersOf } from '../analyse/clusters.js';
import type { Installation } from '../model.js';

/** Names of parts, splices, runs and jumpers that hang together with nothing that is another in the second record. */
export function unchangedNames(before: Installation, after: Installation): ReadonlySet<string> {
  const was = clustersOf(before);
  const known = new Set(was.clusters);
  const { clusters } = clustersOf(after, was);
  return new Set(clusters.filter((cluster) => known.has(cluster)).flatMap(({ names }) => [...names]));
}
