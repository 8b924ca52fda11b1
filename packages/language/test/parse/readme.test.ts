import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

const page = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
const samples = [...page.matchAll(/```\n([\s\S]*?)```/g)].map((match) => match[1]!);

it.each(samples)('a sample of the notation page reads without a finding: %#', (sample) => {
  const { findings, installation } = readRecord(parseWiring('file:///w/a.wiring', sample));
  expect(findings).toEqual([]);
  expect(installation.broken.size).toBe(0);
});

it('the notation page has its samples', () => {
  expect(samples).toHaveLength(2);
});
