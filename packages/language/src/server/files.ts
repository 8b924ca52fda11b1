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
  /** A file came, went or changed: it is read anew when it is asked for next. */
  changed?(uri: string): void;
  /** Settles once every `.wiring` file under the folders can be read. */
  gather?(folderUris: readonly string[]): Promise<void>;
}

/** Without a disk: only open documents are known. */
export const NO_FILES: Files = { read: () => undefined, list: () => [] };
