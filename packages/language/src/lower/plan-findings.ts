/** Where a finding of a planned circuit is said: on the plan's own line that caused it. */

import type { Analysis, Finding } from '@ohmstead/record';
import { nameIn, type PlanPlaces } from './plan.js';
import type { Site } from './sites.js';

/**
 * For a finding whose place is in the record underneath. What that record has by itself stands at the plan's `changes` line where it is
 * grave, and is left to the record where it is not.
 */
export function siteInPlan(
  plan: PlanPlaces,
  analysis: Analysis,
  finding: Finding,
  isInBase: boolean,
): Site | undefined {
  const changes: Site = { ...plan.changes, property: 'path' };
  if (isInBase) return finding.severity === 'error' || finding.severity === 'warning' ? changes : undefined;
  const named = finding.related.flatMap(({ path }) => nameIn(path) ?? []);
  for (const name of [...finding.parts, ...named]) {
    const site = plan.touching(name);
    if (site) return site;
  }
  for (const part of finding.parts) {
    for (const { runs, jumpers, devices, supplies } of analysis.circuitsOfPart(part)) {
      for (const name of [...jumpers, ...runs, ...devices, ...supplies]) {
        const site = plan.touching(name);
        if (site) return site;
      }
    }
  }
  return changes;
}
