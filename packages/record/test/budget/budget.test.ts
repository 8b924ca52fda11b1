import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { analyse, type Budget, budgetOf, type Finding, type Installation } from '../../src/index.js';
import schema from '../../schema/budget.schema.json' with { type: 'json' };
import {
  atTheEndOf,
  conductor,
  device,
  installation,
  jumper,
  metres,
  output,
  partType,
  plainBell,
  run,
  supply,
} from '../builder.js';

const validate = new Ajv2020({ allErrors: true }).compile(schema);

function budget(house: Installation, findings: readonly Finding[] = []): Budget {
  return budgetOf(analyse(house), findings);
}

function complaints(value: unknown): string[] {
  validate(JSON.parse(JSON.stringify(value)));
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}

const FINDING: Finding = {
  code: 'supply-headroom',
  severity: 'info',
  path: 'part/bell-tx',
  message: 'Nothing is left.',
  related: [],
  parts: ['bell-tx'],
  fixes: [],
};

const doorbell = (): Installation =>
  installation({
    supplies: [supply('bell-tx', 'bell-transformer', output(16, 10))],
    devices: [device('porch-cam', 'video-doorbell', { ring: 'mechanical' }), device('loose-button', 'push-button')],
    runs: [
      run('tx-to-porch', {
        ...metres(12),
        conductors: [
          conductor('red', 'bell-tx.a', 'porch-cam.a'),
          conductor('white', 'bell-tx.b', 'porch-cam.b'),
          conductor('green', 'bell-tx.b', 'capped'),
        ],
      }),
    ],
  });

