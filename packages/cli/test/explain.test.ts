// `ohmstead explain` on the example records, with the arguments that a person or a CI job would give it.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ohmstead } from './ohmstead.js';

const root = new URL('../../../', import.meta.url).pathname;
const silent = join(root, 'examples/faults-found/silent-side-door.wiring');
const sound = join(root, 'examples/two-doors-trickle.wiring');
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'ohmstead explain '));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const explain = (...args: readonly string[]) => ohmstead(['explain', ...args], { cwd: folder });

function valid(value: unknown): string {
  const schema = JSON.parse(readFileSync(join(root, 'packages/record/schema/explain.schema.json'), 'utf8'));
  const ajv = new Ajv2020({ strict: false });
  const check = ajv.compile(schema);
  return check(value) ? '' : ajv.errorsText(check.errors);
}

describe('a bell that does not ring', () => {
  test('gives the push with a contact that does not close, and status 1', async () => {
    const { status, out, err } = await explain(silent);
    expect([status, err]).toEqual([1, '']);
    expect(out.split('\n')[1]).toMatch(/^Likeliest, at 9\d %: the contact of side-push does not close\./);
  });

  test('as JSON keeps to its schema, with what excludes each of the others', async () => {
    const { status, out } = await explain(silent, '--format', 'json');
    const found = JSON.parse(out);
    expect(status).toBe(1);
    expect(valid(found)).toBe('');
    expect(found).toMatchObject({ version: 1, healthy: false });
    expect(found.faults[0]).toMatchObject({ id: 'contact-stuck-open side-push', parts: ['side-push'] });
    expect(found.excluded.length).toBeGreaterThan(10);
    const likelihoods = found.faults.map(({ likelihood }: { likelihood: number }) => likelihood);
    expect(Math.max(...likelihoods)).toBe(likelihoods[0]);
  });

  test('as Markdown has its headings', async () => {
    const { out } = await explain(silent, '--format', 'md');
    expect(out.match(/^#+ .*$/gm)).toEqual(
      expect.arrayContaining([
        '# Quarry Row 4, side door is silent',
        '## What fits, best first',
        '## Excluded',
        '## Readings',
      ]),
    );
  });
});

test('a house that reads as recorded gives status 0', async () => {
  const { status, out } = await explain(sound);
  expect(status).toBe(0);
  expect(out).toContain('no fault is needed to explain them');
  expect(valid(JSON.parse((await explain(sound, '--format', 'json')).out))).toBe('');
});

test('a record without readings has nothing to explain, and gives status 0', async () => {
  const { status, out } = await explain(join(root, 'examples/as-found-bell.wiring'));
  expect(status).toBe(0);
  expect(out).toContain('Nothing has been read yet.');
  expect(valid(JSON.parse((await explain(join(root, 'examples/as-found-bell.wiring'), '--format', 'json')).out))).toBe(
    '',
  );
});

test('blocks of earlier days count with --all', async () => {
  const text = readFileSync(silent, 'utf8');
  const file = join(folder, 'later.wiring');
  writeFileSync(file, `${text}\nreadings "mended" on 2026-11-25 {\n    pressed side-push  hall-chime  rings rear\n}\n`);
  expect((await explain(file)).status).toBe(0);
  expect((await explain(file, '--all')).status).toBe(1);
});

test('what cannot be read gives status 2', async () => {
  const { status, out, err } = await explain('nothing.wiring');
  expect([status, out]).toEqual([2, '']);
  expect(err).toContain('nothing.wiring');
});
