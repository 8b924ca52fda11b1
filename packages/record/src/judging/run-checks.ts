/** All findings of a record: every check run, one mistake kept to one finding, acceptances honoured, in a settled order. */

import { recordChecks } from '../checks/registry.js';
import type { Raised } from '../checks/types.js';
import type { Analysis } from '../analysis-types.js';
import type { Finding } from '../finding.js';
import { keepOnePerMistake } from './precedence.js';
import { accepts, raise, raisedBy, severityRank } from './raise.js';

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

function asFinding(analysis: Analysis, raised: Raised): Finding {
  const { check, severity, path, related = [], parts } = raised;
  const message = typeof raised.message === 'string' ? raised.message : raised.message();
  const acceptance = check.forbidsAccepting
    ? undefined
    : analysis.installation.accepts.find((accept) => accepts(accept, check.code, parts));
  const finding = { code: check.code, severity, path, message, related, parts, fixes: [] };
  return acceptance === undefined ? finding : { ...finding, accepted: { because: acceptance.because } };
}

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
