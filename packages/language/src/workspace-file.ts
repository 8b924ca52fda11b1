/** The workspace's own settings: `.ohmstead.json` at its root, beside the records: `{ "levels": { "drop-high": "off" } }`. */

import { levelsFrom, type ReadLevels } from '@ohmstead/record';

export const WORKSPACE_FILE = '.ohmstead.json';

/** No file is no setting; one that can't be understood is a problem, and no level is changed. */
export function levelsFromFile(text: string | undefined): ReadLevels {
  if (text === undefined) return levelsFrom(undefined);
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
