// The README's record and plan are real: they are read and checked as they stand there.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openFiles } from '@ohmstead/language/node';
import { afterAll, expect, test } from 'vitest';

const folder = mkdtempSync(join(tmpdir(), 'ohmstead-readme-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
const [record, plan] = [...readme.matchAll(/^```\n(wiring [\s\S]*?)^```$/gm)].map((match) => match[1]!);

function codesOf(name: string, text: string): string[] {
  const file = join(folder, name);
  writeFileSync(file, text);
  const [opened] = openFiles([file]);
  if (!opened || !('record' in opened)) throw new Error(`${name} was not read`);
  return opened.record.findings.map(({ severity, code }) => `${severity} ${code}`);
}

test('the record is clean', () => {
  expect(codesOf('as-found.wiring', record!)).toEqual([]);
});

test('the plan leads to a circuit without errors or warnings', () => {
  const codes = codesOf('plan.wiring', plan!);
  expect(codes.filter((one) => /^(error|warning)/.test(one))).toEqual([]);
  // The bypassed chime can no longer ring, and the record says so.
  expect(codes).toContain('info chime-silenced');
});
