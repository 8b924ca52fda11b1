/** Files as the server sees them: asked of whoever runs it, so that it knows neither Node nor a browser. */

export interface Files {
  /** A file's text, or undefined where there is none that can be read. */
  read(uri: string): string | undefined;
  /** The `.wiring` files under a folder. */
  list(folderUri: string): readonly string[];
}

/** Without a disk: only open documents are known. */
export const NO_FILES: Files = { read: () => undefined, list: () => [] };
