/** The least that a language server can do: it keeps the text and answers every change with an empty list of findings. */

import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import { TextDocument } from 'vscode-languageserver-textdocument';

const connection = createMessageConnection(
  new StreamMessageReader(process.stdin),
  new StreamMessageWriter(process.stdout),
);
const documents = new Map();
const publish = (document) =>
  connection.sendNotification('textDocument/publishDiagnostics', {
    uri: document.uri,
    version: document.version,
    diagnostics: [],
  });

connection.onRequest('initialize', () => ({ capabilities: { textDocumentSync: 2 } }));
connection.onRequest('shutdown', () => null);
connection.onNotification('exit', () => process.exit(0));
connection.onNotification('textDocument/didOpen', ({ textDocument: { uri, languageId, version, text } }) => {
  documents.set(uri, TextDocument.create(uri, languageId, version, text));
  publish(documents.get(uri));
});
connection.onNotification('textDocument/didChange', ({ textDocument, contentChanges }) => {
  const document = TextDocument.update(documents.get(textDocument.uri), contentChanges, textDocument.version);
  documents.set(textDocument.uri, document);
  publish(document);
});
connection.listen();
