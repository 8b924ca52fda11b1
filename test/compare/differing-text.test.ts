// Two versions of a record that are read no further than they differ compare as the whole of both does.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  type CheckedRecord,
  checkRecord,
  compareChecked,
  differingRecords,
  parseWiring,
  readRecord,
} from '@ohmstead/language';
import { workOrders } from '@ohmstead/record';
import fc from 'fast-check';
import { expect, test } from 'vitest';

const folders = [
  new URL('../../packages/record/fixtures', import.meta.url),
  new URL('../../examples', import.meta.url),
];
const houses = folders
  .flatMap(({ pathname }) =>
    readdirSync(pathname, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.wiring'))
      .map((file) => readFileSync(join(pathname, file), 'utf8').replace(/\/\/!.*$/gm, '')),
  )
  .filter((text) => !/^\s*(import|changes|readings)\b/m.test(text));

const heads = /^(?:wiring|profile)\b.*$/gm;

/** Names that two houses of a record have are told apart by their house; a type stands in the first alone. */
function ofAStreet(text: string, house: number): string {
  const own = [...text.matchAll(/^(?:place|supply|device|splice|run|jumper|box) (?!type\b)([a-z][\w-]*)/gm)];
  const names = new Set(own.map(([, name]) => name!));
  const alone = text.replace(heads, '');
  const named = house === 0 ? alone : alone.replace(/^(?:device|supply|cable) type [\s\S]*?^}/gm, '');
  return named.replace(/[a-z][\w-]*/gi, (word) => (names.has(word) ? `${word}-${house}` : word));
}

let read = 0;

function whole(before: string, after: string): [CheckedRecord, CheckedRecord] {
  const checked = (text: string, previous?: CheckedRecord) =>
    checkRecord(readRecord(parseWiring(`test:whole-${read++}.wiring`, text)), { previous });
  const old = checked(before);
  return [old, checked(after, old)];
}

function differing(before: string, after: string) {
  const number = read++;
  const address = (text: string, side: string) => ({ uri: `test:${number}-${side}.wiring`, text });
  return differingRecords(address(before, 'old'), address(after, 'new'));
}

function told([old, now]: readonly [CheckedRecord, CheckedRecord]) {
  return { comparison: compareChecked(old, now), orders: workOrders(old.analysis, now.analysis) };
}

/** Lines of one house change, those of a second now and then. */
const edit = fc.record({
  // Half of them leave a record that can be read to its end.
  how: fc.constantFrom(
    ...(['figure', 'figure', 'terminal', 'terminal', 'name', 'comment', 'comment before'] as const),
    ...(['leave out', 'double', 'swap', 'from elsewhere'] as const),
  ),
  at: fc.nat(),
  other: fc.nat(),
});

function edited(text: string, { how, at, other }: { how: string; at: number; other: number }): string {
  const lines = text.split('\n');
  const saying = lines.flatMap((line, index) => (/\w/.test(line) ? [index] : []));
  const here = saying[at % saying.length]!;
  const there = saying[other % saying.length]!;
  const line = lines[here]!;
  if (how === 'leave out') lines.splice(here, 1);
  else if (how === 'double') lines.splice(here, 0, line);
  else if (how === 'from elsewhere') lines[here] = lines[there]!;
  else if (how === 'swap') [lines[here], lines[there]] = [lines[there]!, line];
  else if (how === 'comment') lines[here] = `${line} // seen again`;
  else if (how === 'comment before') lines[here] = `/* seen again */ ${line}`;
  else if (how === 'figure') lines[here] = line.replace(/\d+/, (figure) => String(Number(figure) + 1 + (other % 9)));
  else if (how === 'terminal') lines[here] = line.replace(/\.(\w+)/, (end) => (end === '.a' ? '.b' : '.a'));
  else {
    const name = /^\w+ ([\w-]+)/.exec(line)?.[1];
    return name ? text.replace(new RegExp(`(?<![\\w-])${name}(?![\\w-])`, 'g'), `${name}-x`) : text;
  }
  return lines.join('\n');
}

/** Of a house that is judged by the whole record the whole is read. */
const plain = houses.filter(
  (text) => !/^(?:accept|box|ground|earth|jumper|pigtail|\w+ type)\b|branch-circuit/m.test(text),
);

test('records of several houses, of which one is worked on', () => {
  let short = 0;
  fc.assert(
    fc.property(
      fc.constantFrom(...houses),
      fc.array(fc.constantFrom(...plain), { minLength: 3, maxLength: 5 }),
      fc.option(fc.constantFrom(...houses), { nil: undefined }),
      fc.array(edit, { minLength: 1, maxLength: 2 }),
      fc.boolean(),
      (worked, others, odd, edits, isBack) => {
        const head = worked.match(heads)?.join('\n') ?? '';
        const all = [worked, ...others, ...(odd === undefined ? [] : [odd])].map(ofAStreet);
        const now = all.map((text, house) => (house === 0 ? edits.reduce(edited, text) : text));
        const [old, next] = [all, now].map((lines) => `${head}\n${lines.join('\n')}\n`) as [string, string];
        const pair = isBack ? ([next, old] as const) : ([old, next] as const);
        const records = differing(...pair);
        if (!records) return;
        short++;
        expect(told(records)).toEqual(told(whole(...pair)));
      },
    ),
    { numRuns: 120 },
  );
  expect(short).toBeGreaterThan(20);
}, 180_000);

test.each([
  ['an acceptance of the whole', '/* seen by the owner */ accept short-record because "to be measured"', '', ''],
  ['another profile', '', '/* house */ profile north-america', '/* house */ profile europe'],
])('a statement behind a comment: %s', (_, last, before, after) => {
  const street = plain.slice(0, 6).map(ofAStreet);
  const text = (head: string, houses: readonly string[]) => `${head}\n${houses.join('\n')}\n${last}\n`;
  const worked = street.map((house, index) => (index === 0 ? house.replace(/, \d+ (?:ft|m) \{/, ' {') : house));
  const pair = [text(before, street), text(after, worked)] as const;
  const records = differing(...pair) ?? whole(...pair);
  expect(told(records)).toEqual(told(whole(...pair)));
});
