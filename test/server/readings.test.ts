// The fault finder over a real connection: explained, a reading taken, explained anew.
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { CodeLens, Hover } from 'vscode-languageserver-types';
import {
  EXPLAIN_REQUEST,
  type ExplainAnswer,
  TAKE_READING_REQUEST,
  type TakeReadingAnswer,
} from '../../packages/language/src/protocol.js';
import { applied, bundleServer, Client, positionAt, scratchFolder } from './client.js';

const silent = readFileSync(new URL('../../examples/faults-found/silent-side-door.wiring', import.meta.url), 'utf8');
const scratch = scratchFolder();
let client: Client;

beforeAll(async () => {
  ({ client } = await Client.start(await bundleServer(scratch.folder), scratch.folder));
});
afterAll(async () => {
  await client.stop();
  scratch.remove();
});

test('a reading taken is written into the record, and what fits follows', async () => {
  const uri = client.uriOf('silent.wiring');
  const before = silent.replace(/^ {4}pressed side-push {3}(side-push|hall-chime\.trans).*\n/gm, '');
  await client.open(uri, before);
  await client.until(uri, () => true);
  const ask = () => client.connection.sendRequest<ExplainAnswer>(EXPLAIN_REQUEST, { uri });
  const first = await ask();
  expect(first.stale).toBe(false);
  expect(first.explained?.explanation.faults.length).toBeGreaterThan(1);
  expect(first.explained?.choices.contacts).toEqual(['front-push', 'side-push']);
  expect(Object.keys(first.readings)).toEqual(['0/0', '0/1', '0/2']);

  const take = (line: string) =>
    client.connection.sendRequest<TakeReadingAnswer>(TAKE_READING_REQUEST, { uri, line, on: '2026-11-24' });
  expect(await take('pressed side-psh side-push.a, side-push.b 19.2 V')).toEqual({
    refused: expect.stringContaining('Did you mean `side-push`?'),
  });
  const taken = await take('pressed side-push side-push.a, side-push.b 19.2 V');
  if ('refused' in taken) throw new Error(taken.refused);
  const after = applied(before, [{ range: taken.edit.range, newText: taken.edit.newText }]);
  expect(after).toMatch(/ {4}pressed side-push +side-push\.a, side-push\.b +19\.2 V\n}\n$/);
  await client.change(uri, after);
  await client.until(uri, (diagnostics) => diagnostics.some(({ code }) => code === 'reading-disagrees'));
  const second = await ask();
  expect(second.explained?.readings).toHaveLength(4);
  expect(second.explained?.explanation.faults[0]?.what).toBe('the contact of `side-push` does not close');
});

test('a lens above the readings counts those that disagree, and hovering tells what was expected', async () => {
  const uri = client.uriOf('lens.wiring');
  await client.open(uri, silent);
  await client.until(uri, (diagnostics) => diagnostics.some(({ code }) => code === 'reading-disagrees'));
  const lenses = await client.connection.sendRequest<CodeLens[]>('textDocument/codeLens', { textDocument: { uri } });
  const line = silent.split('\n').findIndex((each) => each.startsWith('readings'));
  const lens = lenses.find(({ range }) => range.start.line === line);
  const resolved = await client.connection.sendRequest<CodeLens>('codeLens/resolve', lens);
  expect(resolved.command?.title).toBe('3 of 5 disagree: what fits these readings?');
  const hover = await client.connection.sendRequest<Hover>('textDocument/hover', {
    textDocument: { uri },
    position: positionAt(silent, silent.indexOf('19.2 V')),
  });
  expect(JSON.stringify(hover.contents)).toContain('It disagrees');
});
