/** The workspace's own settings on the disk: `.ohmstead.json` at its root, `{ "levels": { "drop-high": "off" } }`. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { levelsFrom, type ReadLevels } from '@ohmstead/record';

export const WORKSPACE_FILE = '.ohmstead.json';

/** No file is no setting; one that can't be read as such is a problem, and no level is changed. */
export function levelsOfWorkspace(folder: string): ReadLevels {
  let text: string;
  try {
    text = readFileSync(resolve(folder, WORKSPACE_FILE), 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return levelsFrom(undefined);
    return { levels: new Map(), problems: ['it cannot be read.'] };
  }
  return levelsFromFile(text);
}

/** The text of a workspace file. */
export function levelsFromFile(text: string): ReadLevels {
  let settings: unknown;
  try {
    settings = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return { levels: new Map(), problems: [`it is not JSON: ${(error as Error).message}`] };
  }
  if (typeof settings !== 'object' || settings === null || Array.isArray(settings)) {
    return { levels: new Map(), problems: ['it holds an object, such as { "levels": { "drop-high": "off" } }.'] };
  }
  const { levels, ...others } = settings as { readonly levels?: unknown };
  const read = levelsFrom(levels);
  const unknown = Object.keys(others).map((name) => `\`${name}\` is not a setting of it: \`levels\` is.`);
  return { levels: read.levels, problems: [...unknown, ...read.problems] };
}
