import { readFileSync, readdirSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseWiring } from '../../src/reading/document.js';
import { formatText } from '../../src/services/format.js';
import { scan } from '../../src/services/scan.js';

const folder = new URL('../../../../examples/', import.meta.url);
const examples = readdirSync(folder)
  .filter((name) => name.endsWith('.wiring'))
  .map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') }));

function formatted(text: string): string {
  const result = formatText(text);
  if (typeof result !== 'string') throw new Error(result.refused);
  return result;
}

/** Every token that is not white space, by a plainer rule than the formatter's own. */
function nonSpace(text: string): string {
  return text.replace(/[\s\u00a0\ufeff]+/g, '').toLowerCase();
}

describe('formatText', () => {
  it('sets conductors in columns, spaces around colons and braces, and words in their usual case', () => {
    const text = [
      'Supply bell-tx:bell-transformer in basement{',
      '  output 16 v ac,10 va',
      '\tnoted-by "a  b"   // kept',
      '}',
      'RUN tx-to-hall : 18/2 from basement to hall ,9 M {',
      'red bell-tx.a to hall-chime.trans',
      ' red/white joist-joint    to hall-chime.front',
      '  blue spare',
      '  1 v to m',
      '}',
    ].join('\n');
    expect(formatted(text)).toBe(
      [
        'supply bell-tx : bell-transformer in basement {',
        '    output 16 V AC, 10 VA',
        '    noted-by "a  b"  // kept',
        '}',
        'run tx-to-hall : 18/2 from basement to hall, 9 m {',
        '    red        bell-tx.a    to  hall-chime.trans',
        '    red/white  joist-joint  to  hall-chime.front',
        '    blue       spare',
        '    1          v            to  m',
        '}',
        '',
      ].join('\n'),
    );
  });

  it('leaves the case of names alone, also where they look like units', () => {
    const text = 'device type T {\n    contact 1 A to b\n    coil 8 V to b { 16 v, 5 w }\n}\n';
    expect(formatted(text)).toBe('device type T {\n    contact 1 A to b\n    coil 8 V to b { 16 V, 5 W }\n}\n');
  });

  it('keeps one blank line of several and comments where they are', () => {
    const text = '\n\n// first\n\n\nplace a\n\n\n\n    // about b\nplace b // end\n/* long\n  one */\nplace c\n\n\n';
    expect(formatted(text)).toBe('// first\n\nplace a\n\n// about b\nplace b  // end\n/* long\n  one */\nplace c\n');
  });

  it('keeps line ends and a byte-order mark', () => {
    expect(formatted('\ufeffplace  a\r\nplace\u00a0b\r\n')).toBe('\ufeffplace a\r\nplace b\r\n');
  });

  it('leaves a statement that is not closed as it is, and formats its neighbours', () => {
    const broken = 'supply  x:y {\n  output   16 V\n';
    expect(formatted(`place   a\n${broken}place   b\n`)).toBe(`place a\n${broken}place b\n`);
  });

  it('leaves a statement with curly quotes or an open string as it is', () => {
    const text = 'wiring  \u201cA,b\u201d\nplace  x  "open\n';
    expect(formatted(text)).toBe(text);
  });

  it('leaves a digit, a comma and a digit together', () => {
    expect(formatted('run a : 2 x 0,75 mm2\n')).toBe('run a : 2 x 0,75 mm2\n');
  });

  it('indents a line that goes on after a comma only where it was written deeper', () => {
    const text = 'device type t {\n  terminal a,\n     b\n}\nbox j {\n  metal,\n  clamps\n}\n';
    expect(formatted(text)).toBe(
      'device type t {\n    terminal a,\n        b\n}\nbox j {\n    metal,\n    clamps\n}\n',
    );
  });

  it.each(examples)('$name is formatted as it stands', ({ text }) => {
    expect(formatted(text)).toBe(text);
  });
});

describe('formatText on mutated records', () => {
  const pieces = [
    '{',
    '}',
    '"',
    ',',
    ' ',
    '\n',
    '\t',
    ' :',
    '//',
    '/*',
    '*/',
    '.',
    '12',
    'to',
    '\r\n',
    'V',
    '\u201c',
    "'",
  ];
  const mutated = fc
    .record({
      text: fc.constantFrom(...examples.map((example) => example.text)),
      edits: fc.array(
        fc.record({
          at: fc.double({ min: 0, max: 1, noNaN: true }),
          cut: fc.nat(12),
          put: fc.constantFrom('', ...pieces),
        }),
        { maxLength: 6 },
      ),
    })
    .map(({ text, edits }) =>
      edits.reduce((now, { at, cut, put }) => {
        const from = Math.floor(at * now.length);
        return now.slice(0, from) + put + now.slice(from + cut);
      }, text),
    );

  it('never loses, adds or moves anything but white space', () => {
    fc.assert(
      fc.property(mutated, (text) => {
        expect(nonSpace(formatted(text))).toBe(nonSpace(text));
      }),
      { numRuns: 400 },
    );
  });

  it('keeps every comment and every string as written', () => {
    const kept = (text: string): string[] =>
      scan(text).flatMap((line) =>
        line.tokens
          .filter((token) => token.kind === 'comment' || token.kind === 'string')
          .map((token) => token.text.trimEnd()),
      );
    fc.assert(
      fc.property(mutated, (text) => {
        expect(kept(formatted(text))).toEqual(kept(text));
      }),
      { numRuns: 400 },
    );
  });

  it('leaves every token in the statement that it stood in', () => {
    const statements = (text: string): string[] =>
      parseWiring('file:///a.wiring', text).slices.map((slice) =>
        slice.tokens.map((token) => token.image.toLowerCase().replace(/\s+/g, ' ')).join('|'),
      );
    fc.assert(
      fc.property(mutated, (text) => {
        expect(statements(formatted(text))).toEqual(statements(text));
      }),
      { numRuns: 400 },
    );
  });

  it('changes nothing the second time', () => {
    fc.assert(
      fc.property(mutated, (text) => {
        const once = formatted(text);
        expect(formatted(once)).toBe(once);
      }),
      { numRuns: 400 },
    );
  });
});
