// Rewire plans as data: what each statement does, what can't be done, and that order never matters.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  analyse,
  type AppliedPlan,
  applyPlan,
  type Installation,
  type Plan,
  type PlanStatement,
  runChecks,
} from '../../src/index.js';
import { anyInstallation } from '../compare/random-records.js';
import { AWG18, cable, device, end, facts, jumper, output, plainBell } from '../builder.js';

const NOTHING: Plan['adds'] = {
  places: [],
  supplies: [],
  devices: [],
  splices: [],
  runs: [],
  jumpers: [],
  accepts: [],
};

function plan(statements: readonly PlanStatement[], adds: Partial<Plan['adds']> = {}): Plan {
  return { statements, adds: { ...NOTHING, ...adds }, partTypes: plainBell().partTypes, broken: new Set() };
}

const applied = (...args: Parameters<typeof plan>): AppliedPlan => applyPlan(plainBell(), plan(...args));
const codes = ({ problems }: AppliedPlan) => problems.map(({ code }) => code);
const porch = ({ installation }: AppliedPlan) => installation.runs.find(({ name }) => name === 'tx-to-porch')!;

const toCamera: readonly PlanStatement[] = [
  { kind: 'remove', name: 'porch-button' },
  { kind: 'move', run: 'tx-to-porch', colour: 'red', from: end('porch-button.a'), to: end('porch-cam.a') },
  { kind: 'move', run: 'tx-to-porch', colour: 'white', from: end('porch-button.b'), to: end('porch-cam.b') },
];
const camera = device('porch-cam', 'video-doorbell', { ring: 'none' });

describe('a plan', () => {
  test('turns a bell into a doorbell, and the result is judged as any record is', () => {
    const larger: PlanStatement = {
      kind: 'replace-part',
      of: 'supply',
      name: 'bell-tx',
      facts: facts(output(16, 30)),
      lands: [],
    };
    const bypass = jumper('chime-bypass', 'hall-chime.trans', 'hall-chime.front');
    const result = applied([...toCamera, larger], { devices: [camera], jumpers: [bypass] });
    expect(codes(result)).toEqual([]);
    expect(result.installation.supplies[0]?.facts.outputs).toEqual(output(16, 30).outputs);
    const found = runChecks(analyse(result.installation)).filter(({ severity }) => severity === 'error');
    expect(found).toEqual([]);
  });

  test('forgets what was read off and measured on the part that it replaces', () => {
    const bell = plainBell();
    const measured: Installation = {
      ...bell,
      supplies: [{ ...bell.supplies[0]!, facts: facts({ ...output(16, 10), noLoadVolts: 19, measuredOpenVolts: 17 }) }],
    };
    const replace: PlanStatement = { kind: 'replace-part', of: 'supply', name: 'bell-tx', facts: facts(), lands: [] };
    expect(applyPlan(measured, plan([replace])).installation.supplies[0]?.facts).toEqual(facts());
  });

  test('takes conductors along to terminals of the same name, and says which are left hanging', () => {
    const replace = (type: string): PlanStatement => ({
      kind: 'replace-part',
      of: 'device',
      name: 'hall-chime',
      newName: 'new-chime',
      type,
      facts: facts(),
      lands: [],
    });
    const alike = applied([replace('two-note-chime')]);
    expect(codes(alike)).toEqual([]);
    expect(alike.installation.runs[0]?.conductors[0]?.to).toEqual({ kind: 'on', end: end('new-chime.trans') });
    const other = applied([replace('push-button')]);
    expect(other.problems).toMatchObject([
      {
        code: 'plan-left-hanging',
        at: { statement: 0 },
        facts: { ends: ['`red` of `tx-to-hall`', '`white` of `tx-to-hall`'], lacks: ['front', 'trans'] },
      },
    ]);
  });

  test('keeps length and landings of a run whose cable it replaces', () => {
    const thick: PlanStatement = {
      kind: 'replace-run',
      name: 'tx-to-porch',
      cable: cable(AWG18, ['red', 'white', 'green']),
      cableWords: '18/3',
      conductors: [],
      notes: [],
    };
    expect(porch(applied([thick]))).toMatchObject({ cableWords: '18/3', length: { value: 6.5 } });
    expect(porch(applied([thick])).conductors).toEqual(plainBell().runs[1]?.conductors);
  });

  test('lands a spare and lifts what is landed', () => {
    const result = applied([
      { kind: 'land', run: 'tx-to-porch', colour: 'green', from: end('bell-tx.a'), to: end('porch-button.b') },
      { kind: 'lift', run: 'tx-to-porch', colour: 'white', from: end('porch-button.b') },
    ]);
    expect(codes(result)).toEqual([]);
    expect(porch(result).conductors.map(({ colour, to }) => [colour, to?.kind])).toEqual([
      ['red', 'on'],
      ['white', 'capped'],
      ['green', 'on'],
    ]);
  });

  test.each<[string, PlanStatement, string]>([
    ['a name that is not there', { kind: 'remove', name: 'porch-buton' }, 'plan-nothing-there'],
    [
      'a jumper that is not there',
      { kind: 'remove-jumper', from: end('hall-chime.trans'), to: end('hall-chime.front') },
      'plan-nothing-there',
    ],
    [
      'an end that is elsewhere',
      { kind: 'lift', run: 'tx-to-porch', colour: 'red', from: end('porch-button.b') },
      'plan-end-elsewhere',
    ],
    [
      'a spare that is none',
      { kind: 'land', run: 'tx-to-porch', colour: 'red', from: end('bell-tx.a'), to: end('hall-chime.rear') },
      'plan-end-elsewhere',
    ],
    ['a part with wires on it', { kind: 'remove', name: 'porch-button' }, 'plan-left-hanging'],
    ['a splice with wires on it', { kind: 'remove', name: 'joist-joint' }, 'plan-left-hanging'],
  ])('%s is one problem', (_, statement, code) => {
    expect(codes(applied([statement]))).toEqual([code]);
  });

  test('that does a thing twice does it once where both say the same, and not at all where they differ', () => {
    const move = (to: string): PlanStatement => ({
      kind: 'move',
      run: 'tx-to-porch',
      colour: 'red',
      from: end('porch-button.a'),
      to: end(to),
    });
    const same = applied([move('hall-chime.rear'), move('hall-chime.rear')]);
    expect(codes(same)).toEqual(['plan-twice']);
    expect(porch(same).conductors[0]?.to).toEqual({ kind: 'on', end: end('hall-chime.rear') });
    const other = applied([move('hall-chime.rear'), move('joist-joint')]);
    expect(codes(other)).toEqual(['plan-twice']);
    expect(porch(other).conductors).toEqual(plainBell().runs[1]?.conductors);
  });

  test('that contradicts itself is left undone', () => {
    const result = applied([
      { kind: 'remove', name: 'hall-chime' },
      { kind: 'replace-part', of: 'device', name: 'hall-chime', facts: facts(), lands: [] },
    ]);
    expect(codes(result)).toEqual(['plan-conflict']);
    expect(result.installation.devices).toEqual(plainBell().devices);
  });
});

