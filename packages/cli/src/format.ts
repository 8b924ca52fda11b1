import { realpathSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { formatText } from '@ohmstead/language/format';
import { readText } from '@ohmstead/language/node';
import { findRecords } from './files.js';
import type { ExitStatus } from './main.js';
import { complain, type Surroundings } from './surroundings.js';

/** Formats the records in place, or only says which would change. */
export function format(
  here: Surroundings,
  paths: readonly string[],
  options: { readonly check?: boolean },
): ExitStatus {
  const { files, problems } = findRecords(here.cwd, paths);
  for (const problem of problems) complain(here, problem);
  let failed = problems.length > 0;
  let changed = 0;
  for (const file of files) {
    const text = readText(resolve(here.cwd, file));
    if (typeof text !== 'string') {
      complain(here, `\`${file}\` cannot be read as text in UTF-8.`);
      failed = true;
      continue;
    }
    const formatted = formatText(text);
    if (typeof formatted !== 'string') {
      complain(here, `${file}: ${formatted.refused}`);
      failed = true;
    } else if (formatted !== text) {
      changed++;
      if (options.check) here.out(`${file} would change\n`);
      else {
        try {
          writeWhole(resolve(here.cwd, file), formatted);
          here.out(`${file} formatted\n`);
        } catch (error) {
          complain(here, `${file}: ${(error as Error).message}; it was left as it was`);
          failed = true;
        }
      }
    }
  }
  if (failed) return 2;
  return options.check && changed > 0 ? 1 : 0;
}

/** Writes beside the file and renames, so that a record is never half written. */
function writeWhole(path: string, text: string): void {
  const file = realpathSync(path);
  const beside = `${file}.${process.pid}.new`;
  try {
    writeFileSync(beside, text, { flag: 'wx', mode: statSync(file).mode, flush: true });
    renameSync(beside, file);
  } catch (error) {
    rmSync(beside, { force: true });
    throw error;
  }
}
