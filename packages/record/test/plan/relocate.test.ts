// A part in another place: what goes along with it, what stays, and what is not measured any more.
import { describe, expect, test } from 'vitest';
import { applyPlan, type Installation, type Plan, type PlanStatement, workOrders, analyse } from '../../src/index.js';
import { plainBell } from '../builder.js';

const house = (): Installation => {
  const bell = plainBell();
  const place = (name: string) => ({ name, outdoor: false, wet: false, concealed: false });
  return {
    ...bell,
    places: ['closet', 'basement', 'hall', 'porch'].map(place) as unknown as Installation['places'],
    supplies: bell.supplies.map((one) => ({ ...one, place: 'closet' })),
    devices: bell.devices.map((one) => ({ ...one, place: one.name === 'hall-chime' ? 'hall' : 'porch' })),
    splices: bell.splices.map((one) => ({ ...one, place: 'closet' })),
    runs: bell.runs.map((run) => ({
      ...run,
      fromPlace: 'closet',
      toPlace: run.name === 'tx-to-porch' ? 'porch' : 'hall',
    })),
  };
};

function applied(statements: readonly PlanStatement[], record = house()) {
  const adds: Plan['adds'] = { places: [], supplies: [], devices: [], splices: [], runs: [], jumpers: [], accepts: [] };
  return applyPlan(record, { statements, adds, partTypes: record.partTypes, broken: new Set() });
}

const relocate = (name: string, place: string): PlanStatement => ({ kind: 'relocate', name, place });
const both = [relocate('bell-tx', 'basement'), relocate('joist-joint', 'basement')];
const ways = ({ runs }: Installation) => runs.map(({ name, fromPlace, toPlace }) => [name, fromPlace, toPlace]);

describe('a part that is relocated', () => {
  test('takes its runs along where all that they land on there goes', () => {
    const { installation, problems } = applied(both);
    expect(problems).toEqual([]);
    expect(installation.supplies[0]?.place).toBe('basement');
    expect(installation.splices[0]?.place).toBe('basement');
    expect(ways(installation)).toEqual([
      ['tx-to-hall', 'basement', 'hall'],
      ['tx-to-porch', 'basement', 'porch'],
    ]);
  });

  test('leaves their lengths as estimates, and those that the plan states as measured', () => {
    const measured: PlanStatement = {
      kind: 'replace-run',
      name: 'tx-to-hall',
      length: { value: 12 },
      conductors: [],
      notes: [],
    };
    const [hall, porch] = applied([...both, measured]).installation.runs;
    expect(hall).toMatchObject({ fromPlace: 'basement', length: { value: 12 } });
    expect(hall?.length?.about).toBeUndefined();
    expect(porch?.length).toMatchObject({ about: true });
  });

  test('leaves a run where it was that lands on something that stays', () => {
    const { installation, problems } = applied(both.slice(0, 1));
    expect(problems).toEqual([]);
    expect(ways(installation)).toEqual(ways(house()));
    expect(installation.runs).toEqual(house().runs);
  });

  test('may be another part as well, under another name', () => {
    const other: PlanStatement = {
      kind: 'replace-part',
      of: 'supply',
      name: 'bell-tx',
      newName: 'new-tx',
      facts: house().supplies[0]!.facts,
      lands: [],
    };
    const { installation, problems } = applied([...both, other]);
    expect(problems).toEqual([]);
    expect(installation.supplies).toMatchObject([{ name: 'new-tx', place: 'basement' }]);
    expect(installation.runs[0]?.fromPlace).toBe('basement');
  });

  test('has had no place on record before', () => {
    const record = house();
    const bare = { ...record, splices: record.splices.map(({ place: _, ...one }) => one) };
    const { installation, problems } = applied(both, bare);
    expect(problems).toEqual([]);
    expect(installation.splices[0]?.place).toBe('basement');
  });

  test.each<[string, PlanStatement[], readonly string[], object]>([
    ['is not there', [relocate('bell-tz', 'hall')], ['plan-nothing-there'], { nearest: ['bell-tx'] }],
    ['is a run', [relocate('tx-to-hall', 'hall')], ['plan-nothing-there'], { isA: 'run' }],
    ['is there already', [relocate('bell-tx', 'closet')], ['plan-nothing-there'], { isIn: 'closet' }],
    ['is relocated twice', [relocate('bell-tx', 'hall'), relocate('bell-tx', 'hall')], ['plan-twice'], {}],
    ['is taken out as well', [relocate('bell-tx', 'hall'), { kind: 'remove', name: 'bell-tx' }], ['plan-conflict'], {}],
  ])('and %s is one problem', (_, statements, codes, facts) => {
    const { problems } = applied(statements);
    expect(problems.map(({ code }) => code)).toEqual(codes);
    expect(problems[0]?.facts).toMatchObject(facts);
  });

  test('to two places is left where it is', () => {
    const { installation, problems } = applied([relocate('bell-tx', 'hall'), relocate('bell-tx', 'basement')]);
    expect(problems.map(({ code }) => code)).toEqual(['plan-twice']);
    expect(installation.supplies[0]?.place).toBe('closet');
  });

  test('is taken down and mounted anew in the work order, and its runs are to be measured; the way back measures nothing', () => {
    const orders = workOrders(analyse(house()), analyse(applied(both).installation));
    const words = (order: typeof orders.there, phase: string) =>
      order.steps.filter((step) => step.phase === phase).map((step) => step.words);
    expect(words(orders.there, 'remove')[0]).toContain('Take down `bell-tx`');
    expect(words(orders.there, 'remove')[0]).toContain('it goes to `basement`');
    expect(words(orders.there, 'mount')[0]).toMatch(/^Mount `bell-tx`.* in its new place, `basement`\.$/);
    for (const pull of words(orders.there, 'pull')) expect(pull).toContain('Measure it');
    expect(words(orders.back, 'pull')).toHaveLength(2);
    for (const pull of words(orders.back, 'pull')) expect(pull).not.toContain('Measure it');
  });
});
