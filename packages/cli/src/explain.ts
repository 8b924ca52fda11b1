import { explain as explained, shownReadings } from '@ohmstead/record';
import { explainMarkdown, explainText } from '@ohmstead/views';
import type { ExitStatus } from './main.js';
import { openRecord } from './open.js';
import type { Surroundings } from './surroundings.js';

interface ExplainCommandOptions {
  readonly format: 'text' | 'json' | 'md';
  readonly recentWork?: boolean;
  /** Every block of readings, in place of those of the latest date. */
  readonly all?: boolean;
}

/** Prints which faults fit the readings; status 1 where the house as recorded does not explain them. */
export function explain(here: Surroundings, file: string, options: ExplainCommandOptions): ExitStatus {
  const opened = openRecord(here, file);
  if (!opened) return 2;
  const { analysis } = opened.record;
  const { installation } = analysis;
  const readings = shownReadings(analysis);
  const found = explained(analysis, {
    ...(options.recentWork ? { recentWork: true } : {}),
    ...(options.all ? { blocks: [...(installation.readings ?? []).keys()] } : {}),
  });
  const { title = '', profile } = installation;
  const all = { title, profile, explanation: found, readings };
  if (options.format === 'json') here.out(`${JSON.stringify(found, null, 2)}\n`);
  else here.out(options.format === 'md' ? explainMarkdown(all) : explainText(all));
  return readings.length === 0 || found.healthy ? 0 : 1;
}
