/** A reading just taken, written into the record as text: into the newest block of its day, or a new one. */

import type { DocumentSource } from '../lower/imports.js';
import { readRecord } from '../read.js';
import { parseWiring, type TextRange, type WiringDocument } from '../reading/document.js';
import { applyChanges, formatChanges, type TextChange } from './format.js';

export type TakenReading =
  | { readonly edit: { readonly range: TextRange; readonly newText: string } }
  /** Why it was not written, in a sentence or more. */
  | { readonly refused: string };

/** `line` is one line of a `readings` block; `on` the day, as `2026-11-20`. */
export function takeReading(document: WiringDocument, source: DocumentSource, line: string, on: string): TakenReading {
  const words = line.trim().replace(/\s+/g, ' ');
  if (words === '') return { refused: 'There is nothing to write yet.' };
  if (/[{}]|\/\/|\/\*/.test(words)) return { refused: 'A reading is one line, without braces or comments.' };
  if (!/^\d{4}-\d{2}-\d{2}$/.test(on)) return { refused: `\`${on}\` is no date as in \`2026-11-20\`.` };
  const put = putIn(document, words, on);
  const text = applyChanges(document.text, [put.change]);
  const problem = problemWith(document, source, text, put);
  if (problem !== undefined) return { refused: problem };
  const { start, end, newText } = laidOut(text, put);
  return { edit: { range: document.rangeAt(start, end), newText } };
}

interface Put {
  readonly change: TextChange;
  /** Offset of the line in the text after the change. */
  readonly lineAt: number;
  /** The block's offset in both texts, and its end in the text before; an empty stretch for a new block. */
  readonly from: number;
  readonly to: number;
}

function putIn({ text, slices }: WiringDocument, words: string, on: string): Put {
  const eol = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
  const slice = slices.findLast(
    ({ statement, problem }) => statement?.$type === 'Readings' && statement.date === on && !problem,
  );
  if (slice) {
    const inside = text.slice(slice.offset, slice.end - 1).trimEnd().length;
    const at = slice.offset + inside;
    const newText = `${eol}    ${words}${eol}`;
    // What stood between the last line and the brace is white space.
    const change = { start: at, end: slice.end - 1, newText };
    return { change, lineAt: at + eol.length + 4, from: slice.offset, to: slice.end };
  }
  const kept = text.trimEnd();
  const gap = kept === '' ? '' : eol + eol;
  const head = `readings on ${on} {${eol}    `;
  const change = { start: kept.length, end: text.length, newText: `${gap}${head}${words}${eol}}${eol}` };
  return { change, lineAt: kept.length + gap.length + head.length, from: kept.length, to: text.length };
}

/** What the notation finds wrong with the line itself. */
function problemWith(
  { uri, text: before }: WiringDocument,
  source: DocumentSource,
  text: string,
  { lineAt }: Put,
): string | undefined {
  const document = parseWiring(uri, text);
  const { findings, installation } = readRecord(document, source);
  const { line } = document.rangeAt(lineAt, lineAt).start;
  const onLine = findings.filter(({ range, severity }) => range.start.line === line && severity === 'error');
  if (onLine.length > 0) return onLine.map(({ message }) => message).join(' ');
  const count = (blocks: typeof installation.readings) =>
    (blocks ?? []).reduce((sum, { readings }) => sum + readings.length, 0);
  const known = count(readRecord(parseWiring(uri, before), source).installation.readings);
  return count(installation.readings) > known
    ? undefined
    : 'This is no reading: say how the house stood, where, and what was shown.';
}

/** The block with its columns set anew, as one replacement in the text before. */
function laidOut(text: string, { change, from, to }: Put): TextChange {
  const grown = change.newText.length - (change.end - change.start);
  const end = to + grown;
  const changes = formatChanges(text);
  const within = 'refused' in changes ? [] : changes.filter((one) => one.start >= from && one.end <= end);
  const moved = within.map((one) => ({ ...one, start: one.start - from, end: one.end - from }));
  return { start: from, end: to, newText: applyChanges(text.slice(from, end), moved) };
}
