// Clean records with one token, line or statement wrong: what changes what the circuits do is caught, in no more than two errors, without
// a crash. What is silent is judged by comparing what mutant and original do, as solved; the table says how many of each kind, and why.
// OHMSTEAD_MUTANTS=all tries every mutant; otherwise some are left out, evenly over the records. OHMSTEAD_RECORDS=irrigation takes the records
// alone whose names contain that.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Behaviour, behaviourOf } from './behaviour.js';
import { type Mutant, mutantsOf } from './mutate.js';
import { check, type ReadRecord, readForMutation } from './reading.js';

const root = new URL('../..', import.meta.url).pathname;
const recordsIn = (folder: string) =>
  readdirSync(join(root, folder))
    .filter((file) => file.endsWith('.wiring'))
    .map((file) =>
      readForMutation(`${folder}/${file}`, readFileSync(join(root, folder, file), 'utf8').replace(/ *\/\/!.*$/gm, '')),
    );

const named = process.env['OHMSTEAD_RECORDS'];
/** Large records of other trades than bells: fewer of their mutants are taken. */
const AROUND_THE_HOUSE = 'examples/around-the-house';
const folders = ['examples', AROUND_THE_HOUSE, 'packages/record/fixtures/sound', 'test/mutations/records'];
const isGrave = ({ severity }: { readonly severity: string }) => severity === 'error' || severity === 'warning';
const clean = folders
  .flatMap(recordsIn)
  .filter(({ name, checked }) => name.includes(named ?? '') && !checked.findings.some(isGrave));
const further = recordsIn('test/mutations/records');

type Outcome = 'caught' | 'hinted' | 'same circuit' | 'does as before';
interface Row {
  readonly counts: Record<Outcome, number>;
  twoErrors: number;
}

const LEAST = 5000;
/** Slips of the keys are many and much alike: fewer of them are taken. */
const SLIPS = new Set(['token left out', 'letter dropped', 'token doubled']);
const isEvery = process.env['OHMSTEAD_MUTANTS'] === 'all';
const isTaken = ({ name }: ReadRecord, { kind }: Mutant, index: number) =>
  isEvery || index % ((SLIPS.has(kind) ? 9 : 2) * (name.startsWith(AROUND_THE_HOUSE) ? 3 : 1)) === 0;
const all = clean.flatMap((record) => mutantsOf(record).map((mutant) => ({ record, mutant })));
const tried = all.filter(({ record, mutant }, index) => isTaken(record, mutant, index));

const table = new Map<string, Row>();
const missed: string[] = [];
const crowded: string[] = [];

function outcomeOf(record: ReadRecord, before: Behaviour, mutant: Mutant): Outcome {
  const { findings, analysis } = check(mutant.text);
  const errors = findings.filter(({ severity }) => severity === 'error');
  const where = () => `${record.name} ${mutant.kind} at ${mutant.words}`;
  if (errors.length > 2) crowded.push(`${where()}: ${errors.map(({ code }) => code).join(', ')}`);
  if (errors.length === 2) rowOf(mutant.kind).twoErrors++;
  if (findings.some(isGrave)) return 'caught';
  const after = behaviourOf(analysis);
  if (after.figures === before.figures) return newHints(record, findings) ? 'hinted' : 'same circuit';
  const lost = [...before.does].filter((one) => !after.does.has(one) && isPossible(after, one));
  const gained = [...after.does].filter((one) => !before.does.has(one) && isPossible(before, one));
  const harms = [...after.harms].filter((one) => !before.harms.has(one));
  if (lost.length + gained.length + harms.length > 0 && !newHints(record, findings)) {
    missed.push(`${where()}: no more ${lost.join(', ')}; now ${[...gained, ...harms].join(', ')}`);
  }
  return newHints(record, findings) ? 'hinted' : 'does as before';
}

/** A record that says of a push that it has no lamp, or of a doorbell that it rings nothing, is taken at its word. */
function isPossible({ has }: Behaviour, one: string): boolean {
  if (one.endsWith(' is lit') || one.endsWith(' runs')) return has.has(one);
  const [, contact] = /^(\S+) rings /.exec(one) ?? [];
  return contact === undefined || has.has(contact);
}

function newHints({ checked }: ReadRecord, findings: readonly { readonly code: string }[]): boolean {
  const count = (list: readonly { readonly code: string }[], code: string) =>
    list.filter((one) => one.code === code).length;
  return findings.some(({ code }) => count(findings, code) > count(checked.findings, code));
}

function rowOf(kind: string): Row {
  const known = table.get(kind) ?? {
    counts: { caught: 0, hinted: 0, 'same circuit': 0, 'does as before': 0 },
    twoErrors: 0,
  };
  table.set(kind, known);
  return known;
}

test('there are 40 clean records, 20 of them beside the examples and the samples of the checks', () => {
  expect(clean.length).toBeGreaterThanOrEqual(40);
  expect(further.length).toBeGreaterThanOrEqual(20);
});

describe('a sound record raises nothing that a good technician would wave away', () => {
  test.each(further.map(({ name, checked }) => [name, checked] as const))('%s', (_, { findings }) => {
    expect(findings.filter(isGrave).map(({ code, message }) => `${code}: ${message}`)).toEqual([]);
  });
});

describe('mutants', () => {
  test('each is answered', { timeout: isEvery ? 7_200_000 : 600_000 }, () => {
    const known = new Map<ReadRecord, Behaviour>();
    for (const { record, mutant } of tried) {
      const before = known.get(record) ?? behaviourOf(record.checked.analysis);
      known.set(record, before);
      rowOf(mutant.kind).counts[outcomeOf(record, before, mutant)]++;
    }
    console.log(printed());
    expect(tried.length).toBeGreaterThanOrEqual(LEAST);
  });
  test('what changes what the circuits do is caught', () => {
    expect(missed).toEqual([]);
  });
  test('none gives more than two errors', () => {
    expect(crowded).toEqual([]);
  });
});

function printed(): string {
  const outcomes = ['caught', 'hinted', 'same circuit', 'does as before'] as const;
  const rows = [...table].map(([kind, { counts, twoErrors }]) => {
    const total = outcomes.reduce((sum, outcome) => sum + counts[outcome], 0);
    return [
      kind,
      total,
      counts.caught,
      twoErrors,
      counts.hinted,
      counts['same circuit'],
      counts['does as before'],
    ] as const;
  });
  const sums = [2, 3, 4, 5, 6].map((column) => rows.reduce((sum, row) => sum + Number(row[column]), 0));
  const head = [
    'mutation',
    'mutants',
    'caught',
    '(2 errors)',
    'hint or info',
    'silent: same circuit',
    'silent: does as before',
  ];
  const lines = [head, ...rows, ['all', tried.length, ...sums]].map((row) =>
    row
      .map((cell, column) => (column === 0 ? String(cell).padEnd(36) : String(cell).padStart(head[column]!.length + 2)))
      .join(''),
  );
  return lines.join('\n');
}
