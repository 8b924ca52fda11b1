/** Findings as a person or a program reads them. */
import type { Severity } from '@ohmstead/record';

interface Position {
  readonly line: number;
  readonly character: number;
}

export interface TextRange {
  readonly start: Position;
  readonly end: Position;
}

/** A finding with its places as paths that a person can open. Lines and characters count from 0. */
export interface ReportedFinding {
  readonly file: string;
  readonly range: TextRange;
  readonly severity: Severity;
  readonly code: string;
  readonly message: string;
  readonly related: readonly { readonly file: string; readonly range: TextRange; readonly message: string }[];
  readonly accepted: boolean;
}

export const severities: readonly Severity[] = ['error', 'warning', 'info', 'hint'];

/** How many findings of each severity there are; accepted ones are not counted. */
export function summaryOf(findings: readonly ReportedFinding[]): Record<Severity, number> {
  const summary: Record<Severity, number> = { error: 0, warning: 0, info: 0, hint: 0 };
  for (const finding of findings) if (!finding.accepted) summary[finding.severity]++;
  return summary;
}

/** True where a finding that nobody accepted is at or above the severity. */
export function failsOn(findings: readonly ReportedFinding[], least: Severity): boolean {
  const limit = severities.indexOf(least);
  return findings.some((finding) => !finding.accepted && severities.indexOf(finding.severity) <= limit);
}

/** The object that `check --format json` prints; `packages/cli/schema/check.schema.json` describes it. */
export function findingsJson(findings: readonly ReportedFinding[]): string {
  return `${JSON.stringify({ version: 1, findings, summary: summaryOf(findings) }, null, 2)}\n`;
}

/** Each finding with its line, the token underlined and what explains it, then the counts. `textOf` gives a file's text. */
export function findingsText(
  findings: readonly ReportedFinding[],
  files: number,
  textOf: (file: string) => string | undefined,
): string {
  const out: string[] = [];
  for (const finding of findings) {
    const { file, range, severity, code, message, related, accepted } = finding;
    out.push(`${placeWords(file, range)}: ${accepted ? `accepted ${severity}` : severity} ${code}`);
    out.push(...wrapped(message, '    '));
    out.push(...excerpt(textOf(file), range));
    for (const place of related)
      out.push(...wrapped(`${placeWords(place.file, place.range)}: ${place.message}`, '    '));
    out.push('');
  }
  out.push(countsLine(findings, files));
  return `${out.join('\n')}\n`;
}

/** "house.wiring:3:7", from 1. */
export function placeWords(file: string, range: TextRange): string {
  return `${file}:${range.start.line + 1}:${range.start.character + 1}`;
}

function excerpt(text: string | undefined, range: TextRange): string[] {
  const line = text?.split(/\r\n|\n|\r/)[range.start.line];
  if (line === undefined) return [];
  const shown = line.replaceAll('\t', ' ').trimEnd();
  const number = String(range.start.line + 1);
  const last = range.end.line === range.start.line ? range.end.character : shown.length;
  const width = Math.max(1, last - range.start.character);
  const gutter = ' '.repeat(number.length);
  return [`    ${number} | ${shown}`, `    ${gutter} | ${' '.repeat(range.start.character)}${'~'.repeat(width)}`];
}

function wrapped(words: string, indent: string): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of words.split(/\s+/)) {
    if (line !== '' && indent.length + line.length + 1 + word.length > 100) {
      lines.push(indent + line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') lines.push(indent + line);
  return lines;
}

/** "2 records: 1 error, 3 warnings". */
export function countsLine(findings: readonly ReportedFinding[], files: number): string {
  const summary = summaryOf(findings);
  const accepted = findings.filter((finding) => finding.accepted).length;
  const counts = severities
    .filter((severity) => summary[severity] > 0)
    .map((severity) => counted(summary[severity], severity));
  const said = counts.length === 0 ? 'no findings' : counts.join(', ');
  return `${counted(files, 'record')}: ${said}${accepted > 0 ? `, ${accepted} accepted` : ''}`;
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 || noun === 'info' ? '' : 's'}`;
}
