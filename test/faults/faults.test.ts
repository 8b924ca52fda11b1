// packages/record/FAULTS.md is what the records in examples/faults give: written anew with `npx vitest run --config test/vitest.config.ts test/faults -u`.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { checkRecord, parseWiring, readRecord } from '../../packages/language/src/index.js';
import { type FaultRecord, faultsPage } from './page.js';

const root = new URL('../..', import.meta.url).pathname;
const folder = join(root, 'examples/faults');

const faults = readdirSync(folder)
  .filter((file) => file.endsWith('.wiring'))
  .sort()
  .map((file): FaultRecord => {
    const text = readFileSync(join(folder, file), 'utf8');
    const story = /^\/\/ (.*)/.exec(text)?.[1] ?? '';
    const checked = checkRecord(readRecord(parseWiring(`file:///faults/${file}`, text)));
    return { file: `examples/faults/${file}`, story, checked };
  });

test('there are twenty faults or more', () => {
  expect(faults.length).toBeGreaterThanOrEqual(20);
});

test('the page is current', async () => {
  await expect(faultsPage(faults)).toMatchFileSnapshot(join(root, 'packages/record/FAULTS.md'));
});

describe('each fault tells its story, and one or two findings name it', () => {
  test.each(faults.map((fault) => [fault.file, fault] as const))('%s', (_, { story, checked }) => {
    expect(story.length).toBeGreaterThan(20);
    const grave = checked.findings.filter(({ severity }) => severity === 'error' || severity === 'warning');
    expect(grave.map(({ code }) => code)).not.toEqual([]);
    expect(grave.length).toBeLessThanOrEqual(2);
  });
});
