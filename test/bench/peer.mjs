/** A language client that measures: it spawns a server, types into a document and waits for the findings of each keystroke. */

import { spawn } from 'node:child_process';
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import { TextDocument } from 'vscode-languageserver-textdocument';

/** Spawns a server and times the spawn until its answer to `initialize`, in ms. */
export async function connect(args) {
  const began = performance.now();
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'inherit'] });
  const connection = createMessageConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const waiting = new Map();
  connection.onNotification('textDocument/publishDiagnostics', (params) => {
    const awaited = waiting.get(params.uri);
    if (awaited && params.version >= awaited.version && awaited.accepts(params)) {
      waiting.delete(params.uri);
      awaited.resolve(params);
    }
  });
  connection.onNotification(() => undefined);
  connection.onRequest('client/registerCapability', () => null);
  connection.onRequest('workspace/configuration', ({ items }) => items.map(() => null));
  connection.listen();
  await connection.sendRequest('initialize', { processId: process.pid, rootUri: null, capabilities: {} });
  const startMs = performance.now() - began;
  connection.sendNotification('initialized', {});
  const published = (uri, version, accepts) =>
    new Promise((resolve) => waiting.set(uri, { version, accepts, resolve }));
  const stop = async () => {
    const ended = new Promise((resolve) => child.once('exit', resolve));
    await connection.sendRequest('shutdown');
    connection.sendNotification('exit');
    await ended;
    connection.dispose();
  };
  return { connection, published, startMs, stop };
}

/** Milliseconds from opening a document to its findings, and from each keystroke to the findings of its version. */
export async function typeInto(server, uri, text, edits, { warmUp }) {
  const analysed = watchAnalysed(server);
  let document = TextDocument.create(uri, 'ohmstead', 1, text);
  const opened = analysed(uri, 1);
  const openedAt = performance.now();
  server.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'ohmstead', version: 1, text },
  });
  await opened;
  const openMs = performance.now() - openedAt;
  const times = [];
  for (const [index, edit] of edits.entries()) {
    const version = index + 2;
    const change = {
      range: { start: document.positionAt(edit.start), end: document.positionAt(edit.end) },
      text: edit.text,
    };
    document = TextDocument.update(document, [change], version);
    const done = analysed(uri, version);
    const began = performance.now();
    server.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [change],
    });
    await done;
    if (index >= warmUp) times.push(performance.now() - began);
  }
  return { openMs, times };
}

/** The findings of a version, the electrical ones included where the server says that it has analysed it. */
function watchAnalysed(server) {
  if (!server.saysAnalysed) return (uri, version) => server.published(uri, version, () => true);
  const waiting = new Map();
  server.connection.onNotification('ohmstead/analysed', ({ uri, version }) => {
    const awaited = waiting.get(uri);
    if (awaited && version >= awaited.version) awaited.resolve();
  });
  return (uri, version) => new Promise((resolve) => waiting.set(uri, { version, resolve }));
}

export function percentile(values, share) {
  const sorted = [...values].sort((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)];
}

/** Milliseconds for completion where a conductor's second end is being typed. */
export async function completeIn(server, uri, text, count) {
  const offset = text.indexOf('  to  ', Math.floor(text.length / 2)) + 6;
  const position = TextDocument.create(uri, 'ohmstead', 1, text).positionAt(offset);
  const times = [];
  for (let index = 0; index < count; index++) {
    const began = performance.now();
    const items = await server.connection.sendRequest('textDocument/completion', { textDocument: { uri }, position });
    times.push(performance.now() - began);
    if (items.length === 0) throw new Error('nothing was completed');
  }
  return times;
}
