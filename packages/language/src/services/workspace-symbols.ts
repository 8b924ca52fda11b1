/** Names of a whole workspace by what somebody remembers of them. */

import type { DocumentSymbol, Location, SymbolInformation } from 'vscode-languageserver';

export interface FileOutline {
  readonly uri: string;
  readonly symbols: readonly DocumentSymbol[];
}

/** More than these nobody reads. */
const MOST = 500;

/** Symbols whose letters hold those asked for in their order, the shortest names first. */
export function workspaceSymbols(
  outlines: readonly FileOutline[],
  asked: string,
  locate: (place: Location) => Location,
): SymbolInformation[] {
  const letters = [...asked.toLowerCase()].filter((letter) => letter.trim() !== '');
  const found: SymbolInformation[] = [];
  for (const { uri, symbols } of outlines) {
    for (const { name, kind, detail, selectionRange, children } of symbols) {
      if (holds(name, letters)) {
        const location = locate({ uri, range: selectionRange });
        found.push({ name, kind, location, ...(detail ? { containerName: detail } : {}) });
      }
      for (const child of children ?? []) {
        const full = `${name}.${child.name}`;
        if (letters.length === 0 || !holds(full, letters) || holds(name, letters)) continue;
        const location = locate({ uri, range: child.selectionRange });
        found.push({
          name: full,
          kind: child.kind,
          location,
          ...(child.detail ? { containerName: child.detail } : {}),
        });
      }
    }
  }
  return found
    .sort((one, other) => one.name.length - other.name.length || (one.name < other.name ? -1 : 1))
    .slice(0, MOST);
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
