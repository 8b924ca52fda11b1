/** Levels of checks for each workspace folder: its own file first, the user's settings over it. */

import { type Level, type Levels, levelsFrom } from '@ohmstead/record';
import { levelsFromFile, WORKSPACE_FILE } from '../workspace-file.js';
import type { Files } from './files.js';

export class WorkspaceLevels {
  readonly #files: Files;
  readonly #complain: (problem: string) => void;
  readonly #known = new Map<string, Levels>();
  #settings: Levels = new Map();
  #stale = new Set<string>();

  constructor(files: Files, complain: (problem: string) => void) {
    this.#files = files;
    this.#complain = complain;
  }

  /** What the user has set, as the editor gives it. */
  set(settings: unknown): void {
    const { levels, problems } = levelsFrom(settings);
    for (const problem of problems) this.#complain(`ohmstead.levels: ${problem}`);
    this.#settings = levels;
    this.#known.clear();
  }

  /** A workspace's file may say something else now. */
  forget(): void {
    this.#stale = new Set(this.#known.keys());
  }

  /** Whether a workspace's file has been asked for and has not come yet. */
  awaits(folderUri: string | undefined): boolean {
    this.of(folderUri);
    return folderUri !== undefined && this.#files.awaits?.(`${folderUri}/${WORKSPACE_FILE}`) === true;
  }

  /** The same object until something changes; of records outside every folder, the user's settings alone. */
  of(folderUri: string | undefined): Levels {
    if (folderUri === undefined) return this.#settings;
    const known = this.#known.get(folderUri);
    if (known && !this.#stale.delete(folderUri)) return known;
    const levels = this.with(this.#files.read(`${folderUri}/${WORKSPACE_FILE}`));
    if (known && isSame(known, levels)) return known;
    this.#known.set(folderUri, levels);
    return levels;
  }

  /** Those of a workspace's file with the user's settings over them. */
  with(text: string | undefined): Levels {
    const { levels, problems } = levelsFromFile(text);
    for (const problem of problems) this.#complain(`${WORKSPACE_FILE}: ${problem}`);
    return new Map<string, Level>([...levels, ...this.#settings]);
  }
}

function isSame(one: Levels, other: Levels): boolean {
  return one.size === other.size && [...one].every(([code, level]) => other.get(code) === level);
}
