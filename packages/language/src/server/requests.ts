/** One line of glue for each request: positions to offsets, a service, its answer in the protocol's words. */

import { type CompletionItem, type CompletionList, MarkupKind, type Position, type Range } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { complete } from '../services/completion.js';
import { completionRecord } from '../services/completion-record.js';
import type { CheckedRecord } from '../pipeline.js';
import { hoverAt, hoverBefore } from '../services/hover.js';
import { elementSignature } from '../services/signature.js';
import { PATIENCE, type Asked, placeAsked } from './asked.js';
import { checkPage } from './library-documents.js';
import type { Records } from './records.js';
import { answerComparisons } from './requests-comparison.js';
import { answerFigures } from './requests-figures.js';
import { answerNames } from './requests-names.js';
import { answerReadings } from './requests-readings.js';
import { answerText } from './requests-text.js';

export function answerRequests(asked: Asked): void {
  answerWriting(asked);
  answerNames(asked);
  answerText(asked);
  answerFigures(asked);
  answerReadings(asked);
  answerComparisons(asked);
}

/** Requests at the cursor while somebody writes. */
function answerWriting(asked: Asked): void {
  const { connection, records, ways } = asked;

  connection.onCompletion((params) => {
    const document = records.openDocument(params.textDocument.uri);
    // The reading of an earlier text does: what is being typed is rarely one that reads better.
    const reading = document && (records.lastReading(document.uri) ?? records.reading(document.uri));
    if (!document || !reading) return [];
    const rangeOf = (start: number, end: number): Range => ({
      start: document.positionAt(start),
      end: document.positionAt(end),
    });
    const offset = document.offsetAt(params.position);
    const bySpace = params.context?.triggerCharacter === ' ';
    const { snippets } = ways;
    const items = complete(document.getText(), offset, completionRecord(reading), { snippets, bySpace, rangeOf });
    return items.length > MOST_OFFERED ? likeliest(items, document, params.position) : items;
  });

  connection.onSignatureHelp(({ textDocument, position }) => {
    const document = records.openDocument(textDocument.uri);
    return document ? elementSignature(document.getText(), document.offsetAt(position)) : undefined;
  });

  connection.onHover(async (params) => {
    const isWhole = await records.filesCome(params.textDocument.uri, PATIENCE);
    const here = placeAsked(asked, params);
    if (!here) return null;
    const { document, reading, offset } = here;
    const text = isWhole
      ? hoverAt(reading, lastChecked(records, document.uri), offset, checkPage)
      : hoverBefore(reading, offset);
    return text ? { contents: { kind: MarkupKind.Markdown, value: text.markdown }, range: text.range } : null;
  });
}

/** The figures of an earlier text do, unless they are of one that something was missing from. */
function lastChecked(records: Records, uri: string): CheckedRecord | undefined {
  const known = records.checked(uri)?.record;
  return known && known.reading.missing.length === 0 ? known : records.check(uri)?.record;
}

/** More than anybody looks through; the others are sent when more has been typed. */
const MOST_OFFERED = 200;

function likeliest(items: readonly CompletionItem[], document: TextDocument, position: Position): CompletionList {
  const [first] = items;
  const start = first?.textEdit && 'range' in first.textEdit ? first.textEdit.range.start : position;
  const typed = document.getText({ start, end: position }).toLowerCase();
  const fitting = items.filter(({ label, filterText }) => holdsInOrder((filterText ?? label).toLowerCase(), typed));
  return { isIncomplete: fitting.length > MOST_OFFERED, items: fitting.slice(0, MOST_OFFERED) };
}

/** Whether all the letters typed stand in a word in their order, as editors filter. */
function holdsInOrder(word: string, typed: string): boolean {
  let at = 0;
  for (const letter of word) if (letter === typed[at]) at++;
  return at >= typed.length;
}
