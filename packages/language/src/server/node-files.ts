/** Files on the disk of the machine the server runs on. */

import { type Dirent, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { URI } from 'vscode-uri';
import type { Files } from './files.js';

/** Folders that hold no records of their own. */
const SKIPPED: ReadonlySet<string> = new Set(['node_modules', 'dist', 'out']);

export const nodeFiles: Files = {
  read(uri) {
    const parsed = URI.parse(uri);
    if (parsed.scheme !== 'file') return undefined;
    try {
      return readFileSync(parsed.fsPath, 'utf8');
    } catch {
      return undefined;
    }
  },
  list(folderUri) {
    const parsed = URI.parse(folderUri);
    if (parsed.scheme !== 'file') return [];
    const found: string[] = [];
    walk(parsed.fsPath, found);
    return found.map((path) => URI.file(path).toString());
  },
};

function walk(folder: string, found: string[]): void {
  let entries: Dirent[];
  try {
    entries = readdirSync(folder, { withFileTypes: true });
  } catch {
    return;
  }
  for (const entry of entries) {
    if (entry.name.startsWith('.') || SKIPPED.has(entry.name)) continue;
    const path = join(folder, entry.name);
    if (entry.isDirectory()) walk(path, found);
    else if (entry.name.endsWith('.wiring')) found.push(path);
  }
}
