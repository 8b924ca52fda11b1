import { existsSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { flattenPlan } from '@ohmstead/language';
import type { ExitStatus } from './main.js';
import { openRecord } from './open.js';
import { complain, type Surroundings } from './surroundings.js';

/** Prints a plan as the full record that it results in, or writes it to a new file. */
export function flatten(here: Surroundings, file: string, options: { readonly output?: string }): ExitStatus {
  const opened = openRecord(here, file);
  if (!opened) return 2;
  const { reading } = opened.record;
  const source = { document: (uri: string) => reading.documents.find((document) => document.uri === uri) };
  const text = flattenPlan(reading.document, source);
  if (typeof text !== 'string') {
    complain(here, `${file}: ${text.refused}`);
    return 2;
  }
  if (options.output === undefined) {
    here.out(text);
    return 0;
  }
  const output = resolve(here.cwd, options.output);
  if (existsSync(output)) {
    complain(here, `${options.output} is there already; it was left as it was.`);
    return 2;
  }
  try {
    writeFileSync(output, text, { flag: 'wx' });
  } catch (error) {
    complain(here, `${options.output}: ${(error as Error).message}`);
    return 2;
  }
  here.out(`${options.output} written\n`);
  return 0;
}
