import fc from 'fast-check';
import { expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { parseWiring } from '../../src/reading/document.js';

const line = fc.constantFrom('place a', 'supply tx : t {', '  note "x"', '}', '', ' ', '// run b', 'run', '"', '/*');
const end = fc.constantFrom('\n', '\r\n', '\r', '\n\r');
const text = fc
  .array(fc.tuple(line, end), { maxLength: 8 })
  .chain((lines) => line.map((last) => lines.map((one) => one.join('')).join('') + last));

it('tells lines and offsets as the protocol counts them, also where there are none, before an edit and after it', () => {
  let texts = 0;
  fc.assert(
    fc.property(text, fc.nat(), fc.nat({ max: 5 }), line, (earlier, place, gone, typed) => {
      const at = place % (earlier.length + 1);
      const uri = `file:///lines-${texts++}.wiring`;
      const kept = parseWiring(uri, earlier);
      for (const now of [earlier, earlier.slice(0, at) + typed + earlier.slice(at + gone)]) {
        const document = now === earlier ? kept : parseWiring(uri, now);
        const known = TextDocument.create(uri, 'ohmstead', 1, now);
        for (let offset = -1; offset <= now.length + 1; offset++) {
          expect(document.rangeAt(offset, offset).start).toEqual(known.positionAt(offset));
        }
        for (let number = -1; number <= known.lineCount + 1; number++) {
          for (const character of [-1, 0, 1, 7, 8, 9, 99]) {
            const position = { line: number, character };
            expect(document.offsetAt(position)).toBe(known.offsetAt(position));
          }
        }
      }
    }),
    { numRuns: 300 },
  );
});
