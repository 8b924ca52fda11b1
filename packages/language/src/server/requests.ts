/** One line of glue for each request: positions to offsets, a service, its answer in the protocol's words. */

import {
  type Connection,
  ErrorCodes,
  MarkupKind,
  type Range,
  ResponseError,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { importedUri } from '../lower/imports.js';
import {
  BUDGET_REQUEST,
  type BudgetAnswer,
  type BudgetParams,
  LIBRARY_DOCUMENT_REQUEST,
  type LibraryDocumentAnswer,
  type LibraryDocumentParams,
} from '../protocol.js';
import type { Reading } from '../read.js';
import { quickFixes } from '../services/actions.js';
import { complete } from '../services/completion.js';
import { completionRecord } from '../services/completion-record.js';
import { foldingRanges } from '../services/folding.js';
import { formatChanges } from '../services/format.js';
import { hoverAt } from '../services/hover.js';
import { definitionsAt, type PlaceInText, referencesTo, refusalToRename, renamed } from '../services/names.js';
import { pointedAt } from '../services/statement-at.js';
import { documentSymbols } from '../services/symbols.js';
import { budgetAnswer, diagnosticOf } from './findings.js';
import { checkPage, libraryDocument } from './library-documents.js';
import { canBeRead, type Records } from './records.js';

export interface ClientWays {
  readonly snippets: boolean;
  /** The editor's spelling of the URI of an open document. */
  uriFor(uri: string): string;
}

interface At {
  readonly document: TextDocument;
  readonly reading: Reading;
  readonly offset: number;
}

export function answerRequests(connection: Connection, records: Records, { snippets, uriFor }: ClientWays): void {
  const locate = ({ uri, range }: PlaceInText) => ({ uri: uriFor(uri), range });
  const at = (params: {
    textDocument: { uri: string };
    position: { line: number; character: number };
  }): At | undefined => {
    const document = records.openDocument(params.textDocument.uri);
    const reading = document && records.reading(document.uri);
    return document && reading && { document, reading, offset: document.offsetAt(params.position) };
  };
  const workspaceEdit = (edits: readonly (PlaceInText & { readonly newText: string })[]): WorkspaceEdit => {
    const changes: Record<string, TextEdit[]> = {};
    for (const { uri, range, newText } of edits) {
      const key = uriFor(uri);
      changes[key] ??= [];
      changes[key].push({ range, newText });
    }
    return { changes };
  };

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
    return complete(document.getText(), offset, completionRecord(reading), { snippets, bySpace, rangeOf });
  });

  connection.onHover((params) => {
    const here = at(params);
    if (!here) return null;
    const checked = (records.checked(here.document.uri) ?? records.check(here.document.uri))?.record;
    const text = hoverAt(here.reading, checked, here.offset, checkPage);
    return text ? { contents: { kind: MarkupKind.Markdown, value: text.markdown }, range: text.range } : null;
  });

  connection.onDefinition((params) => {
    const here = at(params);
    if (!here) return [];
    const { reading, offset } = here;
    const pointed = pointedAt(reading.document, offset);
    if (pointed?.kind === 'import') {
      const target = importedUri(reading.document.uri, pointed.path);
      const start = { line: 0, character: 0 };
      return target !== undefined && records.document(target)
        ? [locate({ uri: target, range: { start, end: start } })]
        : [];
    }
    return definitionsAt(reading.names, reading.document, offset).map(locate);
  });

  /** The name at the cursor and every record that its declarations are part of. */
  const nameAt = (here: At) => {
    const use = here.reading.names.at(here.reading.document, here.offset);
    const declaredIn = new Set(use?.symbol.declarations.map((site) => site.document.uri));
    const readings = records.recordsWith(use?.symbol.shipped ? undefined : declaredIn);
    return { use, readings: readings.includes(here.reading) ? readings : [here.reading, ...readings] };
  };

  connection.onReferences((params) => {
    const here = at(params);
    if (!here) return [];
    const { use, readings } = nameAt(here);
    return use ? referencesTo(use.symbol, readings, params.context.includeDeclaration).map(locate) : [];
  });

  connection.onPrepareRename((params) => {
    const here = at(params);
    const use = here?.reading.names.at(here.reading.document, here.offset);
    const refused = refusalToRename(use?.symbol);
    if (!here || !use || refused !== undefined)
      throw new ResponseError(ErrorCodes.InvalidRequest, refused ?? 'No name.');
    return { range: here.reading.document.rangeAt(use.offset, use.end), placeholder: use.symbol.name };
  });

  connection.onRenameRequest((params) => {
    const here = at(params);
    if (!here) return null;
    const { use, readings } = nameAt(here);
    const refused = refusalToRename(use?.symbol);
    const result = use && refused === undefined ? renamed(use.symbol, params.newName, readings) : { refused: refused! };
    if ('refused' in result) throw new ResponseError(ErrorCodes.InvalidRequest, result.refused);
    return workspaceEdit(result.places.map((place) => ({ ...place, newText: params.newName })));
  });

  connection.onDocumentSymbol(({ textDocument }) => {
    const document = records.document(textDocument.uri);
    return document ? documentSymbols(document) : [];
  });

  connection.onCodeAction(({ textDocument, range }) => {
    const document = records.openDocument(textDocument.uri);
    const checked = document && records.check(document.uri);
    if (!checked) return [];
    return quickFixes(checked.record, range).map(({ title, edits, finding }) => ({
      title,
      kind: 'quickfix',
      diagnostics: [diagnosticOf(finding, uriFor)],
      edit: workspaceEdit(edits),
    }));
  });

  const format = (uri: string, tabSize: number, within?: Range): TextEdit[] => {
    const document = records.openDocument(uri);
    if (!document) return [];
    const changes = formatChanges(document.getText(), { tabSize });
    if ('refused' in changes) {
      connection.window.showWarningMessage(changes.refused);
      return [];
    }
    const edits = changes.map(({ start, end, newText }) => ({
      range: { start: document.positionAt(start), end: document.positionAt(end) },
      newText,
    }));
    if (!within) return edits;
    return edits.filter(({ range }) => range.start.line >= within.start.line && range.start.line <= within.end.line);
  };
  connection.onDocumentFormatting(({ textDocument, options }) => format(textDocument.uri, options.tabSize));
  connection.onDocumentRangeFormatting(({ textDocument, options, range }) =>
    format(textDocument.uri, options.tabSize, range),
  );

  connection.onFoldingRanges(({ textDocument }) => {
    const document = records.openDocument(textDocument.uri);
    return document ? foldingRanges(document.getText()) : [];
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
