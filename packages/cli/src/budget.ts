import { budgetHtml, budgetMarkdown, budgetText } from '@ohmstead/views';
import type { ExitStatus } from './main.js';
import { openRecord, reported } from './open.js';

/** Prints the load budget. A record with errors still has one for the circuits that can be read. */
export function budget(file: string, options: { readonly format: 'text' | 'json' | 'md' | 'html' }): ExitStatus {
  const opened = openRecord(file);
  if (!opened) return 2;
  const { record } = opened;
  const found = record.budget();
  process.stdout.write(written());
  return 0;

  function written(): string {
    switch (options.format) {
      case 'json':
        return `${JSON.stringify({ ...found, findings: record.findings.map(reported) }, null, 2)}\n`;
      case 'md':
        return budgetMarkdown(found, record.findings);
      case 'html':
        return budgetHtml(found, record.findings);
      default:
        return budgetText(found, { findings: record.findings, colour: process.stdout.isTTY === true });
    }
  }
}
