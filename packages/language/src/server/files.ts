/** Files as the server sees them: asked of whoever runs it, so that it knows neither Node nor a browser. */

export interface Files {
  /** A file's text, or undefined where there is none that can be read. */
  read(uri: string): string | undefined;
  /** The `.wiring` files under a folder. */
  list(folderUri: string): readonly string[];
  /** Whether a file has been asked for and has not come yet: nothing can be said of it. */
  awaits?(uri: string): boolean;
  /** Settles once such a file has come or is known not to be there; undefined for all others. */
  arrival?(uri: string): Promise<void> | undefined;
  /** Files or folders came, went or changed: they are read anew when they are asked for next. */
  changed?(uris: ReadonlySet<string>): void;
  /** Settles once every `.wiring` file under the folders can be read. */
  gather?(folderUris: readonly string[]): Promise<void>;
}

/** Whether a file is one of these, or is in a folder that is; asked of a file, since there may be very many of them. */
export function isAmong(uris: ReadonlySet<string>, file: string): boolean {
  for (let end = file.length; end > 0; end = file.lastIndexOf('/', end - 1)) {
    if (uris.has(file.slice(0, end))) return true;
  }
  return false;
}

/** Without a disk: only open documents are known. */
export const NO_FILES: Files = { read: () => undefined, list: () => [] };
