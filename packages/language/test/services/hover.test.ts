// What a hover and a lens say of the examples, as sentences that are true of the thing under the cursor.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type CheckedRecord, checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';
import { lensWords } from '../../src/services/code-lenses.js';
import { hoverAt } from '../../src/services/hover.js';

const example = (name: string): CheckedRecord => {
  const text = readFileSync(new URL(`../../../../examples/${name}.wiring`, import.meta.url), 'utf8');
  return checkRecord(readRecord(parseWiring(`file:///house/${name}.wiring`, text)));
};

/** The sentences of a hover on the word that ends these words, without its tables. */
function said(record: CheckedRecord, words: string): string[] {
  const { text } = record.reading.document;
  const hover = hoverAt(record.reading, record, text.indexOf(words) + words.length - 1, () => undefined);
  return (hover?.markdown ?? '').split('\n').filter((line) => line !== '' && !line.startsWith('|'));
}

describe('a hover', () => {
  it('judges what is fed at nominal mains, as the checks do, and contacts not at all', () => {
    const alarm = said(example('around-the-house/alarm'), 'device detector');
    expect(alarm.filter((line) => line.startsWith('Margin'))).toEqual([
      'Margin at nominal mains: 1.2 V above the least, 10.8 V; 1.8 V below the most, 13.8 V.',
    ]);
    expect(alarm.at(-1)).toBe('contact alarm-a to alarm-b');
    // At high mains a healthy circuit may go over what is judged at nominal: no margin says that it is wrong.
    expect(said(example('around-the-house/heating-and-cooling'), 'device condenser').at(-1)).toMatch(
      /^Margin at nominal mains: [\d.]+ V above the least, 21.6 V; [\d.]+ V below the most, 27.6 V\.$/,
    );
    expect(said(example('as-found-bell'), 'device hall-chime')).toContainEqual(
      expect.stringMatching(/^Margin at nominal mains: [\d.]+ V above what it rings from, 11.2 V;/),
    );
    expect(said(example('two-doors-trickle'), 'device side-push').join()).not.toContain('Margin');
  });

  it('says of a circuit of the house what it carries', () => {
    const record = example('bell-with-line-side');
    expect(said(record, 'supply basement-circuit').slice(1)).toEqual([
      'Circuit 7, 120 V.',
      'It carries 7.58 A, counted as 7.98 A: 53 % of its 15 A breaker. 1.58 A of it is continuous and counts 1.25 times.',
      'Feeds `bell-tx` (83 mA), besides 7.5 A of what else is recorded.',
    ]);
    expect(lensWords(record, 'basement-circuit')).toBe('carries 7.58 A, counted as 7.98 A: 53 % of its 15 A breaker');
  });

  it('says of a spare conductor that it is one', () => {
    expect(said(example('around-the-house/alarm'), 'green')).toEqual(['**front-loop.green** · 22/4, spare']);
  });

  it('says what a jumper joins, and what stands in a place', () => {
    expect(said(example('doorbell-done-right'), 'jumper chime-bypass')).toEqual([
      '**chime-bypass** · jumper from `hall-chime.trans` to `hall-chime.front`',
    ]);
    expect(said(example('bell-on-rail-europe'), 'place board-cupboard').at(-1)).toBe('Here: `board`.');
  });
});

describe('a lens', () => {
  it('says nothing of outputs that nothing is drawn from, where one is', () => {
    expect(lensWords(example('around-the-house/garden-lights'), 'path-tx')).toBe(
      'common to twelve: 29.2 VA of 150 VA, worst at rest',
    );
    expect(lensWords(example('bell-on-rail-europe'), 'bell-tx')).toMatch(/^0 to 8: [\d.]+ VA of 8 VA, worst while/);
  });
});
