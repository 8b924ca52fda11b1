// The command as a process: what only the operating system sees of it.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { text } from 'node:stream/consumers';
import { describe, expect, test } from 'vitest';
import { bin, ohmstead, ohmsteadProcess } from './ohmstead.js';

const cwd = new URL('../../../', import.meta.url).pathname;

describe('a process of its own', () => {
  test.each([
    [0, ['check', 'examples/as-found-bell.wiring']],
    [1, ['check', '--format', 'json', 'examples/doorbell-first-try.wiring']],
    [2, ['check', 'examples/as-found-bell.wiring', 'nowhere.wiring']],
    [2, ['chekc', 'examples']],
    [0, ['--help']],
  ])('ends with %i, and prints what the command prints', async (status, args) => {
    const own = ohmsteadProcess(args, { cwd });
    expect(own.status).toBe(status);
    expect(own).toEqual(await ohmstead(args, { cwd }));
  });

  test('takes what it is told from its environment', () => {
    const args = ['check', '--format', 'github', 'doorbell-first-try.wiring'];
    const { out } = ohmsteadProcess(args, { cwd: `${cwd}examples`, env: { GITHUB_WORKSPACE: cwd } });
    expect(out).toContain('file=examples/doorbell-first-try.wiring,');
  });

  test('says nothing when its reader stops early', async () => {
    const child = spawn(process.execPath, [bin, 'check', '--format', 'sarif', 'examples/doorbell-first-try.wiring'], {
      cwd,
    });
    child.stdout.destroy();
    const [said, [, signal]] = await Promise.all([text(child.stderr), once(child, 'exit')]);
    expect([said, signal]).toEqual(['', null]);
  });
});

describe('serve', () => {
  const message = (body: object) => {
    const content = JSON.stringify({ jsonrpc: '2.0', ...body });
    return `Content-Length: ${Buffer.byteLength(content)}\r\n\r\n${content}`;
  };
  const initialize = message({
    id: 1,
    method: 'initialize',
    params: { processId: null, rootUri: null, capabilities: {} },
  });

  test('speaks on standard input and output, and ends when it is told to', async () => {
    const child = spawn(process.execPath, [bin, 'serve'], { cwd });
    let answers = '';
    const answered = async (words: string) => {
      while (!answers.includes(words)) answers += (await once(child.stdout, 'data'))[0];
    };
    child.stdin.write(initialize);
    await answered('"capabilities":');
    child.stdin.write(message({ id: 2, method: 'shutdown' }));
    await answered('"id":2,"result":null');
    child.stdin.write(message({ method: 'exit' }));
    expect(await once(child, 'exit')).toEqual([0, null]);
  });

  test('ends on a signal', async () => {
    const child = spawn(process.execPath, [bin, 'serve'], { cwd, stdio: ['pipe', 'pipe', 'inherit'] });
    child.stdin.write(initialize);
    await once(child.stdout, 'data');
    child.kill('SIGTERM');
    expect(await once(child, 'exit')).toEqual([null, 'SIGTERM']);
  });
});