/** Statements about the names that random records have, half of which can't be done. */
const anyStatement: fc.Arbitrary<PlanStatement> = fc
  .record({
    kind: fc.constantFrom('remove', 'replace-part', 'relocate', 'move', 'lift', 'land', 'remove-jumper' as const),
    name: fc.constantFrom('tx-one', 'bell-a', 'push-a', 'joint-a', 'run-a', 'run-b', 'bypass'),
    run: fc.constantFrom('run-a', 'run-b', 'run-c'),
    colour: fc.constantFrom('red', 'white', 'green'),
    from: fc.constantFrom('tx-one.a', 'tx-one.b', 'bell-a.trans', 'push-a.a', 'joint-a'),
    to: fc.constantFrom('tx-one.b', 'bell-a.front', 'push-a.b', 'joint-a'),
  })
  .map(({ kind, name, run, colour, from, to }): PlanStatement => {
    switch (kind) {
      case 'remove':
        return { kind, name };
      case 'replace-part':
        return { kind, of: name.startsWith('tx') ? 'supply' : 'device', name, facts: facts(), lands: [] };
      case 'relocate':
        return { kind, name, place: run === 'run-a' ? 'attic' : 'cellar' };
      case 'remove-jumper':
        return { kind, from: end(from), to: end(to) };
      case 'lift':
        return { kind, run, colour, from: end(from) };
      default:
        return { kind: kind as 'move' | 'land', run, colour, from: end(from), to: end(to) };
    }
  });

describe('any plan', () => {
  test('of any record is answered, and says the same in whatever order its statements stand', () => {
    fc.assert(
      fc.property(anyInstallation, fc.array(anyStatement, { maxLength: 8 }), (record, statements) => {
        const there = applyPlan(record, plan(statements));
        const back = applyPlan(record, plan([...statements].reverse()));
        const settled = ({ installation, problems }: AppliedPlan) => ({
          installation: { ...installation, runs: installation.runs.map(settledRun) },
          codes: problems.map(({ code }) => code).sort(),
        });
        expect(settled(back)).toEqual(settled(there));
      }),
      { numRuns: 300 },
    );
  });

  test('of nothing leaves the record as it is', () => {
    fc.assert(
      fc.property(anyInstallation, (record) => {
        expect(applyPlan(record, plan([])).installation).toEqual(record);
      }),
      { numRuns: 50 },
    );
  });
});

/** Conductors that a plan is the first to state come in the order of its lines. */
function settledRun(run: Installation['runs'][number]): unknown {
  return { ...run, conductors: [...run.conductors].sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1)) };
}
