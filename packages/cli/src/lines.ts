import { canonicalLines } from '@ohmstead/language';
import { readText } from '@ohmstead/language/node';
import type { ExitStatus } from './main.js';
import { complain } from './open.js';

/** Prints a record's lines for `git diff`: the same however it is laid out and ordered. */
export function lines(file: string): ExitStatus {
  const text = readText(file);
  if (typeof text !== 'string') {
    complain(`\`${file}\` cannot be read as text in UTF-8.`);
    return 2;
  }
  process.stdout.write(
    canonicalLines(text)
      .map((line) => `${line}\n`)
      .join(''),
  );
  return 0;
}
