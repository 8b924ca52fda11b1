/** Findings that are gone and findings that are new. */

import { grouped } from '../grouped.js';
import { severityRank } from '../judging/raise.js';
import { compare } from '../resolve/parts.js';
import type { ComparedFinding, Comparison } from './types.js';

/** What a finding is known by, wherever it comes from. */
export type Told = Pick<ComparedFinding, 'code' | 'severity' | 'parts'> & { readonly accepted?: unknown };

/**
 * `nameNow` is what a name of the old record is called in the new one. A finding is known by its code and by the part that it is mostly
 * about: its figures and what else it names may differ.
 */
export function splitFindings<Old extends Told, New extends Told>(
  before: readonly Old[],
  after: readonly New[],
  nameNow: (name: string) => string,
): { readonly gone: readonly Old[]; readonly new: readonly New[]; readonly kept: readonly (readonly [Old, New])[] } {
  const keyOf = ({ code, severity, accepted }: Told, [mostly = '']: readonly string[]): string =>
    [code, severity, Boolean(accepted), mostly].join(' ');
  const left: Map<string, New[]> = grouped(after, (finding) => keyOf(finding, finding.parts));
  const gone: Old[] = [];
  const kept: (readonly [Old, New])[] = [];
  for (const finding of before) {
    const parts = finding.parts.map(nameNow);
    const alike = left.get(keyOf(finding, parts)) ?? [];
    const exact = alike.findIndex((one) => one.parts.join() === parts.join());
    const [same] = alike.splice(Math.max(0, exact), 1);
    if (same) kept.push([finding, same]);
    else gone.push(finding);
  }
  return { gone, new: [...left.values()].flat(), kept };
}

/** `touched`: names on circuits that something changed on. Of the findings that stay, only those about such count. */
export function findingDifferences(
  before: readonly ComparedFinding[],
  after: readonly ComparedFinding[],
  nameNow: (name: string) => string,
  touched: { readonly before: ReadonlySet<string>; readonly after: ReadonlySet<string> },
): Comparison['findings'] {
  const { gone, new: brought, kept } = splitFindings(before, after, nameNow);
  const there = kept.filter(
    ([one, other]) =>
      one.parts.some((name) => touched.before.has(name)) || other.parts.some((name) => touched.after.has(name)),
  );
  return { gone: inOrder(gone), new: inOrder(brought), kept: there.length };
}

function inOrder(findings: readonly ComparedFinding[]): readonly ComparedFinding[] {
  const plain = findings.map(({ code, severity, message, parts, accepted }) => ({
    code,
    severity,
    message,
    parts,
    accepted,
  }));
  return plain.sort(
    (one, other) =>
      severityRank[one.severity] - severityRank[other.severity] ||
      compare(one.code, other.code) ||
      compare(one.message, other.message),
  );
}
