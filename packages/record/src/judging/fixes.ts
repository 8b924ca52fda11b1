/** Quick fixes, worked out when they are asked for: offered only where the changed record shows the finding gone and nothing new. */

import type { Analysis } from '../analysis-types.js';
import type { Raised } from '../checks/types.js';
import type { Finding, Fix } from '../finding.js';
import { severityRank } from './raise.js';
import { settledFindings } from './run-checks.js';
import { whatIf } from './what-if.js';

/** Solves the part of the record around the finding once for each mend; not for the path of a keystroke. */
export function fixesFor(analysis: Analysis, finding: Finding): readonly Fix[] {
  const raised = settledFindings(analysis).find(
    ({ check, path, parts }) =>
      check.code === finding.code && path === finding.path && parts.join(' ') === finding.parts.join(' '),
  );
  const mends = raised?.mends?.() ?? [];
  return mends.filter((mend) => mendsIt(analysis, raised!, mend));
}

function mendsIt(analysis: Analysis, raised: Raised, mend: Fix): boolean {
  const before = settledFindings(whatIf(analysis, raised.parts, []));
  const after = settledFindings(whatIf(analysis, raised.parts, mend.changes));
  const isGone = !after.some(({ check, parts }) => check === raised.check && parts[0] === raised.parts[0]);
  const grave = (found: readonly Raised[]) =>
    found.filter(({ severity }) => severityRank[severity] <= severityRank.warning);
  const known = new Set(grave(before).map(identity));
  return isGone && grave(after).every((one) => known.has(identity(one)));
}

function identity({ check, severity, parts }: Raised): string {
  return `${check.code} ${severity} ${parts[0] ?? ''}`;
}
