/** The workspace's own settings, from the disk. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { ReadLevels } from '@ohmstead/record';
import { levelsFromFile, WORKSPACE_FILE } from './workspace-file.js';

export function levelsOfWorkspace(folder: string): ReadLevels {
  try {
    return levelsFromFile(readFileSync(resolve(folder, WORKSPACE_FILE), 'utf8'));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return levelsFromFile(undefined);
    return { levels: new Map(), problems: ['it cannot be read.'] };
  }
}
