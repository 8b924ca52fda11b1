import type { Severity } from '@ohmstead/record';
import type { ExitStatus } from './main.js';
import { openRecords, reported, textOfFile } from './open.js';
import { failsOn, findingsJson, findingsText } from './report.js';

/** Prints all findings of the records at the paths. */
export function check(
  paths: readonly string[],
  options: { readonly format: 'text' | 'json'; readonly failOn: Severity },
): ExitStatus {
  const { opened, failed } = openRecords(paths);
  const findings = opened.flatMap(({ record }) => record.findings.map(reported));
  process.stdout.write(
    options.format === 'json' ? findingsJson(findings) : findingsText(findings, opened.length, textOfFile),
  );
  if (failed) return 2;
  return failsOn(findings, options.failOn) ? 1 : 0;
}
