// A conductor followed from end to end, as an editor's call hierarchy asks for it.
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CallHierarchyOutgoingCall,
} from 'vscode-languageserver-types';
import { bundleServer, Client, positionAt, scratchFolder } from './client.js';

const bell = readFileSync(new URL('../../examples/as-found-bell.wiring', import.meta.url), 'utf8');
const scratch = scratchFolder();
let client: Client;

beforeAll(async () => {
  ({ client } = await Client.start(await bundleServer(scratch.folder), scratch.folder));
});

afterAll(async () => {
  await client.stop();
  scratch.remove();
});

async function open(text: string): Promise<string> {
  const uri = client.uriOf('followed.wiring');
  await client.open(uri, text);
  await client.until(uri, () => true);
  return uri;
}

const at = (uri: string, position: unknown) => ({ textDocument: { uri }, position });

describe('a conductor', () => {
  it('is followed from end to end through a splice', async () => {
    const uri = await open(bell);
    const white = positionAt(bell, bell.indexOf('white  porch-return  to  hall-chime.front') + 1);
    const [start] = await client.request<CallHierarchyItem[]>('textDocument/prepareCallHierarchy', at(uri, white));
    expect(start!.name).toBe('tx-to-hall.white');
    const out = async (item: CallHierarchyItem) =>
      (await client.request<CallHierarchyOutgoingCall[]>('callHierarchy/outgoingCalls', { item })).map(({ to }) => to);
    const back = async (item: CallHierarchyItem) =>
      (await client.request<CallHierarchyIncomingCall[]>('callHierarchy/incomingCalls', { item })).map(
        ({ from }) => from,
      );
    const ahead = await out(start!);
    expect(ahead.map(({ name }) => name)).toEqual(['hall-chime.front']);
    expect(await out(ahead[0]!)).toEqual([]);
    const [splice] = await back(start!);
    expect(splice!.name).toBe('porch-return');
    const [other] = await back(splice!);
    expect([other!.name, other!.detail]).toEqual(['tx-to-porch.white', 'porch-return to porch-button.b']);
    expect((await back(other!)).map(({ name }) => name)).toEqual(['porch-button.b']);
  });
});

describe('a conductor of a plan', () => {
  it('is followed into the record underneath, each place in the file that it is of', async () => {
    const base = client.write('followed-base.wiring', bell);
    const plan = 'changes "followed-base.wiring"\n\n\njumper bypass : hall-chime.trans to hall-chime.front\n';
    const uri = client.write('followed-plan.wiring', plan);
    await client.open(uri, plan);
    await client.until(uri, () => true);
    const [bypass] = await client.request<CallHierarchyItem[]>(
      'textDocument/prepareCallHierarchy',
      at(uri, positionAt(plan, plan.indexOf('bypass') + 1)),
    );
    const incoming = (item: CallHierarchyItem) =>
      client.request<CallHierarchyIncomingCall[]>('callHierarchy/incomingCalls', { item });
    const [terminal] = await incoming(bypass!);
    expect([terminal!.from.name, terminal!.from.uri]).toEqual(['hall-chime.trans', base]);
    // Of whoever leads here, in its own file: a place in the plan would be another line there.
    expect(terminal!.fromRanges).toEqual([terminal!.from.range]);
    const out = await client.request<CallHierarchyOutgoingCall[]>('callHierarchy/outgoingCalls', { item: bypass });
    expect(out.map(({ to, fromRanges }) => [to.name, fromRanges.map(({ start }) => start.line)])).toEqual([
      ['hall-chime.front', [3]],
    ]);
  });
});
