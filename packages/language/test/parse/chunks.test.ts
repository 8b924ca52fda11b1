import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rangeOf } from '../../src/lower/sites.js';
import { readRecord } from '../../src/read.js';
import { chunksOf, type Starts, sharedChunks } from '../../src/reading/chunks.js';
import { parseWiring } from '../../src/reading/document.js';

describe('the cut into statements', () => {
  it.each([
    ['', ['']],
    ['place a\nplace b\n', ['place a\n', 'place b\n']],
    ['// start\r\nplace a\r\nDevice b : c {\r\n}\r\n', ['// start\r\n', 'place a\r\n', 'Device b : c {\r\n}\r\n']],
    ['place a\rplace b', ['place a\r', 'place b']],
    ['places a\n  place b\nrun-1 c\nplace\n', ['places a\n  place b\nrun-1 c\n', 'place\n']],
    ['place a\n/* then\nplace b\nplace c */\nplace d\n', ['place a\n/* then\nplace b\nplace c */\n', 'place d\n']],
    ['place a "/*"\nplace b // */\nplace c\n', ['place a "/*"\n', 'place b // */\n', 'place c\n']],
    ['place a /* never closed\nplace b\n', ['place a /* never closed\n', 'place b\n']],
  ])('%j', (text, chunks) => {
    expect(chunksOf(text)).toEqual(chunks);
  });

  it('takes over what did not change, and moves it to its place', () => {
    const one = parseWiring('file:///w/a.wiring', 'place a\nsplice s in a\nplace b\nplace b\n');
    const other = parseWiring('file:///w/a.wiring', '// new\nplace a { outdoor }\n\nsplice s in a\nplace b\nplace b\n');
    expect(other.file.statements[1]).toBe(one.file.statements[1]);
    expect(other.file.statements[0]).not.toBe(one.file.statements[0]);
    const [, splice, , last] = other.file.statements;
    expect(rangeOf({ document: one, node: splice!, property: 'name' }).start).toEqual({ line: 1, character: 7 });
    expect(rangeOf({ document: other, node: splice!, property: 'name' }).start).toEqual({ line: 3, character: 7 });
    expect(rangeOf({ document: other, node: last! }).start.line).toBe(5);
    expect(readRecord(other).findings.map(({ range, code }) => `${range.start.line} ${code}`)).toEqual([
      '5 duplicate-name',
    ]);
    expect(other.slices.map(({ offset, end }) => other.text.slice(offset, end))).toEqual([
      'place a { outdoor }',
      'splice s in a',
      'place b',
      'place b',
    ]);
  });
});

function startsOf(chunks: readonly string[]): Starts {
  return { count: chunks.length, startOf: (index) => chunks.slice(0, index).join('').length };
}

describe('chunks that two texts of a file share', () => {
  const line = fc.constantFrom(
    'run a',
    'run',
    'supplyx',
    'supply tx : t {',
    '  note "x"',
    '}',
    '',
    '// run b',
    'device d',
  );
  const text = fc.array(line, { maxLength: 12 }).map((lines) => lines.join('\n'));

  it('leave between them what a cut of the whole later text has there', () => {
    fc.assert(
      fc.property(
        text,
        fc.nat(),
        fc.nat({ max: 9 }),
        fc.constantFrom('', 'r', 'n', ' ', '\n', 'run', '\nrun c\n', '/*'),
        (earlier, place, gone, typed) => {
          const at = place % (earlier.length + 1);
          const later = earlier.slice(0, at) + typed + earlier.slice(at + gone);
          const chunks = chunksOf(earlier);
          const { first, last } = sharedChunks(earlier, startsOf(chunks), later);
          const [before, behind] = [chunks.slice(0, first), chunks.slice(chunks.length - last)];
          const middle = later.slice(before.join('').length, later.length - behind.join('').length);
          const all = [...before, ...(middle === '' ? [] : chunksOf(middle)), ...behind];
          expect(all).toEqual(later === '' ? [] : chunksOf(later));
        },
      ),
    );
  });

  it('are found in long texts as in short ones', () => {
    const lines = Array.from({ length: 600 }, (_, index) => `splice joint-${index} in the-cellar`);
    const earlier = lines.join('\n');
    const chunks = chunksOf(earlier);
    for (const index of [0, 1, 250, 598, 599]) {
      const later = lines.map((one, at) => (at === index ? `${one}-b` : one)).join('\n');
      const { first, last } = sharedChunks(earlier, startsOf(chunks), later);
      // Beside the one that was edited at most its neighbour is cut again.
      expect(first + last).toBeGreaterThanOrEqual(598);
      expect(first).toBeLessThanOrEqual(index);
      expect(last).toBeLessThanOrEqual(599 - index);
    }
  });

  it('are those far enough from the edit that no line of them is joined or parted by it', () => {
    const earlier = 'place a\nplace b\nplace c\nplace d\n';
    expect(sharedChunks(earlier, startsOf(chunksOf(earlier)), earlier.replace('place c', 'place cc'))).toEqual({
      first: 1,
      last: 1,
    });
    expect(sharedChunks(earlier, startsOf(chunksOf(earlier)), earlier)).toEqual({ first: 2, last: 0 });
  });
});
