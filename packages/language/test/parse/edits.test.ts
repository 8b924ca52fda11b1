import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseWiring, type WiringDocument } from '../../src/reading/document.js';
import { readRecord } from '../../src/read.js';

const folders = ['../../../../examples/', '../../library/'].map((path) => new URL(path, import.meta.url));
const texts = folders.flatMap((folder) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.wiring'))
    .map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') })),
);

/** Deterministic, so that a failure can be repeated. */
function randomNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

interface Words {
  readonly offset: number;
  readonly end: number;
  readonly slice: number;
}

function wordsOf(document: WiringDocument): Words[] {
  return document.slices.flatMap((slice, index) =>
    slice.tokens
      .filter((token) => token.image !== '')
      .map((token) => ({ offset: token.startOffset, end: token.startOffset + token.image.length, slice: index })),
  );
}

function sliceTexts(document: WiringDocument, onlyRead: boolean): string[] {
  return document.slices
    .filter((slice) => !onlyRead || (slice.statement && !slice.problem))
    .map((slice) => slice.tokens.map((token) => token.image).join(' '));
}

const junk = [
  '{',
  '}',
  '"',
  ',',
  ':',
  'xyzzy',
  '16',
  '0,5',
  '/',
  '.',
  '§',
  'to',
  'output',
  '/*',
  '*/',
  '//',
  '(',
  '“',
  '\n',
  'V',
];

const edits: readonly ((text: string, word: Words, next: Words | undefined, random: () => number) => string)[] = [
  (text, { offset, end }) => text.slice(0, offset) + text.slice(end),
  (text, { offset, end }) => `${text.slice(0, end)} ${text.slice(offset)}`,
  (text, { offset, end }, _next, random) =>
    text.slice(0, offset) + junk[Math.floor(random() * junk.length)] + text.slice(end),
  (text, { end }, _next, random) =>
    `${text.slice(0, end)} ${junk[Math.floor(random() * junk.length)]}${text.slice(end)}`,
  (text, { offset, end }, next) =>
    next
      ? text.slice(0, offset) +
        text.slice(next.offset, next.end) +
        text.slice(end, next.offset) +
        text.slice(offset, end) +
        text.slice(next.end)
      : text,
  (text, { offset }, _next, random) =>
    text.slice(0, offset + 1) + junk[Math.floor(random() * junk.length)] + text.slice(offset + 1),
];

/** What a record says, and where it says it. */
function meant(document: WiringDocument) {
  const { findings, installation, sourceMap } = readRecord(document);
  const { broken, partTypes: _types, ...said } = installation;
  return {
    said,
    broken: [...broken],
    findings: findings.map(({ range, message }) => ({ range, message })),
    places: [...sourceMap.paths()].sort().map((path) => ({ path, range: sourceMap.locate(path)?.range })),
  };
}

describe('one-token edits', () => {
  it('lose no statement but the one that was edited, and report each statement once', () => {
    const random = randomNumbers(20);
    const lost: string[] = [];
    let count = 0;
    for (let round = 0; round < 720; round++) {
      const { name, text } = texts[Math.floor(random() * texts.length)]!;
      const document = parseWiring('file:///w/a.wiring', text);
      const words = wordsOf(document);
      const at = Math.floor(random() * words.length);
      const next = words[at + 1]?.slice === words[at]!.slice ? words[at + 1] : undefined;
      const kind = Math.floor(random() * edits.length);
      const edited = edits[kind]!(text, words[at]!, next, random);
      if (edited === text) continue;
      count++;
      const after = parseWiring('file:///w/a.wiring', edited);
      const kept = new Map<string, number>();
      for (const slice of sliceTexts(after, true)) kept.set(slice, (kept.get(slice) ?? 0) + 1);
      for (const [index, slice] of sliceTexts(document, false).entries()) {
        if (index === words[at]!.slice) continue;
        const left = kept.get(slice) ?? 0;
        if (left === 0) lost.push(`${name}, edit ${kind} at ${words[at]!.offset}: ${slice.slice(0, 60)}`);
        kept.set(slice, left - 1);
      }
      // What was taken over from the text before the edit means the same as if it were read anew.
      const anew = parseWiring(`file:///w/${round}.wiring`, edited);
      readRecord(document);
      expect(meant(after)).toEqual(meant(anew));
      expect(after.problems).toEqual(anew.problems);
    }
    expect(count).toBeGreaterThan(600);
    expect(lost).toEqual([]);
  });
});

describe('hostile text', () => {
  const deep = '{'.repeat(20_000);
  it.each([
    ['braces', `device x : push-button ${deep}`],
    ['braces of a type', `device type x {\n coil a to b ${deep}`],
    ['closing braces', '}'.repeat(20_000)],
    ['one long line', `run r : 18/2 from a to b, ${'9 m, '.repeat(20_000)}`],
    ['one long name', `device ${'a'.repeat(200_000)} : push-button`],
    ['one long number', `supply x : bell-transformer {\n output ${'9'.repeat(100_000)} V\n}`],
    ['quotes', '"'.repeat(20_001)],
    ['comment starts', '/*'.repeat(20_000)],
    ['comment starts on lines', '/*\n'.repeat(5_000)],
    ['control characters', '\u0000\u0001\uFFFF\uD800'.repeat(2_000)],
    ['numbers with commas', `place x { temperature ${'1,'.repeat(20_000)} }`],
    ['crosses', `run r : ${'2 x '.repeat(20_000)} mm2`],
    ['statement words', 'device\n'.repeat(10_000)],
    ['nothing', ''],
    ['a byte-order mark', '\uFEFF'],
  ])('is read without a crash or a long wait: %s', (_name, text) => {
    const reading = readRecord(parseWiring('file:///w/a.wiring', text));
    expect(reading.document.problems.length).toBeLessThanOrEqual(reading.document.slices.length);
  });
});
