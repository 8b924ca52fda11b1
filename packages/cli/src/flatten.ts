import { existsSync, writeFileSync } from 'node:fs';
import { flattenPlan } from '@ohmstead/language';
import type { ExitStatus } from './main.js';
import { complain, openRecord } from './open.js';

/** Prints a plan as the full record that it results in, or writes it to a new file. */
export function flatten(file: string, options: { readonly output?: string }): ExitStatus {
  const opened = openRecord(file);
  if (!opened) return 2;
  const { reading } = opened.record;
  const source = { document: (uri: string) => reading.documents.find((document) => document.uri === uri) };
  const text = flattenPlan(reading.document, source);
  if (typeof text !== 'string') {
    complain(`${file}: ${text.refused}`);
    return 2;
  }
  if (options.output === undefined) {
    process.stdout.write(text);
    return 0;
  }
  if (existsSync(options.output)) {
    complain(`${options.output} is there already; it was left as it was.`);
    return 2;
  }
  try {
    writeFileSync(options.output, text, { flag: 'wx' });
  } catch (error) {
    complain(`${options.output}: ${(error as Error).message}`);
    return 2;
  }
  process.stdout.write(`${options.output} written\n`);
  return 0;
}
