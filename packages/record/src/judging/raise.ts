/** From a check's report to what precedence and acceptance work on. */

import type { Analysis } from '../analysis-types.js';
import type { Raised, RecordCheck, Report } from '../checks/types.js';
import type { Severity } from '../finding.js';
import type { Acceptance } from '../model.js';

/** What one check says of a record, nothing yielded. */
export function raisedBy(check: RecordCheck, analysis: Analysis): readonly Raised[] {
  const raised: Raised[] = [];
  check.run(analysis, (report) => raised.push(raise(check, report)));
  return raised;
}

export function raise(check: RecordCheck, report: Report): Raised {
  return { ...report, check, severity: report.severity ?? check.severities[0] ?? 'error' };
}

export function accepts(accept: Acceptance, code: string, parts: readonly string[]): boolean {
  return accept.code === code && (accept.on === undefined || parts.includes(accept.on));
}

export const severityRank: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2, hint: 3 };
