import { budgetHtml, budgetMarkdown, budgetText } from '@ohmstead/views';
import type { ExitStatus } from './main.js';
import { openRecord, reported } from './open.js';
import type { Surroundings } from './surroundings.js';

/** Prints the load budget. A record with errors still has one for the circuits that can be read. */
export function budget(
  here: Surroundings,
  file: string,
  options: { readonly format: 'text' | 'json' | 'md' | 'html' },
): ExitStatus {
  const opened = openRecord(here, file);
  if (!opened) return 2;
  const { record } = opened;
  const found = record.budget();
  here.out(written());
  return 0;

  function written(): string {
    switch (options.format) {
      case 'json':
        return `${JSON.stringify({ ...found, findings: record.findings.map((one) => reported(here, one)) }, null, 2)}\n`;
      case 'md':
        return budgetMarkdown(found, record.findings);
      case 'html':
        return budgetHtml(found, record.findings);
      default:
        return budgetText(found, { findings: record.findings, colour: here.isTerminal });
    }
  }
}
