/** Levels of checks for each workspace folder: its own file first, the user's settings over it. */

import { type Level, type Levels, levelsFrom } from '@ohmstead/record';
import type { Files } from './files.js';

/** At the root of a workspace, beside the records: `{ "levels": { "drop-high": "off" } }`. */
export const WORKSPACE_FILE = '.ohmstead.json';

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
    const levels = new Map<string, Level>([...this.#fromFile(`${folderUri}/${WORKSPACE_FILE}`), ...this.#settings]);
    if (known && isSame(known, levels)) return known;
    this.#known.set(folderUri, levels);
    return levels;
  }

  #fromFile(uri: string): Levels {
    const text = this.#files.read(uri);
    if (text === undefined) return new Map();
    const { levels, problems } = read(text);
    for (const problem of problems) this.#complain(`${WORKSPACE_FILE}: ${problem}`);
    return levels;
  }
}

function isSame(one: Levels, other: Levels): boolean {
  return one.size === other.size && [...one].every(([code, level]) => other.get(code) === level);
}

function read(text: string): ReturnType<typeof levelsFrom> {
  try {
    const settings: unknown = JSON.parse(text.replace(/^\uFEFF/, ''));
    return levelsFrom((settings as { readonly levels?: unknown } | null)?.levels);
  } catch (error) {
    return { levels: new Map(), problems: [`it is not JSON: ${(error as Error).message}`] };
  }
}
