// Comparisons and work orders of the example plans as they are printed: against their schemas, and with names that could be markup.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import {
  type CheckedRecord,
  checkRecord,
  flattenPlan,
  parseWiring,
  readRecord,
} from '../../packages/language/src/index.js';
import { formatText } from '../../packages/language/src/services/format.js';
import {
  type ComparedSide,
  compareRecords,
  runChecks,
  sameInstallation,
  workOrders,
} from '../../packages/record/src/index.js';
import {
  compareHtml,
  compareMarkdown,
  compareText,
  workOrderHtml,
  workOrderMarkdown,
  workOrderText,
} from '../../packages/views/src/index.js';

const root = new URL('../..', import.meta.url).pathname;
const examples = join(root, 'examples/plans');

const sourceOf = (files: Readonly<Record<string, string>>) => {
  const documents = new Map(
    Object.entries(files).map(([name, text]) => [`file:///plans/${name}`, parseWiring(`file:///plans/${name}`, text)]),
  );
  return { document: (uri: string) => documents.get(uri) };
};

function open(files: Readonly<Record<string, string>>, name: string): CheckedRecord {
  const source = sourceOf(files);
  const check = (uri: string): CheckedRecord | undefined => {
    const document = source.document(uri);
    return document && checkRecord(readRecord(document, source), { imported: check });
  };
  return check(`file:///plans/${name}`)!;
}

function side({ analysis, reading }: CheckedRecord): ComparedSide {
  const findings = [...reading.findings, ...runChecks(analysis)].map(({ code, severity, message, parts }) => ({
    code,
    severity,
    message,
    parts,
    accepted: false,
  }));
  return { analysis, findings };
}

const files = Object.fromEntries(
  readdirSync(examples).map((name) => [name, readFileSync(join(examples, name), 'utf8')]),
);
const asFound = open(files, 'mill-row-as-found.wiring');
const doorbell = open(files, 'mill-row-doorbell.wiring');
const backDoor = open(files, 'mill-row-back-door.wiring');

function valid(schema: string, value: unknown): string {
  const ajv = new Ajv2020({ strict: false });
  const check = ajv.compile(JSON.parse(readFileSync(join(root, 'packages/record/schema', schema), 'utf8')));
  return check(JSON.parse(JSON.stringify(value))) ? '' : ajv.errorsText(check.errors);
}

describe('the example plans', () => {
  test('compare as their schema says, either way round and over both stages', () => {
    for (const [before, after] of [
      [asFound, doorbell],
      [doorbell, backDoor],
      [backDoor, asFound],
      [asFound, asFound],
    ] as const) {
      expect(valid('compare.schema.json', compareRecords(side(before), side(after)))).toBe('');
      expect(valid('work-order.schema.json', workOrders(before.analysis, after.analysis))).toBe('');
    }
  });

  test('say the doorbell has taken the place of the button, and what that does', () => {
    const text = compareText(compareRecords(side(asFound), side(doorbell)));
    expect(text).toContain('replaced, renamed  front-button, now front-cam: push-button, now video-doorbell');
    expect(text).toMatch(/replaced +bell-tx: output 16 V AC, 10 VA, now 16 V AC, 30 VA; label/);
    expect(text).toContain('moved  red of cellar-to-front: front-button.a, now front-cam.a');
    expect(text).toContain('added  jumper chime-bypass from landing-chime.trans to landing-chime.front');
    expect(text).toContain('new   info chime-silenced');
    const width = Math.max(...text.split('\n').map((line) => line.length));
    expect(width).toBeLessThanOrEqual(130);
  });

  test('ask for the line side to be opened only where the supply is another', () => {
    const said = (order: { readonly steps: readonly { readonly words: string }[] }) =>
      order.steps.map(({ words }) => words).join('\n');
    expect(said(workOrders(asFound.analysis, doorbell.analysis).there)).toContain(
      'The line side of `bell-tx` is opened',
    );
    const second = workOrders(doorbell.analysis, backDoor.analysis);
    expect(said(second.there)).not.toContain('line side');
    expect(second.there.steps.map(({ phase }) => phase)).toEqual([
      'isolate',
      'isolate',
      'mount',
      'mount',
      'pull',
      ...Array(6).fill('land'),
      'restore',
      'restore',
    ]);
  });

  test('expect at every coil and load what the budget computes', () => {
    const { there } = workOrders(doorbell.analysis, backDoor.analysis);
    const ringing = there.expected.find(
      ({ between, closed, loads }) =>
        between[1] === 'landing-chime.rear' && closed[0] === 'back-button' && loads === 'idle',
    );
    const rear = backDoor.budget().devices.find(({ name }) => name === 'landing-chime')!.elements[1]!;
    const solved = rear.solved.find(({ closed, loads }) => closed[0] === 'back-button' && loads === 'idle');
    expect(ringing?.volts).toBe(solved?.volts);
    expect(ringing!.least).toBeLessThan(ringing!.volts);
    expect(ringing!.most).toBeGreaterThan(ringing!.volts);
  });

  test.each(['mill-row-doorbell.wiring', 'mill-row-back-door.wiring'])('%s written out is the same circuit', (name) => {
    const { reading } = open(files, name);
    const text = flattenPlan(reading.document, sourceOf(files));
    expect(typeof text).toBe('string');
    expect(formatText(text as string)).toBe(text);
    const flat = open({ 'flat.wiring': text as string }, 'flat.wiring');
    expect(flat.reading.findings).toEqual([]);
    expect(sameInstallation(flat.reading.installation, reading.installation)).toBe(true);
    for (const comment of ['// Sticks in wet weather.', '// The same two wires, on the same two screws.']) {
      expect(text).toContain(comment);
    }
  });
});

test('nothing that somebody named becomes markup', () => {
  const hostile = '<img src=x onerror=alert(1)>`|*_';
  const before = open({ 'a.wiring': `wiring "${hostile}"\nplace hall\nsplice joint in hall\n` }, 'a.wiring');
  const after = open(
    {
      'a.wiring': `wiring "${hostile} now"\nplace hall\nsplice joint in hall { note "${hostile}" }\naccept drop-high because "${hostile}"\n`,
    },
    'a.wiring',
  );
  const comparison = compareRecords(side(before), side(after));
  const orders = workOrders(before.analysis, after.analysis);
  for (const page of [compareHtml(comparison), workOrderHtml(orders, 'north-america')]) {
    expect(page).not.toContain('<img');
    expect(page).not.toContain('<script');
  }
  for (const markdown of [compareMarkdown(comparison), workOrderMarkdown(orders)]) {
    expect(markdown).not.toMatch(/(?<!\\)<img/);
  }
  expect(compareText(comparison)).toContain('note');
  expect(workOrderText(orders)).toContain('Nothing at the wiring is to be done.');
});
