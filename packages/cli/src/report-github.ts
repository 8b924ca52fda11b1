/** Findings as workflow commands, which GitHub shows as annotations on the lines of a pull request. */

import { isAbsolute, relative, resolve, sep } from 'node:path';
import type { Severity } from '@ohmstead/record';
import { countsLine, placeWords, type ReportedFinding, severities } from './report.js';

const commands: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  info: 'notice',
  hint: 'notice',
};

/**
 * One command a line, the worst first since GitHub shows only the first ten of a kind, then the counts. `workspace` is the folder that
 * GitHub tells paths from; `folder` the one that the findings' are told from.
 */
export function findingsGithub(
  findings: readonly ReportedFinding[],
  files: number,
  { workspace, folder }: { readonly workspace: string; readonly folder: string },
): string {
  const rank = ({ accepted, severity }: ReportedFinding): number =>
    accepted ? severities.length : severities.indexOf(severity);
  const inOrder = [...findings].sort((one, other) => rank(one) - rank(other));
  const lines = inOrder.map((finding) => {
    const { file, range, severity, code, message, related, accepted } = finding;
    const { start, end } = range;
    const properties = [
      ['file', fromWorkspace(file, folder, workspace)],
      ['line', start.line + 1],
      ['endLine', end.line + 1],
      // GitHub takes columns only where a finding stands on one line.
      ...(start.line === end.line
        ? [
            ['col', start.character + 1],
            ['endColumn', Math.max(end.character, start.character + 1)],
          ]
        : []),
      ['title', accepted ? `accepted: ${code}` : code],
    ];
    const said = properties.map(([name, value]) => `${name}=${inProperty(String(value))}`).join(',');
    const words = [message, ...related.map((place) => `${placeWords(place.file, place.range)}: ${place.message}`)];
    return `::${accepted ? 'notice' : commands[severity]} ${said}::${inMessage(words.join('\n'))}`;
  });
  return `${[...lines, countsLine(findings, files)].join('\n')}\n`;
}

function fromWorkspace(file: string, folder: string, workspace: string): string {
  const path = relative(workspace, resolve(folder, file));
  return path.startsWith('..') || isAbsolute(path) ? file : path.split(sep).join('/');
}

function inMessage(words: string): string {
  return words.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

function inProperty(value: string): string {
  return inMessage(value).replaceAll(':', '%3A').replaceAll(',', '%2C');
}
