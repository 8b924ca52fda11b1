/** All findings of a record: every check run, one mistake kept to one finding, acceptances honoured, in a settled order. */

import { recordChecks } from '../checks/registry.js';
import type { Raised, RecordCheck, Report } from '../checks/types.js';
import type { Analysis } from '../analysis-types.js';
import type { Finding, Severity } from '../finding.js';
import { keepOnePerMistake } from './precedence.js';

/** What the checks conclude; `fixes` stays empty here, for `fixesFor` to work out when they are asked for. */
export function runChecks(analysis: Analysis): Finding[] {
  return inOrder(settledFindings(analysis).map((raised) => asFinding(analysis, raised)));
}

const settled = new WeakMap<Analysis, readonly Raised[]>();

/** Findings after precedence, before their words are made. */
export function settledFindings(analysis: Analysis): readonly Raised[] {
  const known = settled.get(analysis);
  if (known !== undefined) return known;
  const kept = keepOnePerMistake(
    analysis,
    recordChecks.flatMap((check) => raisedBy(check, analysis)),
  );
  const late: Raised[] = [];
  for (const check of recordChecks) check.runAfter(analysis, kept, (report) => late.push(raise(check, report)));
  const all = [...kept, ...late];
  settled.set(analysis, all);
  return all;
}

/** What one check says of a record, nothing yielded. */
export function raisedBy(check: RecordCheck, analysis: Analysis): readonly Raised[] {
  const raised: Raised[] = [];
  check.run(analysis, (report) => raised.push(raise(check, report)));
  return raised;
}

function raise(check: RecordCheck, report: Report): Raised {
  return { ...report, check, severity: report.severity ?? check.severities[0] ?? 'error' };
}

function asFinding(analysis: Analysis, raised: Raised): Finding {
  const { check, severity, path, related = [], parts } = raised;
  const message = typeof raised.message === 'string' ? raised.message : raised.message();
  const acceptance = check.forbidsAccepting
    ? undefined
    : analysis.installation.accepts.find((accept) => accepts(accept, check.code, parts));
  const finding = { code: check.code, severity, path, message, related, parts, fixes: [] };
  return acceptance === undefined ? finding : { ...finding, accepted: { because: acceptance.because } };
}

export function accepts(
  accept: { readonly code: string; readonly on?: string },
  code: string,
  parts: readonly string[],
): boolean {
  return accept.code === code && (accept.on === undefined || parts.includes(accept.on));
}

export const severityRank: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2, hint: 3 };

function inOrder(findings: readonly Finding[]): Finding[] {
  const keyOf = ({ severity, path, code, message }: Finding) => [severityRank[severity], path, code, message] as const;
  return [...findings].sort((one, other) => {
    const mine = keyOf(one);
    const its = keyOf(other);
    for (let place = 0; place < mine.length; place++) {
      if (mine[place]! !== its[place]!) return mine[place]! < its[place]! ? -1 : 1;
    }
    return 0;
  });
}
