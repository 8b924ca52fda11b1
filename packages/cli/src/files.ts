/** Finds the records that a command's arguments name. */
import { readdirSync, statSync } from 'node:fs';
import { join, resolve, sep } from 'node:path';

interface FoundFiles {
  /** Paths of `.wiring` files, each once, in the order of the arguments, sorted within a directory. */
  readonly files: readonly string[];
  /** One sentence for each argument that leads nowhere. */
  readonly problems: readonly string[];
}

/** Paths are meant, and told, from `cwd`. Directories are walked, leaving out `node_modules` and those whose name starts with a dot; files are taken as they are. */
export function findRecords(cwd: string, paths: readonly string[]): FoundFiles {
  const files = new Set<string>();
  const problems: string[] = [];
  for (const path of paths) {
    const stat = statSync(resolve(cwd, path), { throwIfNoEntry: false });
    if (!stat) problems.push(`${path}: there is no such file or directory`);
    else if (!stat.isDirectory()) files.add(path);
    else {
      const found = recordsIn(cwd, path, problems);
      if (found.length === 0) problems.push(`${path}: there is no .wiring file in this directory`);
      for (const file of found) files.add(file);
    }
  }
  return { files: [...files], problems };
}

function recordsIn(cwd: string, directory: string, problems: string[]): string[] {
  let entries: import('node:fs').Dirent[];
  try {
    entries = readdirSync(resolve(cwd, directory), { withFileTypes: true });
  } catch (error) {
    problems.push(`${directory}: ${(error as Error).message}`);
    return [];
  }
  const found: string[] = [];
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
    const path = join(directory, entry.name);
    if (entry.isDirectory()) found.push(...recordsIn(cwd, path, problems));
    else if (entry.isFile() && entry.name.endsWith('.wiring')) found.push(path.split(sep).join('/'));
  }
  return found;
}
