/** Findings as an editor lists them. */

import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver';
import type { LocatedFinding } from '../pipeline.js';
import type { CheckedRecord } from '../pipeline.js';
import type { BudgetAnswer, LocatedFinding as SentFinding, ProtocolLocation } from '../protocol.js';
import { at } from '@ohmstead/record';
import { placeOf } from '../services/names.js';
import { pageUri } from './library-documents.js';

const SEVERITIES = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  info: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
} as const;

/** `uriFor` gives the editor's own spelling of a URI. */
export function diagnosticOf(finding: LocatedFinding, uriFor: (uri: string) => string): Diagnostic {
  const { accepted, related } = finding;
  return {
    range: finding.range,
    // What somebody has taken responsibility for stays in the list, and no longer shouts.
    severity: accepted ? DiagnosticSeverity.Hint : SEVERITIES[finding.severity],
    code: finding.code,
    codeDescription: { href: pageUri(finding.code) },
    source: 'ohmstead',
    message: accepted ? `${finding.message} Accepted: ${accepted.because}` : finding.message,
    ...(related.length === 0
      ? {}
      : {
          relatedInformation: related.map(({ uri, range, message }) => ({
            location: { uri: uriFor(uri), range },
            message,
          })),
        }),
  };
}

/** The last good load budget, where its parts are declared now, and the findings of now. */
export function budgetAnswer(
  good: CheckedRecord | undefined,
  now: CheckedRecord | undefined,
  version: number | null,
  stale: boolean,
  uriFor: (uri: string) => string,
): BudgetAnswer {
  return {
    version,
    stale,
    budget: good?.budget() ?? null,
    locations: now ? locationsOf(now, uriFor) : {},
    findings: (now?.findings ?? []).map((finding) => sentFinding(finding, uriFor)),
  };
}

/** Where parts, runs and jumpers are declared, by name. */
export function locationsOf(
  { reading }: CheckedRecord,
  uriFor: (uri: string) => string,
): Record<string, ProtocolLocation> {
  const locations: Record<string, ProtocolLocation> = {};
  for (const { name, declarations } of reading.names.names('part')) {
    const [site] = declarations;
    if (!site) continue;
    const { uri, range } = placeOf(site);
    locations[name] = { uri: uriFor(uri), range };
  }
  for (const { name, named } of reading.installation.jumpers) {
    const place = named ? undefined : reading.sourceMap.locate(at.jumper(name));
    if (place) locations[name] = { uri: uriFor(place.uri), range: place.range };
  }
  return locations;
}

function sentFinding(finding: LocatedFinding, uriFor: (uri: string) => string): SentFinding {
  const { uri, range, code, severity, message, parts, accepted } = finding;
  return { uri: uriFor(uri), range, code, severity, message, parts, ...(accepted ? { accepted } : {}) };
}
