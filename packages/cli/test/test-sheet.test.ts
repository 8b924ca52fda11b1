// The rows of the test sheet: in whose words a state stands, and between which screws of a supply is read.
import { readFileSync } from 'node:fs';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { papersMarkdown, papersOf, testRows } from '@ohmstead/views';
import { describe, expect, test } from 'vitest';

const example = (name: string) => readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8');
const checked = (text: string) => checkRecord(readRecord(parseWiring('file:///records/any.wiring', text)));
const rowsOf = (text: string) => testRows(checked(text).analysis);

describe('what is pressed', () => {
  test('a valve’s terminal of a controller is on, and nobody holds it', () => {
    const said = rowsOf(example('around-the-house/irrigation.wiring')).map(({ when }) => when);
    expect(said).toContain('controller.zone-1 on');
    expect(said).toContain('controller.zone-1 on, look');
    expect(said.filter((when) => /zone.*held/.test(when))).toEqual([]);
  });

  test('a button is held, and its chime is listened to once and while it is held', () => {
    const said = rowsOf(example('as-found-bell.wiring')).map(({ when }) => when);
    expect(said).toContain('porch-button held');
    expect(said).toContain('porch-button held, listen: once, then held');
  });
});

describe('a supply with taps', () => {
  const open = (text: string) =>
    rowsOf(text)
      .filter(({ section, when }) => section === 'supply' && when.startsWith('Open'))
      .map(
        ({ where, volts }) => [where, volts && 'least' in volts ? (volts.least + volts.most) / 2 : undefined] as const,
      );

  test('is read between the screws that are in use, with the volts of all sections between them', () => {
    const record = example('around-the-house/garden-lights.wiring');
    expect(open(record).map(([where]) => where)).toEqual(['path-tx COM to 12']);
    const [[, low] = []] = open(record);
    const [[where, high] = []] = open(record.replaceAll('path-tx.twelve', 'path-tx.fifteen'));
    expect(where).toBe('path-tx COM to 15');
    // Sections wound for 12, 1, 1 and 1 V share one no-load rise.
    expect(high! / low!).toBeCloseTo(15 / 12, 6);
  });

  test('is read from end to end where nothing is on its screws yet', () => {
    const record = example('around-the-house/garden-lights.wiring').replaceAll(/path-tx\.(common|twelve)/g, 'lamp-4.a');
    expect(open(record).map(([where]) => where)).toEqual(['path-tx COM to 15']);
  });
});

test('what is assumed alike of several parts stands once, under all their names', () => {
  const record = checked(example('around-the-house/garden-lights.wiring'));
  const made = papersMarkdown(papersOf(record.analysis, record.budget(), { only: ['head'] }));
  const lines = made.split('\n').filter((line) => line.includes('a draw of 5 W'));
  expect(lines).toEqual([expect.stringMatching(/^- lamp-1, lamp-2, lamp-3 and lamp-4: a draw of 5 W/)]);
});
