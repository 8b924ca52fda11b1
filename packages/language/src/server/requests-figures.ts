/** Requests that are answered with computed figures: hints, lenses, fixes, the load budget. */

import { type CodeLens, InlayHintKind, MarkupKind } from 'vscode-languageserver';
import {
  BUDGET_REQUEST,
  type BudgetAnswer,
  type BudgetParams,
  LIBRARY_DOCUMENT_REQUEST,
  type LibraryDocumentAnswer,
  type LibraryDocumentParams,
} from '../protocol.js';
import { quickFixes } from '../services/actions.js';
import { lensWords, supplyLenses } from '../services/code-lenses.js';
import { readingsLenses, readingsLensWords } from '../services/readings-at.js';
import { voltsHints } from '../services/inlay-hints.js';
import { type Asked, PATIENCE, workspaceEdit } from './asked.js';
import { budgetAnswer, diagnosticOf } from './findings.js';
import { libraryDocument } from './library-documents.js';
import { canBeRead, isShipped } from './records.js';

/** Shows the load budget of the active record; the extension has it. */
const SHOW_BUDGET = 'ohmstead.showBudget';
/** Shows what fits the readings of a record. */
const FIND_FAULT = 'ohmstead.findFault';

export function answerFigures(asked: Asked): void {
  const { connection, records, settings, ways } = asked;
  const { uriFor } = ways;

  connection.onCodeAction(({ textDocument, range }) => {
    const document = records.openDocument(textDocument.uri);
    const checked = document && records.check(document.uri);
    if (!checked) return [];
    return quickFixes(checked.record, range).map(({ title, edits, finding }) => ({
      title,
      kind: 'quickfix',
      diagnostics: [diagnosticOf(finding, uriFor)],
      edit: workspaceEdit(asked, edits),
    }));
  });

  connection.onCodeLens(({ textDocument: { uri } }) => {
    const reading = isShipped(uri) ? undefined : records.reading(uri);
    if (!reading) return [];
    return [
      ...supplyLenses(reading.document).map(({ name, range }): CodeLens => ({ range, data: { uri, name } })),
      ...readingsLenses(reading).map(({ block, range }): CodeLens => ({ range, data: { uri, block } })),
    ];
  });
  connection.onCodeLensResolve(async (lens) => {
    const { uri, name, block } = lens.data as { uri: string; name: string; block?: number };
    const isWhole = await records.filesCome(uri, PATIENCE);
    const checked = isWhole ? records.check(uri)?.record : undefined;
    if (block !== undefined) {
      const words = checked ? readingsLensWords(checked, block) : 'no figures yet';
      const command = ways.commands.has(FIND_FAULT) ? FIND_FAULT : '';
      return { ...lens, command: { title: words, command, arguments: [uri] } };
    }
    const title = (checked && lensWords(checked, name)) ?? 'no figures yet';
    return { ...lens, command: { title, command: ways.commands.has(SHOW_BUDGET) ? SHOW_BUDGET : '' } };
  });

  connection.languages.inlayHint.on(async ({ textDocument: { uri }, range }) => {
    if (settings.volts && !(await records.filesCome(uri, PATIENCE))) return [];
    const document = settings.volts ? records.openDocument(uri) : undefined;
    const checked = document && records.check(uri)?.record;
    if (!checked) return [];
    const within = { offset: document.offsetAt(range.start), end: document.offsetAt(range.end) };
    return voltsHints(checked, within).map(({ position, label, tooltip }) => ({
      position,
      label,
      kind: InlayHintKind.Parameter,
      paddingLeft: true,
      tooltip: { kind: MarkupKind.Markdown, value: tooltip },
    }));
  });

  connection.onRequest(BUDGET_REQUEST, ({ uri }: BudgetParams): BudgetAnswer => {
    const open = records.openDocument(uri);
    const checked = (open && records.checked(uri)) ?? records.check(uri);
    const reading = records.reading(uri);
    const stale = checked === undefined || checked.record.reading !== reading || !canBeRead(reading);
    return budgetAnswer(records.lastGood(uri), checked?.record, checked?.version ?? null, stale, uriFor);
  });

  connection.onRequest(LIBRARY_DOCUMENT_REQUEST, ({ uri }: LibraryDocumentParams): LibraryDocumentAnswer => {
    return { text: libraryDocument(uri) ?? null };
  });
}
