/** A language client that measures: it spawns a server, types into a document and waits for the findings of each keystroke. */

import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createMessageConnection, StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import { TextDocument } from 'vscode-languageserver-textdocument';

/** Spawns a server and times the spawn until its answer to `initialize`, in ms. */
export async function connect(args, initialize = {}) {
  const began = performance.now();
  const child = spawn(process.execPath, args, { stdio: ['pipe', 'pipe', 'inherit'] });
  const connection = createMessageConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  const waiting = new Map();
  connection.onNotification('textDocument/publishDiagnostics', (params) => {
    const awaited = waiting.get(params.uri);
    if (awaited && (params.version ?? awaited.version) >= awaited.version && awaited.accepts(params)) {
      waiting.delete(params.uri);
      awaited.resolve(params);
    }
  });
  connection.onNotification(() => undefined);
  connection.onRequest('client/registerCapability', () => null);
  const settings = {};
  connection.onRequest('workspace/configuration', ({ items }) => items.map(({ section }) => settings[section] ?? null));
  connection.listen();
  await connection.sendRequest('initialize', {
    processId: process.pid,
    rootUri: null,
    capabilities: {},
    ...initialize,
  });
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
  return { connection, published, settings, startMs, stop, pid: child.pid };
}

/** CPU milliseconds that a process has used, all its threads together; undefined where the system does not tell. */
export function cpuMs(pid) {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /, '')
      .split(' ');
    return (Number(fields[11]) + Number(fields[12])) * 10;
  } catch {
    return undefined;
  }
}

/** Megabytes of a process that are in memory. */
export function residentMegabytes(pid) {
  const kilobytes = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
  return Number(kilobytes) / 1024;
}

/** Milliseconds from opening a document to its findings. */
export async function openIn(server, uri, text) {
  const document = TextDocument.create(uri, server.languageId ?? 'ohmstead', 1, text);
  const opened = watchAnalysed(server)(uri, 1);
  const began = performance.now();
  server.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: document.languageId, version: 1, text },
  });
  await opened;
  return { document, openMs: performance.now() - began };
}

/** Sends one edit as an editor does. */
export function sendEdit(server, document, { start, end, text }) {
  const change = { range: { start: document.positionAt(start), end: document.positionAt(end) }, text };
  TextDocument.update(document, [change], document.version + 1);
  server.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: document.uri, version: document.version },
    contentChanges: [change],
  });
}

/** Milliseconds from each keystroke to the findings of its version, and the CPU milliseconds of the server for each. */
export async function typeInto(server, document, edits, { warmUp }) {
  const analysed = watchAnalysed(server);
  const times = [];
  let cpuBefore;
  for (const [index, edit] of edits.entries()) {
    if (index === warmUp) cpuBefore = cpuMs(server.pid);
    const done = analysed(document.uri, document.version + 1);
    const began = performance.now();
    sendEdit(server, document, edit);
    await done;
    if (index >= warmUp) times.push(performance.now() - began);
  }
  const cpu = cpuBefore === undefined ? undefined : (cpuMs(server.pid) - cpuBefore) / times.length;
  return { times, cpu };
}

/** Milliseconds from the first of a burst of keystrokes, 5 ms apart, to the findings of the last. */
export async function burst(server, document, edits) {
  const done = watchAnalysed(server)(document.uri, document.version + edits.length);
  const began = performance.now();
  for (const edit of edits) {
    sendEdit(server, document, edit);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  await done;
  return performance.now() - began;
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
export function completeIn(server, uri, text, count) {
  const offset = text.indexOf('  to  ', Math.floor(text.length / 2)) + 6;
  return asked(server, uri, text, offset, count, 'textDocument/completion');
}

/** Milliseconds for a hover on a supply after each edit, when nothing of it has been worked out yet. */
export async function hoverIn(server, document, edits) {
  const analysed = watchAnalysed(server);
  const times = [];
  for (const edit of edits) {
    const done = analysed(document.uri, document.version + 1);
    sendEdit(server, document, edit);
    await done;
    const text = document.getText();
    const offset = text.indexOf('\nsupply ', Math.floor(text.length / 2)) + 9;
    times.push(...(await asked(server, document.uri, text, offset, 1, 'textDocument/hover')));
  }
  return times;
}

async function asked(server, uri, text, offset, count, method) {
  const position = TextDocument.create(uri, 'ohmstead', 1, text).positionAt(offset);
  const times = [];
  for (let index = 0; index < count; index++) {
    const began = performance.now();
    const answer = await server.connection.sendRequest(method, { textDocument: { uri }, position });
    times.push(performance.now() - began);
    if (!answer || answer.length === 0) throw new Error(`nothing was answered to ${method}`);
  }
  return times;
}
