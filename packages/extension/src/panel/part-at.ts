/** Which part of the record the cursor is at. */

import type { ProtocolLocation } from '@ohmstead/language/protocol';

/**
 * The part, run or jumper named by the word at the cursor (`bell-tx.a` names `bell-tx`), else the one whose statement the
 * cursor is in; null between statements and in those that declare nothing. Lines count from 0.
 */
export function partAt(
  locations: Readonly<Record<string, ProtocolLocation>>,
  uri: string,
  line: number,
  word: string | undefined,
  lineText: (line: number) => string,
): string | null {
  if (word !== undefined && Object.hasOwn(locations, word)) return word;
  if (lineText(line).trim() === '') return null;
  for (let each = line; each >= 0; each--) {
    const text = lineText(each);
    if (text.startsWith('}') && each < line) return null;
    // An unindented line starts a statement, comments and closing braces aside.
    if (/^[^\s}/]/.test(text)) return declaredOn(locations, uri, each);
  }
  return null;
}

function declaredOn(locations: Readonly<Record<string, ProtocolLocation>>, uri: string, line: number): string | null {
  const found = Object.entries(locations).find(([, each]) => each.uri === uri && each.range.start.line === line);
  return found ? found[0] : null;
}
