/**
 * The records an editor works on: the text of open documents before that of the disk, read when it is first asked for, checked
 * when things have come to rest. Services read what is kept here; nothing is solved for a request.
 */

import type { Levels } from '@ohmstead/record';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { URI, Utils } from 'vscode-uri';
import { readLibrary } from '../read-library.js';
import { type CheckedRecord, checkRecord } from '../pipeline.js';
import { LIBRARY_SCHEME } from '../protocol.js';
import { type Reading, readRecord } from '../read.js';
import { parseWiring, type WiringDocument } from '../reading/document.js';
import { type FileOutline, outlineOfText } from '../services/workspace-symbols.js';
import { type Files, isAmong } from './files.js';
import { WORKSPACE_FILE } from '../workspace-file.js';
import { WorkspaceLevels } from './workspace-levels.js';

/** A URI in the spelling that imports resolve to. */
export function keyOf(uri: string): string {
  return URI.parse(uri).toString();
}

/** Whether a document ships with the program: it is read with the library and never checked. */
export function isShipped(uri: string): boolean {
  return uri.startsWith(`${LIBRARY_SCHEME}:`);
}

interface Parsed {
  /** The open document's version; undefined for a file on the disk. */
  readonly version: number | undefined;
  /** Undefined where there is no such file. */
  readonly document: WiringDocument | undefined;
}

export interface Checked {
  /** Of the open document that was checked; null for a file on the disk. */
  readonly version: number | null;
  readonly record: CheckedRecord;
  readonly levels: Levels;
}

export class Records {
  readonly #files: Files;
  readonly #levels: WorkspaceLevels;
  #folders: readonly string[] = [];
  readonly #open = new Map<string, TextDocument>();
  readonly #parsed = new Map<string, Parsed>();
  readonly #readings = new Map<string, Reading>();
  /** By record: files that it, or a file that it imports, names and that were not there when it was read. */
  readonly #absent = new Map<string, ReadonlySet<string>>();
  readonly #checked = new Map<string, Checked>();
  /** Of files that are not open. */
  readonly #outlines = new Map<string, FileOutline>();
  /** The last check of each record that could be read to its end. */
  readonly #good = new Map<string, CheckedRecord>();

  constructor(files: Files, levels = new WorkspaceLevels(files, () => {})) {
    this.#files = files;
    this.#levels = levels;
  }

  /** Folders outside which nothing is imported. */
  setFolders(uris: readonly string[]): void {
    this.#folders = uris.map((uri) => keyOf(uri).replace(/\/$/, ''));
    this.#readings.clear();
  }

  /** Takes an open document's present text. */
  opened(document: TextDocument): void {
    this.#open.set(keyOf(document.uri), document);
  }

  closed(uri: string): void {
    const key = keyOf(uri);
    this.#open.delete(key);
    this.#parsed.delete(key);
    this.#readings.delete(key);
    this.#checked.delete(key);
    this.#good.delete(key);
  }