describe('the load budget', () => {
  it.each([
    ['a plain bell', plainBell()],
    ['a doorbell that shorts its supply when it rings', doorbell()],
    ['an empty record', installation({})],
    ['a record that is held', { ...plainBell(), broken: new Set(['hall-chime']) }],
    [
      'types that nobody knows',
      installation({ supplies: [supply('x', 'no-such')], devices: [device('y', 'no-such')] }),
    ],
  ])('of %s is as its schema says', (_, house) => {
    expect(complaints(budget(house, [FINDING]))).toEqual([]);
  });

  it('is not as its schema says when a figure is missing or a name is new', () => {
    const { title: _, ...untitled } = budget(plainBell());
    expect(complaints(untitled)).not.toEqual([]);
    expect(complaints({ ...budget(plainBell()), island: [] })).not.toEqual([]);
  });

  it('gives what a winding has and gives', () => {
    const [tx] = budget(plainBell()).supplies;
    const winding = tx?.windings[0];
    expect(tx).toMatchObject({ name: 'bell-tx', type: 'bell-transformer', feeds: ['hall-chime', 'porch-button'] });
    expect(winding).toMatchObject({
      from: 'a',
      to: 'b',
      ratedVolts: 16,
      ratedVA: 10,
      noLoadVolts: 20,
      assumed: ['no-load'],
    });
    expect(winding?.ohms).toBeCloseTo(6.4, 9);
    expect(winding?.solved.map(({ closed, loads }) => [closed, loads])).toEqual([
      [[], 'idle'],
      [['porch-button'], 'idle'],
    ]);
    const [idle, rung] = winding?.solved ?? [];
    expect(idle).toMatchObject({ volts: 20, amps: 0, va: 0, watts: 0 });
    expect(rung?.va).toBeCloseTo((rung?.volts ?? 0) * (rung?.amps ?? 0), 12);
    expect(winding?.worst).toMatchObject({ closed: ['porch-button'], va: rung?.va });
    expect(winding?.worst?.share).toBeCloseTo((rung?.amps ?? 0) / 0.625, 12);
    expect(winding?.lasting).toMatchObject({ closed: [], share: 0 });
  });

  it('balances: what the supply gives is what coil and wire take', () => {
    const { supplies, devices, runs } = budget(plainBell());
    const given = supplies[0]?.windings[0]?.solved[1]?.watts ?? 0;
    const taken = devices.flatMap(({ elements }) => elements.map(({ solved }) => solved[1]?.watts ?? 0));
    const lost = runs.flatMap(({ conductors }) =>
      conductors.map(({ solved }) => (solved[1]?.amps ?? 0) * (solved[1]?.dropVolts ?? 0)),
    );
    const sum = [...taken, ...lost].reduce((x, y) => x + y, 0);
    expect(given).toBeGreaterThan(1);
    expect(sum).toBeCloseTo(given, 9);
  });

  it('gives least and most over every state and both corners, and the least while a coil is driven', () => {
    const chime = budget(plainBell()).devices.find(({ name }) => name === 'hall-chime');
    const front = chime?.elements[0];
    expect(front).toMatchObject({
      kind: 'coil',
      from: 'trans',
      to: 'front',
      least: { closed: [], volts: 0 },
      most: { closed: ['porch-button'], corner: 'high' },
      leastWorking: { closed: ['porch-button'], corner: 'low' },
    });
    for (const { volts } of front?.solved ?? []) {
      expect(volts).toBeGreaterThanOrEqual(front?.least?.volts ?? Number.NaN);
      expect(volts).toBeLessThanOrEqual(front?.most?.volts ?? Number.NaN);
    }
    expect(chime?.band.least).toBeCloseTo(0.7 * 16, 9);
    expect(chime?.band.most).toBeCloseTo(1.15 * 16, 9);
  });

  it('draws a band from the label for a load, from a data sheet where there is one, and none for a switch', () => {
    const { devices } = budget(doorbell());
    const bands = new Map(devices.map(({ name, band }) => [name, band]));
    expect(bands.get('porch-cam')?.least).toBeCloseTo(14.4, 9);
    expect(bands.get('porch-cam')?.most).toBeCloseTo(27.6, 9);
    expect(bands.get('loose-button')).toEqual({ least: null, most: null });
    const exact = installation({ devices: [device('cam', 'video-doorbell', { limits: { least: 12, most: 30 } })] });
    expect(budget(exact).devices[0]?.band).toEqual({ least: 12, most: 30 });
  });

  it("lists a run's conductors with ohms, amps and drop, but not its capped ones", () => {
    const [porch] = budget(doorbell()).runs;
    expect(porch).toMatchObject({ name: 'tx-to-porch', cable: '18/2', lengthMetres: 12 });
    expect(porch?.conductors.map(({ colour, from, to }) => [colour, from, to])).toEqual([
      ['red', 'bell-tx.a', 'porch-cam.a'],
      ['white', 'bell-tx.b', 'porch-cam.b'],
    ]);
    for (const { ohms, solved } of porch?.conductors ?? []) {
      for (const { amps, dropVolts } of solved) expect(dropVolts).toBeCloseTo((amps ?? 0) * (ohms ?? 0), 9);
    }
  });

  it('has no drop for a run without a length, and says so among the assumptions', () => {
    const house = atTheEndOf(5, device('hall-chime', 'two-note-chime'), ['hall-chime.trans', 'hall-chime.front']);
    const { length: _, ...unmeasured } = house.runs[0]!;
    const { runs, assumptions } = budget({ ...house, runs: [unmeasured] });
    expect(runs[0]).toMatchObject({ lengthMetres: null, conductors: [{ ohms: null }, { ohms: null }] });
    expect(runs[0]?.conductors[0]?.solved[0]).toMatchObject({ dropVolts: null });
    expect(assumptions).toContain('only-run: no resistance (no length is recorded)');
    expect(assumptions).toContain('bell-tx: a no-load voltage of 20 V (25 % regulation, common practice for 10 VA)');
  });

  it('withholds the figures of a circuit with a statement that could not be read, and says why', () => {
    const held = budget({ ...plainBell(), broken: new Set(['hall-chime']) });
    const figures = held.supplies[0]?.windings[0];
    expect(figures?.solved[0]).toMatchObject({
      volts: null,
      amps: null,
      reason: expect.stringContaining('could not be read'),
    });
    expect(figures?.worst).toBeNull();
    expect(held.devices.find(({ name }) => name === 'hall-chime')?.elements[0]?.least).toBeNull();
  });

  it('gives null volts and a reason where there is no operating point', () => {
    const greedy = partType('greedy', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'load', a: 'a', b: 'b', draws: { unit: 'VA', value: 40 }, staysOnFrom: 1 }],
    });
    const { devices } = budget(atTheEndOf(20, device('cam', 'greedy'), ['cam.a', 'cam.b'], [greedy]));
    expect(devices[0]?.elements[0]?.solved[0]).toMatchObject({
      volts: null,
      reason: 'what is connected asks for more than supply and wire can give',
    });
  });

  it('counts the power factor of a rectifier in the watts alone', () => {
    const rectifier = partType('rectifier', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'load', a: 'a', b: 'b', draws: { unit: 'W', value: 3 }, powerFactor: 0.6, staysOnFrom: 8 }],
    });
    const { devices } = budget(atTheEndOf(20, device('cam', 'rectifier'), ['cam.a', 'cam.b'], [rectifier]));
    const figures = devices[0]?.elements[0]?.solved[0];
    expect(figures?.va).toBeCloseTo(5, 9);
    expect(figures?.watts).toBeCloseTo(3, 9);
  });

  it('lists circuits with a supply and something on it, for the choice of state', () => {
    const { circuits } = budget({ ...doorbell(), jumpers: [jumper('j', 'porch-cam.a', 'porch-cam.a')] });
    expect(circuits).toEqual([
      {
        supplies: ['bell-tx'],
        devices: ['porch-cam'],
        states: [
          { closed: [], loads: 'idle' },
          { closed: [], loads: 'peak' },
          { closed: ['porch-cam.ring'], loads: 'idle' },
          { closed: ['porch-cam.ring'], loads: 'peak' },
        ],
      },
    ]);
  });
});
