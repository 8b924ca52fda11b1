/** Names of a whole workspace by what somebody remembers of them, told from the texts alone: a thousand files are not parsed for it. */

import { type Location, type SymbolInformation, SymbolKind } from 'vscode-languageserver';
import { chunksOf } from '../reading/chunks.js';
import type { TextRange } from '../reading/document.js';

export interface OutlinedName {
  readonly name: string;
  readonly kind: SymbolKind;
  /** Its type or what it is. */
  readonly detail: string;
  readonly range: TextRange;
}

export interface FileOutline {
  readonly uri: string;
  readonly names: readonly OutlinedName[];
}

/** More than these nobody reads. */
const MOST = 500;

const NAME = '[\\p{L}][\\p{L}\\p{M}\\p{N}-]*';
const HEAD = new RegExp(
  `^(supply|device|cable|place|splice|run|jumper|pigtail|box)(\\s+type)?\\s+(${NAME})(?:\\s*:\\s*(${NAME}))?`,
  'iu',
);

/** What takes another's place under a name of its own. */
const REPLACED = new RegExp(
  `^replace\\s+(supply|device|run)\\s+${NAME}\\s+with\\s+(${NAME})(?:\\s*:\\s*(${NAME}))?`,
  'iu',
);

const KINDS: Readonly<Record<string, SymbolKind>> = {
  supply: SymbolKind.Event,
  device: SymbolKind.Object,
  place: SymbolKind.Namespace,
  splice: SymbolKind.Operator,
  run: SymbolKind.Interface,
  jumper: SymbolKind.Interface,
  pigtail: SymbolKind.Interface,
  box: SymbolKind.Package,
  'supply type': SymbolKind.Class,
  'device type': SymbolKind.Class,
  'cable type': SymbolKind.Struct,
};

/** What a text declares by name, in order of place; jumpers that have no name are left out. */
export function outlineOfText(text: string): OutlinedName[] {
  const names: OutlinedName[] = [];
  let line = 0;
  for (const chunk of chunksOf(text)) {
    const head = HEAD.exec(chunk);
    const other = head ? null : REPLACED.exec(chunk);
    const found = head ? named(chunk, head) : other ? replacing(other) : undefined;
    if (found) {
      const above = found.offset === 0 ? [] : chunk.slice(0, found.offset).split(/\r\n|\r|\n/);
      const start = { line: line + above.length - 1, character: above.at(-1)?.length ?? 0 };
      const end = { line: start.line, character: start.character + found.name.length };
      names.push({ name: found.name, kind: found.kind, detail: found.detail, range: { start, end } });
    }
    for (const _ of chunk.matchAll(/\r\n|\r|\n/g)) line++;
  }
  return names;
}

interface Found {
  readonly name: string;
  readonly kind: SymbolKind;
  readonly detail: string;
  readonly offset: number;
}

function named(chunk: string, [whole, word = '', type, name = '', of]: RegExpExecArray): Found | undefined {
  const statement = word.toLowerCase();
  const what = type === undefined ? statement : `${statement} type`;
  const kind = KINDS[what];
  if (kind === undefined) return undefined;
  const offset = whole.indexOf(name, word.length + (type?.length ?? 0));
  // "jumper a.b to c.d" names no jumper.
  const isJumper = statement === 'jumper' || statement === 'pigtail';
  if (isJumper && !/^\s*:/.test(chunk.slice(offset + name.length))) return undefined;
  const isPart = type === undefined && (statement === 'supply' || statement === 'device');
  return { name, kind, detail: isPart && of !== undefined ? of : what, offset };
}

function replacing([whole, word = '', name = '', of]: RegExpExecArray): Found | undefined {
  const kind = KINDS[word.toLowerCase()];
  if (kind === undefined) return undefined;
  const offset = /\swith\s+/i.exec(whole);
  return offset ? { name, kind, detail: of ?? word.toLowerCase(), offset: offset.index + offset[0].length } : undefined;
}

/** Names whose letters hold those asked for in their order, the shortest first. */
export function workspaceSymbols(
  outlines: readonly FileOutline[],
  asked: string,
  locate: (place: Location) => Location,
): SymbolInformation[] {
  const letters = [...asked.toLowerCase()].filter((letter) => letter.trim() !== '');
  const found: SymbolInformation[] = [];
  for (const { uri, names } of outlines) {
    for (const { name, kind, detail, range } of names) {
      if (holds(name, letters)) found.push({ name, kind, containerName: detail, location: locate({ uri, range }) });
    }
  }
  found.sort((one, other) => one.name.length - other.name.length || (one.name < other.name ? -1 : 1));
  return found.slice(0, MOST);
}

function holds(name: string, letters: readonly string[]): boolean {
  const text = name.toLowerCase();
  let at = 0;
  for (const letter of letters) {
    const found = text.indexOf(letter, at);
    if (found < 0) return false;
    at = found + letter.length;
  }
  return true;
}
