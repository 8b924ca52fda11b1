/** Requests about the text itself: outline, folding, selection, highlighting, links, formatting. */

import { type Range, SemanticTokensBuilder, type TextEdit } from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { documentLinks } from '../services/links.js';
import { foldingRanges } from '../services/folding.js';
import { formatChanges } from '../services/format.js';
import { selectionRange } from '../services/selection.js';
import { semanticTokens } from '../services/semantic-tokens.js';
import { statementAt } from '../services/statement-at.js';
import { documentSymbols } from '../services/symbols.js';
import { type Asked, showWarning } from './asked.js';
import { checkPage, pageUri } from './library-documents.js';

export function answerText(asked: Asked): void {
  const { connection, records } = asked;

  connection.onDocumentSymbol(({ textDocument }) => {
    const document = records.document(textDocument.uri);
    return document ? documentSymbols(document) : [];
  });

  connection.onFoldingRanges(({ textDocument }) => {
    const document = records.openDocument(textDocument.uri);
    return document ? foldingRanges(document.getText()) : [];
  });

  connection.onSelectionRanges(({ textDocument, positions }) => {
    const document = records.document(textDocument.uri);
    return document ? positions.map((position) => selectionRange(document, document.offsetAt(position))) : [];
  });

  connection.onDocumentLinks(({ textDocument }) => {
    const document = records.document(textDocument.uri);
    if (!document) return [];
    return documentLinks(document, {
      isThere: (uri) => records.document(uri) !== undefined,
      pageOf: (code) => (checkPage(code) === undefined ? undefined : pageUri(code)),
    });
  });

  /** The highlighting sent last, so that only what changed since is sent again. */
  const builders = new WeakMap<TextDocument, SemanticTokensBuilder>();
  const tokensOf = (uri: string, builder: SemanticTokensBuilder, within?: Range): SemanticTokensBuilder => {
    const reading = records.reading(uri);
    const stretch = within && {
      offset: reading?.document.offsetAt(within.start) ?? 0,
      end: reading?.document.offsetAt(within.end) ?? 0,
    };
    for (const token of reading ? semanticTokens(reading, stretch) : []) builder.push(...token);
    return builder;
  };
  const builderOf = (uri: string): SemanticTokensBuilder => {
    const document = records.openDocument(uri);
    const known = (document && builders.get(document)) ?? new SemanticTokensBuilder();
    if (document) builders.set(document, known);
    return known;
  };
  connection.languages.semanticTokens.on(({ textDocument: { uri } }) => {
    const builder = builderOf(uri);
    builder.previousResult('');
    return tokensOf(uri, builder).build();
  });
  connection.languages.semanticTokens.onDelta(({ textDocument: { uri }, previousResultId }) => {
    const builder = builderOf(uri);
    builder.previousResult(previousResultId);
    return tokensOf(uri, builder).buildEdits();
  });
  connection.languages.semanticTokens.onRange(({ textDocument: { uri }, range }) =>
    tokensOf(uri, new SemanticTokensBuilder(), range).build(),
  );

  const format = (uri: string, tabSize: number, wanted: (line: number) => boolean): TextEdit[] => {
    const document = records.openDocument(uri);
    if (!document) return [];
    const changes = formatChanges(document.getText(), { tabSize });
    if ('refused' in changes) {
      showWarning(connection, changes.refused);
      return [];
    }
    return changes.flatMap(({ start, end, newText }) => {
      const range = { start: document.positionAt(start), end: document.positionAt(end) };
      return wanted(range.start.line) ? [{ range, newText }] : [];
    });
  };
  connection.onDocumentFormatting(({ textDocument, options }) => format(textDocument.uri, options.tabSize, () => true));
  connection.onDocumentRangeFormatting(({ textDocument, options, range }) =>
    format(textDocument.uri, options.tabSize, (line) => line >= range.start.line && line <= range.end.line),
  );
  connection.onDocumentOnTypeFormatting(({ textDocument, options, position, ch }) => {
    const document = records.document(textDocument.uri);
    if (!document) return [];
    // What was left by Enter, or closed by a brace, is laid out; the line that is being written stays as it is.
    const line = ch === '\n' ? position.line - 1 : position.line;
    const statement = statementAt(document, document.offsetAt({ line, character: 0 }));
    const { $cstNode: node } = statement ?? {};
    if (!statement || !node || line < 0) return [];
    const base = document.offsetOf(statement);
    const { start, end } = document.rangeAt(node.offset + base, node.end + base);
    const isOpenLine = (each: number): boolean => ch === '\n' && each >= position.line;
    return format(
      textDocument.uri,
      options.tabSize,
      (each) => each >= start.line && each <= end.line && !isOpenLine(each),
    );
  });
}
