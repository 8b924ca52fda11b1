/** Records from the disk, for the command line. */

import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, resolve, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Levels } from '@ohmstead/record';
import { URI } from 'vscode-uri';
import type { DocumentSource } from './lower/imports.js';
import { levelsOfWorkspace } from './node-levels.js';
import type { VersionText } from './comparison.js';
import { type CheckedRecord, checkRecord } from './pipeline.js';
import { readRecord, underProfile } from './read.js';
import { withoutComments } from './reading/chunks.js';
import { parseWiring, type WiringDocument } from './reading/document.js';
import { WORKSPACE_FILE } from './workspace-file.js';

type FileProblem = 'not-found' | 'is-directory' | 'not-utf-8' | 'unreadable';

interface OpenedFile {
  /** As given. */
  readonly path: string;
  readonly uri: string;
  readonly record: CheckedRecord;
}

interface UnreadableFile {
  readonly path: string;
  readonly problem: FileProblem;
  /** One sentence. */
  readonly message: string;
}

type FileResult = OpenedFile | UnreadableFile;

/** Reads and checks files with what they import, each from the disk once, at the levels of their workspaces. `complain` takes what is wrong with those; `profile` is judged by in place of the records' own. */
export function openFiles(
  paths: readonly string[],
  workingFolder = process.cwd(),
  complain: (problem: string) => void = () => {},
  profile?: string,
): FileResult[] {
  const disk = new Disk();
  const levels = levelsByWorkspace(complain);
  const checked = new Map<string, CheckedRecord>();
  let last: CheckedRecord | undefined;
  const check = (document: WiringDocument): CheckedRecord => {
    const known = checked.get(document.uri);
    if (known) return known;
    const workspace = workspaceOf(fileURLToPath(document.uri), workingFolder);
    const source = disk.within(workspace);
    const imported = (uri: string) => {
      const other = source.document(uri);
      return other && check(other);
    };
    // Records of one house have circuits in common, which are then solved once.
    const reading = readRecord(document, source);
    const asked = profile === undefined ? reading : underProfile(reading, profile);
    const record = checkRecord(asked, { previous: last, imported, levels: levels(workspace) });
    checked.set(document.uri, record);
    last = record;
    return record;
  };
  let first: WiringDocument | undefined;
  return paths.map((path) => {
    const read = disk.read(resolve(workingFolder, path), first);
    // Two that are alone are two versions of one record: what they have in common is read once.
    first ??= paths.length === 2 && 'document' in read && isAlone(read.document.text) ? read.document : undefined;
    if ('problem' in read) return { path, problem: read.problem, message: sentences[read.problem](path) };
    return { path, uri: read.document.uri, record: check(read.document) };
  });
}

export interface FileVersion extends Required<VersionText> {
  /** What is wrong with the workspace's own settings, in sentences. */
  readonly problems: readonly string[];
}

/** A file's text, unread, at the levels of its workspace; undefined where there is none. */
export function versionOf(path: string, workingFolder = process.cwd()): FileVersion | undefined {
  const file = resolve(workingFolder, path);
  const text = readText(file);
  if (typeof text !== 'string') return undefined;
  const problems: string[] = [];
  const levels = levelsByWorkspace((problem) => void problems.push(problem))(workspaceOf(file, workingFolder));
  return { uri: uriOfFile(file), text, levels, problems };
}

function levelsByWorkspace(complain: (problem: string) => void): (workspace: string) => Levels {
  const known = new Map<string, Levels>();
  return (workspace) => {
    const read = known.get(workspace);
    if (read) return read;
    const { levels, problems } = levelsOfWorkspace(workspace);
    for (const problem of problems) complain(`${resolve(workspace, WORKSPACE_FILE)}: ${problem}`);
    known.set(workspace, levels);
    return levels;
  };
}

const sentences: Readonly<Record<FileProblem, (path: string) => string>> = {
  'not-found': (path) => `There is no file \`${path}\`.`,
  'is-directory': (path) => `\`${path}\` is a folder; a record is a file.`,
  'not-utf-8': (path) => `\`${path}\` is not text in UTF-8.`,
  unreadable: (path) => `\`${path}\` cannot be read.`,
};

/** The nearest folder above with a version history; else the working folder if the file is in it; else its own folder. */
export function workspaceOf(file: string, workingFolder: string): string {
  const own = dirname(file);
  for (let folder = own; ; folder = dirname(folder)) {
    if (existsSync(resolve(folder, '.git'))) return folder;
    if (folder === dirname(folder)) break;
  }
  return contains(workingFolder, file) ? resolve(workingFolder) : own;
}

function contains(folder: string, file: string): boolean {
  const base = resolve(folder);
  return resolve(file).startsWith(base.endsWith(sep) ? base : base + sep);
}

/** Whether a text brings no other file into its record. */
function isAlone(text: string): boolean {
  return !/^\s*(import|changes)\b/im.test(withoutComments(text));
}

/** A file's URI in the spelling that imports resolve to. */
export function uriOfFile(file: string): string {
  return URI.parse(pathToFileURL(file).href).toString();
}

type Read = { readonly document: WiringDocument } | { readonly problem: FileProblem };

class Disk {
  readonly #read = new Map<string, Read>();

  read(file: string, like?: WiringDocument): Read {
    let known = this.#read.get(file);
    if (!known) {
      const text = readText(file);
      if (typeof text !== 'string') known = text;
      else known = { document: parseWiring(uriOfFile(file), text, isAlone(text) ? like : undefined) };
      this.#read.set(file, known);
    }
    return known;
  }

  within(workspace: string): DocumentSource {
    return {
      document: (uri) => {
        if (!uri.startsWith('file:')) return undefined;
        const read = this.read(fileURLToPath(uri));
        return 'document' in read ? read.document : undefined;
      },
      isInside: (uri) => uri.startsWith('file:') && contains(workspace, fileURLToPath(uri)),
    };
  }
}

/** A file's text without its byte-order mark's meaning changed, or what keeps it from being read. */
export function readText(file: string): string | { readonly problem: FileProblem } {
  let bytes: Buffer;
  try {
    if (statSync(file).isDirectory()) return { problem: 'is-directory' };
    bytes = readFileSync(file);
  } catch (error) {
    return { problem: (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'not-found' : 'unreadable' };
  }
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return { problem: 'not-utf-8' };
  }
}
