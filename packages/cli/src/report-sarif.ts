/** Findings as a log in SARIF 2.1.0 (OASIS standard, 27 March 2020), which editors and code scanning read. */

import { isAbsolute } from 'node:path';
import { pathToFileURL } from 'node:url';
import { checkPage } from '@ohmstead/language';
import { checkSummaries, type Severity } from '@ohmstead/record';
import type { ReportedFinding, TextRange } from './report.js';

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

/** Clause 3.27.10: `note` is what is no problem in itself. */
const levels: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', info: 'note', hint: 'note' };

interface ExplainedFinding extends ReportedFinding {
  /** Why it was accepted, where it was. */
  readonly because?: string | undefined;
}

interface SarifRun {
  readonly version: string;
  /** False where some record could not be read. */
  readonly complete: boolean;
}

/** One run with the rules that its findings are of. Lines and columns count from 1, columns in UTF-16 units, as clause 3.14.17 has it. */
export function findingsSarif(findings: readonly ExplainedFinding[], { version, complete }: SarifRun): string {
  const codes = [...new Set(findings.map(({ code }) => code))].sort();
  const log = {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Ohmstead', semanticVersion: version, rules: codes.map(ruleOf) } },
        columnKind: 'utf16CodeUnits',
        invocations: [{ executionSuccessful: complete }],
        results: findings.map((finding) => resultOf(finding, codes.indexOf(finding.code))),
      },
    ],
  };
  return `${JSON.stringify(log, null, 2)}\n`;
}

function ruleOf(code: string) {
  const described = checkSummaries.get(code);
  const title = described?.title ?? code;
  const page = checkPage(code) ?? title;
  return {
    id: code,
    shortDescription: { text: title },
    help: { text: page, markdown: page },
    defaultConfiguration: { level: levels[described?.severity ?? 'warning'] },
  };
}

function resultOf(finding: ExplainedFinding, ruleIndex: number) {
  const { file, range, severity, code, message, related, because } = finding;
  const relatedLocations = related.map((place, index) => ({
    id: index + 1,
    message: { text: place.message },
    ...locationOf(place.file, place.range),
  }));
  return {
    ruleId: code,
    ruleIndex,
    level: levels[severity],
    message: { text: message },
    locations: [locationOf(file, range)],
    ...(relatedLocations.length === 0 ? {} : { relatedLocations }),
    // Clause 3.27.23: all results of a run have them, or none has.
    suppressions: because === undefined ? [] : [{ kind: 'inSource', status: 'accepted', justification: because }],
  };
}

function locationOf(file: string, { start, end }: TextRange) {
  return {
    physicalLocation: {
      artifactLocation: artifactOf(file),
      region: {
        startLine: start.line + 1,
        startColumn: start.character + 1,
        endLine: end.line + 1,
        endColumn: end.character + 1,
      },
    },
  };
}

/** Paths are told from the working folder, which is the root of the sources. */
function artifactOf(file: string) {
  if (isAbsolute(file)) return { uri: pathToFileURL(file).href };
  if (/^[a-z-]{2,}:\//.test(file)) return { uri: file };
  return { uri: file.split('/').map(encodeURIComponent).join('/'), uriBaseId: '%SRCROOT%' };
}
