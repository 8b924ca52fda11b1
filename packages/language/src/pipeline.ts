/** Text -> record -> solution -> findings, the same for editor, panel and command line. */

import {
  type Analysis,
  analyse,
  at,
  type Budget,
  budgetOf,
  type Finding,
  fixesFor,
  runChecks,
  type Severity,
} from '@ohmstead/record';
import type { TextFix } from './lower/context.js';
import { rangeOf } from './lower/sites.js';
import type { TextRange } from './reading/document.js';
import type { Reading } from './read.js';
import { editsOf } from './services/fix-edits.js';

export interface LocatedFinding {
  readonly uri: string;
  readonly range: TextRange;
  readonly severity: Severity;
  readonly code: string;
  readonly message: string;
  readonly related: readonly { readonly uri: string; readonly range: TextRange; readonly message: string }[];
  readonly accepted?: { readonly because: string };
  /** Those that reading the text offers; the computed ones are worked out by `fixesOf` when they are asked for. */
  readonly fixes: readonly TextFix[];
  /** Names of the parts, runs and jumpers it is about. */
  readonly parts: readonly string[];
}

export interface CheckedRecord {
  readonly reading: Reading;
  readonly analysis: Analysis;
  /** Of the record's own file, in order of place; what is wrong in an imported file is said when that file is checked. */
  readonly findings: readonly LocatedFinding[];
  budget(): Budget;
  /** All fixes of one of `findings`; solves circuits anew, so not for every keystroke. */
  fixesOf(finding: LocatedFinding): readonly TextFix[];
}

export interface CheckOptions {
  /** An earlier check of the same record: solutions of circuits that did not change are taken over. */
  readonly previous?: CheckedRecord | undefined;
  /** An imported file checked by itself, to tell its own findings from those that this record causes in it. */
  readonly imported?: (uri: string) => CheckedRecord | undefined;
}

/** Files whose check is under way: those that import one another must not wait for one another for ever. */
const underWay = new Set<string>();

export function checkRecord(reading: Reading, options: CheckOptions = {}): CheckedRecord {
  const { uri } = reading.document;
  const isFirst = !underWay.has(uri);
  underWay.add(uri);
  try {
    return check(reading, options);
  } finally {
    if (isFirst) underWay.delete(uri);
  }
}

function check(reading: Reading, options: CheckOptions): CheckedRecord {
  const analysis = analyse(reading.installation, options.previous?.analysis);
  const concluded = runChecks(analysis);
  const computed = new Map<LocatedFinding, Finding>();
  const findings: LocatedFinding[] = [...reading.findings];
  for (const finding of concluded) {
    const located = locate(reading, finding, options.imported);
    if (!located) continue;
    findings.push(located);
    computed.set(located, finding);
  }
  findings.sort(byPlace);
  let budget: Budget | undefined;
  return {
    reading,
    analysis,
    findings,
    budget() {
      budget ??= budgetOf(analysis, [...reading.findings.map((one) => ofReader(reading, one)), ...concluded]);
      return budget;
    },
    fixesOf(located) {
      const finding = computed.get(located);
      return finding ? computedFixes(reading, analysis, finding) : located.fixes;
    },
  };
}

/** Puts a finding at its place; one that this record causes in an imported file stands at the import. */
function locate(reading: Reading, finding: Finding, imported: CheckOptions['imported']): LocatedFinding | undefined {
  const { sourceMap, document } = reading;
  const place = sourceMap.locate(finding.path) ?? sourceMap.locate(at.record());
  if (!place) return undefined;
  const { code, severity, message, parts, accepted } = finding;
  const related = finding.related.flatMap(({ path, message: words }) => {
    const where = sourceMap.locate(path);
    return where ? [{ ...where, message: words }] : [];
  });
  const facts = { severity, code, message, fixes: [], parts, ...(accepted ? { accepted } : {}) };
  if (place.uri === document.uri) return { ...place, ...facts, related };
  const own = underWay.has(place.uri) ? undefined : imported?.(place.uri)?.findings;
  if (own?.some((one) => one.code === code && one.parts.join() === parts.join())) return undefined;
  const statement = reading.broughtBy.get(place.uri);
  if (!statement) return undefined;
  const range = rangeOf({ document, node: statement, property: 'path' });
  return { uri: document.uri, range, ...facts, related: [{ ...place, message: 'It is here.' }, ...related] };
}

function computedFixes(reading: Reading, analysis: Analysis, finding: Finding): TextFix[] {
  return fixesFor(analysis, finding).flatMap(({ title, changes }) => {
    const edits = editsOf(reading, changes);
    return edits ? [{ title, edits }] : [];
  });
}

/** A finding of the reading, as the budget lists it beside the others. */
function ofReader({ sourceMap }: Reading, { code, severity, message, parts }: LocatedFinding): Finding {
  const name = parts[0];
  const path = [name && at.part(name), name && at.run(name), name && at.jumper(name)].find(
    (one) => one && sourceMap.exact(one),
  );
  return { code, severity, message, path: path || at.record(), related: [], parts, fixes: [] };
}

function byPlace(a: LocatedFinding, b: LocatedFinding): number {
  return (
    a.range.start.line - b.range.start.line ||
    a.range.start.character - b.range.start.character ||
    (a.code < b.code ? -1 : a.code > b.code ? 1 : 0)
  );
}