  /** Files on the disk came, went or changed; or folders did, of whose files an editor says nothing then. */
  changedOnDisk(uris: readonly string[]): void {
    const changed = new Set(uris.map(keyOf));
    this.#files.changed?.(changed);
    for (const key of this.#outlines.keys()) if (isAmong(changed, key)) this.#outlines.delete(key);
    for (const key of this.#parsed.keys()) {
      if (isAmong(changed, key) && !this.#open.has(key)) this.#parsed.delete(key);
    }
  }

  /** A file that could not be read at once can be read now. */
  arrived(uri: string): void {
    const key = keyOf(uri);
    this.#outlines.delete(key);
    if (!this.#open.has(key)) this.#parsed.delete(key);
  }

  /** Whether some file of a record, or the settings of its workspace, has been asked for and has not come yet. */
  awaitsFiles(uri: string): boolean {
    const key = keyOf(uri);
    if (this.#levels.awaits(this.#folderOf(key))) return true;
    const absent = this.#absent.get(key) ?? [];
    return [...absent].some((one) => this.#files.awaits?.(one) === true);
  }

  /**
   * Waits for the files of a record that have not come yet, for as many ms as somebody has patience; answers whether nothing is waited
   * for any more.
   */
  async filesCome(uri: string, patience: number): Promise<boolean> {
    if (this.#coming(uri).length === 0) return true;
    let isOver = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const over = new Promise<void>((resolve) => {
      timer = setTimeout(() => {
        isOver = true;
        resolve();
      }, patience);
    });
    // A file that comes may import another.
    for (let coming = this.#coming(uri); coming.length > 0 && !isOver; coming = this.#coming(uri)) {
      await Promise.race([Promise.all(coming), over]);
    }
    clearTimeout(timer);
    return this.#coming(uri).length === 0;
  }

  #coming(uri: string): Promise<void>[] {
    const key = keyOf(uri);
    // Reading the record asks for its files.
    if (!isShipped(key)) this.reading(key);
    const { settingsUri } = this.reachOf(key);
    const wanted = [...(settingsUri === undefined ? [] : [settingsUri]), ...(this.#absent.get(key) ?? [])];
    return wanted.flatMap((one) => this.#files.arrival?.(one) ?? []);
  }

  /** Settles once every file of the workspace can be read. */
  async gather(): Promise<void> {
    await this.#files.gather?.(this.#folders);
  }

  /** Every `.wiring` file of the workspace and every open record. */
  uris(): string[] {
    const listed = this.#folders.flatMap((folder) => this.#files.list(folder).map(keyOf));
    return [...new Set([...this.openUris(), ...listed])];
  }

  /** What every file of the workspace declares. */
  outlines(): FileOutline[] {
    return this.uris().flatMap((uri) => {
      const open = this.#open.get(uri);
      const known = open ? undefined : this.#outlines.get(uri);
      if (known) return [known];
      const text = open ? open.getText() : this.#files.read(uri);
      if (text === undefined) return [];
      const outline = { uri, names: outlineOfText(text) };
      if (!open) this.#outlines.set(uri, outline);
      return [outline];
    });
  }

  /** Files of the workspace whose text has certain words in it. */
  documentsWith(words: string): WiringDocument[] {
    return this.uris().flatMap((uri) => {
      const open = this.#open.get(uri);
      const text = open ? open.getText() : this.#files.read(uri);
      const document = text?.includes(words) ? this.document(uri) : undefined;
      return document ? [document] : [];
    });
  }

  openUris(): string[] {
    return [...this.#open.keys()].filter((uri) => !isShipped(uri));
  }

  openDocument(uri: string): TextDocument | undefined {
    return this.#open.get(keyOf(uri));
  }

  /** Open records that one of the files is part of, or would be if it were there; of a folder, those that a file in it is part of. */
  concernedBy(uris: readonly string[]): string[] {
    const keys = new Set(uris.map(keyOf));
    const isIn = (file: string): boolean => isAmong(keys, file);
    return this.openUris().filter((open) => {
      const parts = this.#readings.get(open)?.documents ?? [];
      return keys.has(open) || parts.some((one) => isIn(one.uri)) || [...(this.#absent.get(open) ?? [])].some(isIn);
    });
  }

  /** A file as it is now; undefined where there is none. */
  document(uri: string): WiringDocument | undefined {
    const key = keyOf(uri);
    if (isShipped(key)) return readLibrary().documents.find((document) => document.uri === key);
    const open = this.#open.get(key);
    const known = this.#parsed.get(key);
    if (known && known.version === open?.version) return known.document;
    const text = open ? open.getText() : this.#files.read(key);
    const document = text === undefined ? undefined : parseWiring(key, text);
    this.#parsed.set(key, { version: open?.version, document });
    return document;
  }

  /** A record as it is now, with what it imports. */
  reading(uri: string): Reading | undefined {
    const key = keyOf(uri);
    const document = this.document(key);
    if (!document) return undefined;
    if (isShipped(key)) return libraryReading(document);
    const known = this.#readings.get(key);
    if (known && this.#stands(known)) return known;
    const isInside = this.#insideOf(key);
    const absent = new Set<string>();
    const source = (other: string): WiringDocument | undefined => {
      const found = this.document(other);
      if (!found) absent.add(keyOf(other));
      return found;
    };
    const reading = readRecord(document, { document: source, isInside });
    this.#readings.set(key, reading);
    this.#absent.set(key, absent);
    return reading;
  }

  /** The last reading of a record, which may be of an earlier text. */
  lastReading(uri: string): Reading | undefined {
    return this.#readings.get(keyOf(uri));
  }

  #stands(reading: Reading): boolean {
    return (
      reading.documents.every((document) => this.document(document.uri) === document) &&
      [...(this.#absent.get(reading.document.uri) ?? [])].every((uri) => this.document(uri) === undefined)
    );
  }

  /** The workspace's folders; a record outside them reaches its own folder only. */
  #insideOf(key: string): (uri: string) => boolean {
    const own = Utils.dirname(URI.parse(key)).toString().replace(/\/$/, '');
    const folders = this.#folderOf(key) === undefined ? [own] : this.#folders;
    return (uri) => folders.some((folder) => uri.startsWith(`${folder}/`));
  }

  /** Which files a record may import, and the one that holds the settings of its workspace. */
  reachOf(uri: string): { readonly isInside: (uri: string) => boolean; readonly settingsUri: string | undefined } {
    const key = keyOf(uri);
    const folder = this.#folderOf(key);
    return { isInside: this.#insideOf(key), settingsUri: folder && `${folder}/${WORKSPACE_FILE}` };
  }

  /** Levels as they would be if the workspace's file had this text. */
  levelsWith(text: string | undefined): Levels {
    return this.#levels.with(text);
  }

  /** The workspace folder that a file is in. */
  #folderOf(key: string): string | undefined {
    return this.#folders.find((folder) => key.startsWith(`${folder}/`));
  }

  /** The last finished check; it may be of an earlier text. */
  checked(uri: string): Checked | undefined {
    return this.#checked.get(keyOf(uri));
  }

  /** The last check of a text that could be read to its end, or of one that could not where there is no other. */
  lastGood(uri: string): CheckedRecord | undefined {
    return this.#good.get(keyOf(uri)) ?? this.checked(uri)?.record;
  }

  /** Checks a record as it is now, unless that is done already. */
  check(uri: string): Checked | undefined {
    const key = keyOf(uri);
    const reading = isShipped(key) ? undefined : this.reading(key);
    if (!reading) return undefined;
    const version = this.#open.get(key)?.version ?? null;
    const known = this.#checked.get(key);
    const levels = this.#levels.of(this.#folderOf(key));
    if (known?.record.reading === reading && known.levels === levels) {
      const again = { version, record: known.record, levels };
      this.#checked.set(key, again);
      return again;
    }
    const imported = (other: string): CheckedRecord | undefined => this.check(other)?.record;
    const record = checkRecord(reading, { previous: known?.record, imported, levels });
    const checked = { version, record, levels };
    this.#checked.set(key, checked);
    if (canBeRead(reading)) this.#good.set(key, record);
    return checked;
  }

  /**
   * Every record of the workspace that one of the files is part of and that may use one of the names, unopened ones included; of all
   * files where none are given.
   */
  recordsWith(uris: ReadonlySet<string> | undefined, names: readonly string[]): Reading[] {
    return this.uris().flatMap((uri) => {
      const text = this.#open.get(uri)?.getText() ?? this.#files.read(uri);
      if (text === undefined || !(uris?.has(uri) || names.some((name) => mayUse(text, name)))) return [];
      const reading = this.reading(uri);
      if (!reading) return [];
      return !uris || reading.documents.some((document) => uris.has(document.uri)) ? [reading] : [];
    });
  }

  /** Lets go of files that no open record needs. */
  release(): void {
    const needed = new Set(this.openUris());
    for (const uri of this.openUris()) {
      const reading = this.#readings.get(uri);
      for (const document of reading?.documents ?? []) needed.add(document.uri);
      for (const absent of this.#absent.get(uri) ?? []) needed.add(absent);
    }
    for (const kept of [this.#parsed, this.#readings, this.#absent, this.#checked]) {
      for (const uri of kept.keys()) if (!needed.has(uri)) kept.delete(uri);
    }
  }
}

/** A file that has not the name itself can still bring together two that have it. */
function mayUse(text: string, name: string): boolean {
  return text.includes(name) || (text.match(/^\s*import\b/gim)?.length ?? 0) > 1;
}

/** A file of the shipped library, which is read as one with the others. */
function libraryReading(document: WiringDocument): Reading {
  const library = readLibrary();
  return { ...library, document, broughtBy: new Map(), missing: [], hasErrors: false };
}

/** Whether every statement of a record could be read and understood, so that no circuit of it is held back. */
export function canBeRead({ documents, installation }: Reading): boolean {
  return installation.broken.size === 0 && documents.every((document) => document.problems.length === 0);
}

/** Builds what every record needs: the parser and the shipped library. */
export function warmUp(): void {
  readRecord(parseWiring('warm-up:record', 'supply warm : up\n'));
}
