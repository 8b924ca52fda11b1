/**
 * Files that only the editor can reach, as in a browser: asked of it by named requests and kept until they change. A file that
 * is asked for is not there at first; who wanted it is told when it has come.
 */

import { type Files, isAmong } from './files.js';

export interface FileAsker {
  /** A file's text; null where there is none. */
  read(uri: string): Promise<string | null>;
  list(folderUri: string): Promise<readonly string[]>;
  /** A file that was asked for can be read from now on, or is known not to be there. */
  arrived(uri: string): void;
}

/** Files asked for at a time: a workspace is not asked for all at once. */
const AT_A_TIME = 16;

export class ClientFiles implements Files {
  readonly #asker: FileAsker;
  readonly #texts = new Map<string, string | null>();
  readonly #asked = new Map<string, Promise<void>>();
  readonly #lists = new Map<string, readonly string[]>();

  constructor(asker: FileAsker) {
    this.#asker = asker;
  }

  read(uri: string): string | undefined {
    const known = this.#texts.get(uri);
    if (known !== undefined) return known ?? undefined;
    void this.#ask(uri);
    return undefined;
  }

  list(folderUri: string): readonly string[] {
    return this.#lists.get(folderUri) ?? [];
  }

  awaits(uri: string): boolean {
    return this.#asked.has(uri);
  }

  arrival(uri: string): Promise<void> | undefined {
    return this.#asked.get(uri);
  }

  changed(uris: ReadonlySet<string>): void {
    for (const kept of [this.#texts, this.#asked]) {
      for (const known of kept.keys()) if (isAmong(uris, known)) kept.delete(known);
    }
  }

  async gather(folderUris: readonly string[]): Promise<void> {
    for (const folder of folderUris) this.#lists.set(folder, await this.#asker.list(folder));
    const waiting = [...this.#lists.values()].flat().filter((uri) => !this.#texts.has(uri));
    const next = async (): Promise<void> => {
      for (let uri = waiting.pop(); uri !== undefined; uri = waiting.pop()) await this.#ask(uri);
    };
    await Promise.all(Array.from({ length: AT_A_TIME }, next));
  }

  #ask(uri: string): Promise<void> {
    const known = this.#asked.get(uri);
    if (known) return known;
    const asked = this.#asker
      .read(uri)
      .catch(() => null)
      .then((text) => {
        // A change that came in between has made the answer old.
        if (this.#asked.get(uri) !== asked) return;
        this.#asked.delete(uri);
        this.#texts.set(uri, text);
        this.#asker.arrived(uri);
      });
    this.#asked.set(uri, asked);
    return asked;
  }
}

/** Of the machine the server runs on where it has the file, of the editor for all others. */
export function filesOf(own: Files | undefined, owns: (uri: string) => boolean, others: Files): Files {
  const of = (uri: string): Files => (own && owns(uri) ? own : others);
  return {
    read: (uri) => of(uri).read(uri),
    list: (uri) => of(uri).list(uri),
    awaits: (uri) => of(uri).awaits?.(uri) === true,
    arrival: (uri) => of(uri).arrival?.(uri),
    changed(uris) {
      own?.changed?.(uris);
      others.changed?.(uris);
    },
    gather: async (uris) => {
      await others.gather?.(uris.filter((uri) => of(uri) === others));
    },
  };
}
