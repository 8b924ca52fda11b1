// What a desktop starts answers before the server is there, and loses nothing of what comes in meanwhile.
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import {
  createMessageConnection,
  IPCMessageReader,
  IPCMessageWriter,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node';
import type { InitializeResult, PublishDiagnosticsParams } from 'vscode-languageserver-protocol';
import { beforeAll, expect, test } from 'vitest';

const dist = new URL('../../packages/extension/dist/', import.meta.url).pathname;
const INITIALIZE = { processId: process.pid, rootUri: null, capabilities: {} };

beforeAll(() => {
  for (const script of ['start-server.js', 'server.js'])
    if (!existsSync(join(dist, script))) throw new Error(`Not built: ${script}; npm run build makes it`);
});

function started(script: string, transport: '--stdio' | '--node-ipc') {
  const stdio = transport === '--stdio' ? ['pipe', 'pipe', 'inherit'] : ['ignore', 'ignore', 'inherit', 'ipc'];
  const child = spawn(process.execPath, [join(dist, script), transport], { stdio: stdio as 'pipe'[] });
  const connection =
    transport === '--stdio'
      ? createMessageConnection(new StreamMessageReader(child.stdout!), new StreamMessageWriter(child.stdin!))
      : createMessageConnection(new IPCMessageReader(child), new IPCMessageWriter(child));
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  connection.listen();
  return { connection, ended, child };
}

async function stop({ connection, ended }: { connection: MessageConnection; ended: Promise<number | null> }) {
  await connection.sendRequest('shutdown');
  await connection.sendNotification('exit');
  expect(await ended).toBe(0);
  connection.dispose();
}

test('the early answer is the one that the server itself gives', async () => {
  const answers: InitializeResult[] = [];
  for (const script of ['start-server.js', 'server.js']) {
    const server = started(script, '--stdio');
    answers.push(await server.connection.sendRequest('initialize', INITIALIZE));
    await stop(server);
  }
  expect(answers[0]!.serverInfo).toEqual({ name: 'ohmstead' });
  expect(answers[0]).toEqual(answers[1]);
});

for (const transport of ['--stdio', '--node-ipc'] as const) {
  test(`all that comes before the server is there is answered once and in order, ${transport}`, async () => {
    const server = started('start-server.js', transport);
    const { connection } = server;
    const published = new Promise<PublishDiagnosticsParams>((resolve) =>
      connection.onNotification('textDocument/publishDiagnostics', resolve),
    );
    const answers: string[] = [];
    const said = (what: string) => () => answers.push(what);
    const initialized = connection.sendRequest('initialize', INITIALIZE).then(said('initialize'));
    await connection.sendNotification('initialized', {});
    const uri = 'file:///early/one.wiring';
    const text = 'supply tx : no-such-type\n';
    await connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'ohmstead', version: 1, text },
    });
    const symbols = connection.sendRequest<{ name: string }[]>('textDocument/documentSymbol', {
      textDocument: { uri },
    });
    const named = symbols.then(said('documentSymbol'));
    await Promise.all([initialized, named]);
    expect(answers).toEqual(['initialize', 'documentSymbol']);
    expect((await symbols).map(({ name }) => name)).toContain('tx');
    expect((await published).diagnostics.map(({ code }) => code)).toContain('unknown-type');
    await stop(server);
  });
}

test('ends when its client is gone without a word', async () => {
  const server = started('start-server.js', '--stdio');
  await server.connection.sendRequest('initialize', INITIALIZE);
  server.child.stdin!.end();
  expect(await server.ended).toBe(1);
  server.connection.dispose();
});
