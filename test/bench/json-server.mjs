/** The general JSON service in as thin a server as can be: no delay, a schema, findings after every change. */

import { getLanguageService } from 'vscode-json-languageservice';
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { schema } from './other-notations.mjs';

const connection = createMessageConnection(
  new StreamMessageReader(process.stdin),
  new StreamMessageWriter(process.stdout),
);
const service = getLanguageService({});
service.configure({
  validate: true,
  schemas: [{ uri: 'bench:schema', fileMatch: ['*.json'], schema: schema.content }],
});
const documents = new Map();

async function publish(document) {
  const diagnostics = await service.doValidation(document, service.parseJSONDocument(document));
  const { uri, version } = document;
  connection.sendNotification('textDocument/publishDiagnostics', { uri, version, diagnostics });
}

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
