// The layout library as it ships, without what no drawing uses, lays out as the whole library does.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createContext, runInContext } from 'node:vm';
import type { ElkNode } from 'elkjs';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { sketchOf } from '@ohmstead/views/drawing';
import { beforeAll, expect, test } from 'vitest';

const root = new URL('../../../', import.meta.url).pathname;
const whole = join(root, 'node_modules/elkjs/lib/elk-worker.min.js');

/** A worker of a script, asked as the page asks it. */
function worker(script: string): (message: object) => { data?: ElkNode; error?: unknown } {
  let answer: { data?: ElkNode; error?: unknown } = {};
  const scope: Record<string, unknown> = {
    setTimeout,
    clearTimeout,
    postMessage: (said: typeof answer) => (answer = said),
  };
  scope['self'] = scope;
  const context = createContext(scope);
  runInContext(script, context);
  return (message) => {
    // The library looks for arrays of its own world.
    scope['message'] = JSON.stringify({ id: 1, ...message });
    runInContext('self.onmessage({ data: JSON.parse(message) })', context);
    // What it numbers for itself says nothing.
    return JSON.parse(JSON.stringify(answer, (key, value) => (key === '$H' ? undefined : value)));
  };
}

let ships: ReturnType<typeof worker>;
let full: ReturnType<typeof worker>;
beforeAll(async () => {
  const bundler = '../layout-bundle.mjs';
  const { layoutScript } = await import(new URL(bundler, import.meta.url).href);
  ships = worker(await layoutScript(whole));
  full = worker(readFileSync(whole, 'utf8'));
  for (const each of [ships, full]) each({ cmd: 'register', algorithms: ['layered'] });
}, 60_000);

const records = ['examples', 'examples/around-the-house', 'test/mutations/records'].flatMap((folder) =>
  readdirSync(join(root, folder))
    .filter((name) => name.endsWith('.wiring'))
    .map((name) => join(folder, name)),
);

test('records of every kind are laid out to the same pixel', () => {
  expect(records.length).toBeGreaterThan(20);
  for (const record of records) {
    const text = readFileSync(join(root, record), 'utf8');
    const { analysis } = checkRecord(readRecord(parseWiring('file:///records/any.wiring', text)));
    const { graph } = sketchOf(analysis);
    const mine = ships({ cmd: 'layout', graph });
    expect(mine.error, record).toBeUndefined();
    expect(mine.data?.width, record).toBeGreaterThan(0);
    expect(mine.data, record).toEqual(full({ cmd: 'layout', graph }).data);
  }
}, 240_000);
