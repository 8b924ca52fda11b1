// What is asked of the server before its client is there waits for it; stopping and restarting hold at every moment of a start.
import { ANALYSED_NOTIFICATION } from '@ohmstead/language/protocol';
import { expect, test } from 'vitest';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { LanguageServer } from '../src/language-server.js';

/** A client's way of starting, stopping and refusing, each step let go of by the test. */
class FakeClient {
  state: 'initial' | 'starting' | 'running' | 'failed' | 'stopped' = 'initial';
  readonly asked: unknown[] = [];
  private readonly handlers = new Map<string, (params: unknown) => void>();
  private letStart: (problem?: Error) => void = () => {};

  start(): Promise<void> {
    this.state = 'starting';
    return new Promise((resolve, reject) => {
      this.letStart = (problem) => {
        this.state = problem ? 'failed' : 'running';
        if (problem) reject(problem);
        else resolve();
      };
    });
  }
  started(problem?: Error): void {
    this.letStart(problem);
  }
  needsStop(): boolean {
    return this.state === 'starting' || this.state === 'running';
  }
  async stop(): Promise<void> {
    if (this.state !== 'running') throw new Error(`can't be stopped while ${this.state}`);
    this.state = 'stopped';
  }
  async sendRequest(method: string, params: object): Promise<unknown> {
    if (this.state !== 'running') throw new Error(`asked while ${this.state}`);
    this.asked.push([method, params]);
    return `${method} answered`;
  }
  onNotification(method: string, handler: (params: unknown) => void): void {
    this.handlers.set(method, handler);
  }
  notify(method: string, params: unknown): void {
    this.handlers.get(method)?.(params);
  }
}

/** A host whose clients are loaded when the test says so. */
function fakeHost() {
  const clients: FakeClient[] = [];
  const loads: { done(): void; fails(problem: Error): void }[] = [];
  let ended = 0;
  const server = new LanguageServer({
    makeClient: () =>
      new Promise((resolve, reject) => {
        const done = () => {
          const client = new FakeClient();
          clients.push(client);
          resolve(client as unknown as BaseLanguageClient);
        };
        loads.push({ done, fails: reject });
      }),
    end: () => {
      ended++;
    },
  });
  return { server, clients, loads, ended: () => ended };
}

const turn = () => new Promise((resolve) => setImmediate(resolve));

test('a question asked before there is a client is answered once the server runs', async () => {
  const { server, clients, loads } = fakeHost();
  const answer = server.request('ohmstead/budget', { uri: 'a' });
  const start = server.start();
  expect(loads).toHaveLength(1);
  loads[0]!.done();
  await turn();
  expect(clients[0]).toMatchObject({ state: 'starting', asked: [] });
  clients[0]!.started();
  expect(await answer).toBe('ohmstead/budget answered');
  await start;
  expect(clients).toHaveLength(1);
});

test('who listens from the beginning is told, by every client in turn, until it no longer wants to be', async () => {
  const { server, clients, loads } = fakeHost();
  const heard: string[] = [];
  const listening = server.onAnalysed(({ uri }) => heard.push(uri));
  const start = server.start();
  loads[0]!.done();
  await turn();
  clients[0]!.started();
  await start;
  clients[0]!.notify(ANALYSED_NOTIFICATION, { uri: 'a' });
  const again = server.restart();
  await turn();
  loads[1]!.done();
  await turn();
  clients[1]!.started();
  await again;
  clients[1]!.notify(ANALYSED_NOTIFICATION, { uri: 'b' });
  listening.dispose();
  clients[1]!.notify(ANALYSED_NOTIFICATION, { uri: 'c' });
  expect(heard).toEqual(['a', 'b']);
});

test('stopping while the client is loaded starts nothing any more', async () => {
  const { server, clients, loads, ended } = fakeHost();
  const start = server.start();
  const stop = server.stop();
  loads[0]!.done();
  await stop;
  await expect(start).rejects.toThrow('was stopped');
  expect(clients[0]!.state).toBe('initial');
  expect(ended()).toBe(1);
  await expect(server.request('ohmstead/budget', {})).rejects.toThrow('was stopped');
  expect(loads).toHaveLength(1);
});

test('stopping in the middle of a start waits for it, since a client that is starting can’t be stopped', async () => {
  const { server, clients, loads, ended } = fakeHost();
  const start = server.start();
  loads[0]!.done();
  await turn();
  const stop = server.stop();
  await turn();
  expect(clients[0]!.state).toBe('starting');
  expect(ended()).toBe(0);
  clients[0]!.started();
  await Promise.all([start, stop]);
  expect(clients[0]!.state).toBe('stopped');
  expect(ended()).toBe(1);
});

test('stopping what was never started ends what the host may have begun', async () => {
  const { server, loads, ended } = fakeHost();
  await server.stop();
  expect([loads.length, ended()]).toEqual([0, 1]);
});

test.each(['its code can’t be loaded', 'the server does not start'])(
  '%s: told to all who wait; a restart tries again',
  async (why) => {
    const { server, clients, loads, ended } = fakeHost();
    const waiting = [server.start(), server.request('ohmstead/budget', {})];
    if (why.startsWith('its code')) loads[0]!.fails(new Error(why));
    else {
      loads[0]!.done();
      await turn();
      clients[0]!.started(new Error(why));
    }
    for (const each of waiting) await expect(each).rejects.toThrow(why);
    await expect(server.request('ohmstead/budget', {})).rejects.toThrow(why);
    expect(loads).toHaveLength(1);

    const again = server.restart();
    await turn();
    expect(ended()).toBe(1);
    loads[1]!.done();
    await turn();
    clients.at(-1)!.started();
    await again;
    expect(await server.request('ohmstead/budget', {})).toBe('ohmstead/budget answered');
  },
);

test('what is left is ended even where the client does not stop', async () => {
  const { server, clients, loads, ended } = fakeHost();
  const start = server.start();
  loads[0]!.done();
  await turn();
  clients[0]!.started();
  await start;
  clients[0]!.stop = () => Promise.reject(new Error('Stopping the server timed out'));
  await expect(server.stop()).rejects.toThrow('timed out');
  expect(ended()).toBe(1);
});
