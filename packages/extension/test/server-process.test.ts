// The server's process on a desktop: started ahead, taken once, replaced where it has ended, and never left behind.
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { ServerProcess } from '../src/server-process.js';

let folder: string;
let lines: string[];
const log = {
  info: (line: string) => lines.push(`info ${line}`),
  error: (line: string) => lines.push(`error ${line}`),
};

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'ohmstead-process-'));
  lines = [];
});

afterEach(() => rmSync(folder, { recursive: true }));

function processOf(code: string): ServerProcess {
  const script = join(folder, 'server.cjs');
  writeFileSync(script, code);
  return new ServerProcess(script, log);
}

const echo = `process.on('message', (message) => message === 'exit' ? process.exit() : process.send([message, process.argv.slice(2)]));`;

test('the one that was begun is taken, with what it writes in the log, and answers', async () => {
  const server = processOf(`console.log('up'); console.error('beware'); ${echo}`);
  server.begin();
  server.begin();
  await vi.waitFor(() => expect([...lines].sort()).toEqual(['error beware', 'info up']), 30_000);
  const child = server.take();
  child.send('hello');
  const [[message, words]] = await once(child, 'message');
  expect(message).toBe('hello');
  // By these words the language server knows its channel, and whose end it is not to outlive.
  expect(words).toEqual(['--node-ipc', `--clientProcessId=${process.pid}`]);
  child.send('exit');
  await once(child, 'exit');
});

test('one that has ended while it waited is replaced, and so is one that crashed', async () => {
  const server = processOf(echo);
  server.begin();
  const begun = server['waiting']!;
  begun.send('exit');
  await once(begun, 'exit');
  const second = server.take();
  second.send('exit');
  await once(second, 'exit');
  const third = server.take();
  third.send('still here');
  expect((await once(third, 'message'))[0][0]).toBe('still here');
  third.send('exit');
  await once(third, 'exit');
  expect(new Set([begun.pid, second.pid, third.pid]).size).toBe(3);
});

test('one that waits for nobody any more is ended at once', async () => {
  const server = processOf(echo);
  server.begin();
  const begun = server['waiting']!;
  server.end();
  const [, signal] = await once(begun, 'exit');
  expect(signal).toBe('SIGTERM');
});

test('one that does not exit by itself is ended', async () => {
  const server = processOf(`process.on('SIGTERM', () => {}); process.send('deaf'); for (;;);`);
  const child = server.take();
  await once(child, 'message');
  server.end();
  const [, signal] = await once(child, 'exit');
  expect(signal).toBe('SIGKILL');
});
