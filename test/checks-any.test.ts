// Records with lines left out, doubled and swapped: every check answers, and the same record answers the same.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkRecord, parseWiring, readRecord } from '../packages/language/src/index.js';

const folder = new URL('../packages/record/fixtures', import.meta.url).pathname;
const recordsIn = (name: string) =>
  readdirSync(join(folder, name)).map((file) =>
    readFileSync(join(folder, name, file), 'utf8').replace(/\/\/!.*$/gm, ''),
  );
const sound = recordsIn('sound');
const records = [...sound, ...recordsIn('mistakes')];

const edit = fc.record({
  how: fc.constantFrom('leave out', 'double', 'swap'),
  at: fc.nat({ max: 200 }),
  other: fc.nat({ max: 200 }),
});

function edited(text: string, edits: readonly { how: string; at: number; other: number }[]): string {
  const lines = text.split('\n');
  for (const { how, at, other } of edits) {
    const here = at % lines.length;
    const there = other % lines.length;
    if (how === 'leave out') lines.splice(here, 1);
    else if (how === 'double') lines.splice(there, 0, lines[here]!);
    else [lines[here], lines[there]] = [lines[there]!, lines[here]!];
  }
  return lines.join('\n');
}

const check = (text: string) => checkRecord(readRecord(parseWiring('file:///records/any.wiring', text)));

test('any edit of a record is answered, twice alike, with sentences that hold no failed figure', () => {
  fc.assert(
    fc.property(fc.constantFrom(...records), fc.array(edit, { minLength: 1, maxLength: 4 }), (record, edits) => {
      const text = edited(record, edits);
      const { findings } = check(text);
      for (const { message } of findings) expect(message).not.toMatch(/NaN|undefined|Infinity|\[object/);
      expect(check(text).findings).toEqual(findings);
    }),
    { numRuns: 150 },
  );
});

test('a line left out of a sound record is never more than one error of the circuit', () => {
  for (const record of sound) {
    const lines = record.split('\n');
    lines.forEach((line, index) => {
      if (!/^ {4}\S+ +\S+ +to /.test(line)) return;
      const errors = check(lines.toSpliced(index, 1).join('\n')).findings.filter(
        ({ severity }) => severity === 'error',
      );
      expect(errors.map(({ code, message }) => `${code}: ${message}`).slice(1), line).toEqual([]);
    });
  }
});
