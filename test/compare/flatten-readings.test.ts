// What was read before a plan counts on where the plan leaves the wiring alone, and is kept as a comment where it does not.
import { expect, test } from 'vitest';
import { flattenPlan, parseWiring, readRecord } from '../../packages/language/src/index.js';

const bell = (name: string) => `supply ${name}-tx : bell-transformer { output 16 V AC, 10 VA, note "Breaker 7." }
device ${name}-chime : two-note-chime { rating 16 V AC, 10 VA }
device ${name}-button : push-button
run ${name}-to-chime : 18/2, 9 m {
    red    ${name}-tx.a      to  ${name}-chime.trans
    white  ${name}-button.b  to  ${name}-chime.front
}
jumper ${name}-link : ${name}-tx.b to ${name}-button.a
`;

function flat(readings: string, plan: string): string {
  const uri = (file: string) => `file:///w/${file}.wiring`;
  const documents = new Map([
    [uri('base'), parseWiring(uri('base'), `wiring "Two"\n${bell('one')}${bell('other')}${readings}`)],
    [uri('plan'), parseWiring(uri('plan'), `changes "base.wiring"\n${plan}\n`)],
  ]);
  const source = { document: (address: string) => documents.get(address) };
  const text = flattenPlan(documents.get(uri('plan'))!, source);
  if (typeof text !== 'string') throw new Error(text.refused);
  const { findings } = readRecord(parseWiring(uri('flat'), text));
  expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  return text.slice(
    text.indexOf('readings') < 0 ? 0 : Math.min(text.indexOf('readings'), text.indexOf('// Read before') >>> 0),
  );
}

const REPLACED = 'replace supply one-tx { output 16 V AC, 20 VA }';
const WHY = '// Read before this wiring was changed:';

test('lines of a block are told apart by what they are about', () => {
  const block = `readings "both" on 2026-09-01 {
    idle                  mains                               121 V
    idle                  one-tx.a, one-tx.b                  20 V
    pressed other-button  through other-to-chime.red          0.5 A
    pressed one-button    one-chime                           rings // loudly
    idle                  other-chime.trans, other-chime.front  0 V
    note "Both were dusty."
}
`;
  const text = flat(block, REPLACED);
  const lines = text.split('\n').map((line) => line.trim().replace(/ {2,}/g, ' '));
  expect(lines.slice(0, 8)).toEqual([
    'readings "both" on 2026-09-01 {',
    'idle mains 121 V',
    `${WHY} idle one-tx.a, one-tx.b 20 V`,
    'pressed other-button through other-to-chime.red 0.5 A',
    `${WHY} pressed one-button one-chime rings // loudly`,
    'idle other-chime.trans, other-chime.front 0 V',
    'note "Both were dusty."',
    '}',
  ]);
});

test('a block of what was changed alone is a comment as a whole, one of what was not stays as it was', () => {
  const text = flat(
    `readings on 2026-09-01 {
    idle  mains               121 V
    idle  one-tx.a, one-tx.b  20 V
}
readings on 2026-09-02 {
    idle  other-tx.a, other-tx.b  20 V
}
`,
    REPLACED,
  );
  expect(text).toContain(`${WHY} readings on 2026-09-01 {\n//     idle  mains`);
  expect(text).toContain('readings on 2026-09-02 {\n    idle  other-tx.a, other-tx.b  20 V\n}');
});

test('readings that share a line are taken apart', () => {
  const text = flat(
    'readings "x" on 2026-09-01 { idle one-tx.a, one-tx.b 20 V, idle other-tx.a, other-tx.b 20 V }\n',
    REPLACED,
  );
  expect(text).toContain(`${WHY} idle one-tx.a, one-tx.b 20 V\nreadings "x" on 2026-09-01 {\n`);
  expect(text).toMatch(/\n +idle +other-tx\.a, other-tx\.b +20 V\n}/);
});

test('a plan that changes no wiring leaves all of them, and one of a joint between both circuits none', () => {
  const block =
    'readings on 2026-09-01 {\n    idle  one-tx.a, one-tx.b      20 V\n    idle  other-tx.a, other-tx.b  20 V\n}\n';
  expect(flat(block, 'place attic')).toContain(block);
  expect(flat(block, 'jumper one-tx.b to other-tx.b')).toContain(`${WHY} readings on 2026-09-01 {`);
});
