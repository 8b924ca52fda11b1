import { resolve } from 'node:path';
import { canonicalLines } from '@ohmstead/language';
import { readText } from '@ohmstead/language/node';
import type { ExitStatus } from './main.js';
import { complain, type Surroundings } from './surroundings.js';

/** Prints a record's lines for `git diff`: the same however it is laid out and ordered. */
export function lines(here: Surroundings, file: string): ExitStatus {
  const text = readText(resolve(here.cwd, file));
  if (typeof text !== 'string') {
    complain(here, `\`${file}\` cannot be read as text in UTF-8.`);
    return 2;
  }
  here.out(
    canonicalLines(text)
      .map((line) => `${line}\n`)
      .join(''),
  );
  return 0;
}
