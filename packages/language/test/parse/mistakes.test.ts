import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

/** A record, then mistakes made in it by hand: what was written, what was written instead, and the sentence it gets. */
const [record = '', ...mistakes] = readFileSync(new URL('mistakes.txt', import.meta.url), 'utf8')
  .replaceAll('\r', '')
  .split(/\n\n+/);

const GRAMMAR_SPEAK = /token|identifier|expect|keyword|parse|unexpected|invalid|undefined|EOF|syntax/i;

function said(text: string): string[] {
  return readRecord(parseWiring('file:///w/a.wiring', text)).findings.map(({ message }) => message);
}

describe('a mistake made by hand', () => {
  it('is made in a record without any', () => {
    expect(said(record)).toEqual([]);
    expect(mistakes.length).toBeGreaterThan(100);
  });

  it.each(mistakes.map((mistake) => [mistake.trimEnd().replace(/\n.*/s, ''), mistake] as const))('%s', (_, mistake) => {
    const [edit = '', sentence = '', ...more] = mistake.trimEnd().split('\n');
    const [from = '', to = ''] = edit.split(' => ').map((part) => part.replaceAll('⏎', '\n').replaceAll('⇥', '\t'));
    expect(more).toEqual([]);
    expect(record).toContain(from);
    expect(said(record.replace(from, to))).toEqual([sentence]);
    expect(sentence.split(' ').length).toBeLessThanOrEqual(35);
    expect(sentence.replace(/`[^`]*`/g, '')).not.toMatch(GRAMMAR_SPEAK);
  });
});
