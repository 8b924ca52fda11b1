/** Quick fixes, worked out when they are asked for: offered only where the changed record shows the finding gone and nothing new. */

import type { Analysis } from '../analysis-types.js';
import type { Raised } from '../checks/types.js';
import type { Finding, Fix } from '../finding.js';
import { recordChecks } from '../checks/registry.js';
import { inTradeWords } from '../regions/regions.js';
import { raisedBy, severityRank } from './raise.js';
import { settledFindings } from './run-checks.js';
import { whatIf } from './what-if.js';

/** Solves the part of the record around the finding once for each mend; not for the path of a keystroke. */
export function fixesFor(analysis: Analysis, finding: Finding): readonly Fix[] {
  const raised = settledFindings(analysis).find(
    ({ check, path, parts }) =>
      check.code === finding.code && path === finding.path && parts.join(' ') === finding.parts.join(' '),
  );
  const mends = raised?.mends?.() ?? [];
  const kinds = new Set<string>();
  const sound = [...mends].filter((mend) => {
    const kind = mend.changes.map((change) => change.kind).join(' ');
    if (ONE_IS_ENOUGH.has(kind) && kinds.has(kind)) return false;
    if (!mendsIt(analysis, raised!, mend)) return false;
    kinds.add(kind);
    return true;
  });
  return sound.map((mend) => ({ ...mend, title: inTradeWords(analysis.installation.profile, mend.title) }));
}

/** Of sizes the first that holds is offered; of colours and terminals every one. */
const ONE_IS_ENOUGH = new Set(['set-output', 'set-cable', 'add-conductor']);

function mendsIt(analysis: Analysis, raised: Raised, mend: Fix): boolean {
  const before = whatIf(analysis, raised.parts, []);
  const after = settledFindings(whatIf(analysis, raised.parts, mend.changes));
  const isGone = !after.some(({ check, parts }) => check === raised.check && parts[0] === raised.parts[0]);
  const known = new Set(
    [...recordChecks.flatMap((check) => raisedBy(check, before)), ...settledFindings(before)].map(identity),
  );
  return isGone && after.every((one) => severityRank[one.severity] > severityRank.warning || known.has(identity(one)));
}

function identity({ check, severity, parts }: Raised): string {
  return `${check.code} ${severity} ${parts[0] ?? ''}`;
}
