import { describe, expect, it } from 'vitest';
import { type Analysis, analyse, type CircuitAnalysis, type Installation } from '../../src/index.js';
import {
  atTheEndOf,
  conductor,
  device,
  end,
  installation,
  jumper,
  metres,
  output,
  partType,
  plainBell,
  run,
  supply,
} from '../builder.js';

function only(analysis: Analysis): CircuitAnalysis {
  const fed = analysis.circuits.filter(({ circuit }) => circuit.sources.length > 0);
  if (fed.length !== 1 || fed[0] === undefined) throw new Error(`${fed.length} circuits with a supply`);
  return fed[0];
}

function voltsAt(
  circuit: CircuitAnalysis,
  a: string,
  b: string,
  at: 'nominal' | 'low' | 'high' | 'labels' = 'nominal',
) {
  const volts = circuit.at(at, [], 'idle')?.solution.between(a, b);
  if (volts === undefined || volts === null) throw new Error(`no volts between ${a} and ${b}`);
  return Math.hypot(volts.re, volts.im);
}

describe('circuits of a record', () => {
  it('say which parts, runs and jumpers they join', () => {
    const circuit = only(
      analyse({ ...plainBell(), jumpers: [jumper('bypass', 'hall-chime.trans', 'hall-chime.front')] }),
    );
    expect(circuit.supplies).toEqual(['bell-tx']);
    expect(circuit.devices).toEqual(['hall-chime', 'porch-button']);
    expect(circuit.runs).toEqual(['tx-to-hall', 'tx-to-porch']);
    expect(circuit.jumpers).toEqual(['bypass']);
    expect(circuit.states.map(({ closed }) => closed)).toEqual([[], ['porch-button']]);
  });

  it('are held where a statement about them could not be read, and only there', () => {
    const shed = atTheEndOf(5, device('shed-chime', 'two-note-chime'), ['shed-chime.trans', 'shed-chime.front']);
    const house: Installation = {
      ...plainBell(),
      supplies: [...plainBell().supplies, supply('shed-tx', 'bell-transformer')],
      devices: [...plainBell().devices, ...shed.devices],
      jumpers: [jumper('s1', 'shed-tx.a', 'shed-chime.trans'), jumper('s2', 'shed-tx.b', 'shed-chime.front')],
      broken: new Set(['joist-joint']),
    };
    const analysis = analyse(house);
    expect(analysis.circuitsOfPart('bell-tx').map(({ held }) => held)).toEqual([true]);
    expect(analysis.circuitsOfPart('shed-tx').map(({ held }) => held)).toEqual([false]);
  });

  it('answer peak with idle where no load has a peak', () => {
    const circuit = only(analyse(plainBell()));
    expect(circuit.at('nominal', ['porch-button'], 'peak')).toBe(circuit.at('nominal', ['porch-button'], 'idle'));
    expect(circuit.at('nominal', ['back-button'], 'idle')).toBeUndefined();
  });

  it('list what is landed on a point, in order of name', () => {
    const analysis = analyse({ ...plainBell(), jumpers: [jumper('bypass', 'joist-joint', 'hall-chime.front')] });
    expect(analysis.landedOn('joist-joint')).toEqual([
      { kind: 'jumper', jumper: 'bypass', end: 'from' },
      { kind: 'conductor', run: 'tx-to-hall', index: 1, colour: 'white', end: 'from' },
      { kind: 'conductor', run: 'tx-to-porch', index: 1, colour: 'white', end: 'from' },
    ]);
    expect(analysis.landedOn('hall-chime.rear')).toEqual([]);
  });

  it("take a part's own leads as joints", () => {
    const house = plainBell();
    const [chime, button] = house.devices;
    const kit = {
      ...device('kit', 'resistor-kit'),
      lands: [
        { terminal: 'a', on: end('hall-chime.trans') },
        { terminal: 'b', on: end('hall-chime.front') },
      ],
    };
    const type = partType('resistor-kit', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'resistor', a: 'a', b: 'b', ohms: 25 }],
    });
    const analysis = analyse({
      ...house,
      devices: [chime!, button!, kit],
      partTypes: new Map([...house.partTypes, [type.name, type]]),
    });
    expect(only(analysis).devices).toEqual(['hall-chime', 'kit', 'porch-button']);
    expect(analysis.landedOn('hall-chime.trans')).toContainEqual({ kind: 'lead', part: 'kit', terminal: 'a' });
  });
});

describe('conditions', () => {
  const cam = partType('steady', {
    terminals: ['a', 'b'],
    elements: [{ kind: 'resistor', a: 'a', b: 'b', ohms: 25.6 }],
  });
  const house = atTheEndOf(30, device('cam', 'steady'), ['cam.a', 'cam.b'], [cam]);

  it('move mains by 5 % and wire between 0 and 60 degC in North America', () => {
    const circuit = only(analyse(house));
    const wire = (30 * 2) / 58 / ((Math.PI * (0.127 * 92 ** (18 / 39)) ** 2) / 4);
    const expected = (mains: number, degrees: number): number =>
      (20 * mains * 25.6) / (25.6 + 6.4 + wire * (1 + 0.00393 * (degrees - 20)));
    expect(voltsAt(circuit, 'cam.a', 'cam.b')).toBeCloseTo(expected(1, 20), 9);
    expect(voltsAt(circuit, 'cam.a', 'cam.b', 'low')).toBeCloseTo(expected(0.95, 60), 9);
    expect(voltsAt(circuit, 'cam.a', 'cam.b', 'high')).toBeCloseTo(expected(1.05, 0), 9);
  });

  it('take every supply as ideal at its rated volts for the labels', () => {
    expect(voltsAt(only(analyse(house)), 'bell-tx.a', 'bell-tx.b', 'labels')).toBe(16);
  });

  it("use a place's stated temperature, also of the place around it", () => {
    const [stated] = house.runs;
    const attic = { name: 'attic', outdoor: false, wet: false, concealed: false, temperature: 50 };
    const box = { name: 'box', within: 'attic', outdoor: false, wet: false, concealed: false };
    const warm = analyse({ ...house, places: [attic, box], runs: [{ ...stated!, fromPlace: 'box' }] });
    const cool = analyse(house);
    const ohms = (a: Analysis): number => a.runs.get('only-run')?.conductors[0]?.ohms?.nominal ?? 0;
    expect(ohms(warm) / ohms(cool)).toBeCloseTo(1 + 0.00393 * 30, 12);
    expect(warm.runs.get('only-run')?.conductors[0]?.ohms?.low).toBe(ohms(warm));
  });

  it('take the IEC 60228 maximum of a metric size at low mains and warm wire (0.5 mm2: 36.0 ohm/km)', () => {
    const metric = {
      ...house.runs[0]!,
      cable: { ...house.runs[0]!.cable!, size: { kind: 'area', mm2: 0.5 } as const },
    };
    const ohms = analyse({ ...house, runs: [metric] }).runs.get('only-run')?.conductors[0]?.ohms;
    expect(ohms?.nominal).toBeCloseTo((30 * 2) / 58, 12);
    expect(ohms?.low).toBeCloseTo(0.036 * 30 * (1 + 0.00393 * 40), 12);
  });

  it('share a measured loop between its two conductors', () => {
    const { length: _, ...unmeasured } = house.runs[0]!;
    const analysis = analyse({ ...house, runs: [{ ...unmeasured, loopOhms: { value: 1.2 } }] });
    expect(analysis.runs.get('only-run')?.conductors.map(({ ohms }) => ohms?.nominal)).toEqual([0.6, 0.6]);
    expect(only(analysis).unmeasuredRuns).toEqual([]);
  });

  it('name a run that has neither length nor loop, and lose nothing in it', () => {
    const { length: _, ...unmeasured } = house.runs[0]!;
    const analysis = analyse({ ...house, runs: [unmeasured] });
    expect(only(analysis).unmeasuredRuns).toEqual(['only-run']);
    expect(voltsAt(only(analysis), 'cam.a', 'cam.b')).toBeCloseTo((20 * 25.6) / 32, 9);
    expect(analysis.assumptions.map(({ part, what }) => `${part} ${what}`)).toContain('only-run length');
  });

  it('leave a regulated DC supply at its volts whatever the mains', () => {
    const adaptor = partType('dc-adaptor', {
      of: 'supply',
      terminals: ['line', 'neutral', 'plus', 'minus'],
      elements: [
        { kind: 'primary', a: 'line', b: 'neutral', volts: 120, system: 'AC' },
        { kind: 'winding', a: 'plus', b: 'minus', asRated: true },
      ],
      facts: { outputs: [{ volts: 12, system: 'DC', amps: 1 }], regulated: true },
    });
    const dc = installation({
      types: [adaptor, cam],
      supplies: [supply('psu', 'dc-adaptor')],
      devices: [device('cam', 'steady')],
      jumpers: [jumper('j1', 'psu.plus', 'cam.a'), jumper('j2', 'psu.minus', 'cam.b')],
    });
    for (const at of ['nominal', 'low', 'high'] as const)
      expect(voltsAt(only(analyse(dc)), 'cam.a', 'cam.b', at)).toBe(12);
  });
});

describe('supplies fed by supplies', () => {
  const branch = partType('branch', {
    of: 'supply',
    terminals: ['hot', 'neutral'],
    elements: [{ kind: 'winding', a: 'hot', b: 'neutral', asRated: false, volts: 120, system: 'AC' }],
  });
  const types = [branch];

  it('follow the volts at their primary, once', () => {
    const house = installation({
      types,
      supplies: [supply('panel', 'branch'), supply('bell-tx', 'bell-transformer', output(16, 10))],
      jumpers: [jumper('j1', 'panel.hot', 'bell-tx.line'), jumper('j2', 'panel.neutral', 'bell-tx.neutral')],
    });
    const circuit = only(analyse(house));
    expect(circuit.supplies).toEqual(['bell-tx', 'panel']);
    expect(voltsAt(circuit, 'bell-tx.a', 'bell-tx.b')).toBeCloseTo(20, 9);
    expect(voltsAt(circuit, 'bell-tx.a', 'bell-tx.b', 'low')).toBeCloseTo(19, 9);
    expect(voltsAt(circuit, 'bell-tx.a', 'bell-tx.b', 'labels')).toBeCloseTo(16, 9);
  });

  it('stand at the mains where only one end of the primary is wired', () => {
    const house = installation({
      types,
      supplies: [supply('panel', 'branch'), supply('bell-tx', 'bell-transformer', output(16, 10))],
      jumpers: [jumper('j1', 'panel.hot', 'bell-tx.line')],
    });
    const [circuit] = analyse(house).circuitsOfPart('bell-tx');
    expect(voltsAt(circuit!, 'bell-tx.a', 'bell-tx.b')).toBeCloseTo(20, 9);
    expect(circuit?.supplies).toEqual(['bell-tx']);
  });
});

describe('contacts', () => {
  const thermostat = partType('thermostat', {
    terminals: ['r', 'w', 'y', 'g'],
    elements: ['w', 'y', 'g'].map(
      (b) => ({ kind: 'contact', a: 'r', b, maintained: true, normallyClosed: false }) as const,
    ),
    facts: { togetherAtMost: 2, neverTogether: [['r-w', 'r-y']] },
  });

  it('of a part with several are named by their terminals and closed only as its facts allow', () => {
    const analysis = analyse(installation({ types: [thermostat], devices: [device('hall-stat', 'thermostat')] }));
    expect(analysis.circuits[0]?.states.map(({ closed }) => closed.map((name) => name.slice(10)).join('+'))).toEqual([
      '',
      'r-g',
      'r-w',
      'r-y',
      'r-g+r-w',
      'r-g+r-y',
    ]);
    expect(analysis.momentary.size).toBe(0);
  });

  it.each([
    ['mechanical', ['porch-cam.ring']],
    ['electronic', ['porch-cam.ring']],
    ['none', []],
    [undefined, []],
  ] as const)('of a doorbell set to ring "%s" are %j', (ring, contacts) => {
    const analysis = analyse(installation({ devices: [device('porch-cam', 'video-doorbell', { ring })] }));
    expect(analysis.circuitOfElement('part/porch-cam/0')?.circuit.contacts).toEqual(contacts);
    expect(analysis.assumptions.some(({ what }) => what === 'ring')).toBe(ring === undefined);
  });

  it('that change over leave one way when they make the other', () => {
    const relay = partType('relay', {
      terminals: ['c', 'no', 'nc'],
      elements: [{ kind: 'contact', a: 'c', b: 'no', restTo: 'nc', maintained: true, normallyClosed: false }],
    });
    const house = installation({
      types: [relay],
      supplies: [supply('bell-tx', 'bell-transformer', output(16, 10))],
      devices: [device('relay', 'relay')],
      jumpers: [jumper('j1', 'bell-tx.a', 'relay.c')],
    });
    const circuit = only(analyse(house));
    const volts = (closed: string[], to: string) =>
      circuit.at('nominal', closed, 'idle')?.solution.between(to, 'bell-tx.b');
    expect(volts([], 'relay.nc')?.re).toBeCloseTo(20, 9);
    expect(volts([], 'relay.no')).toBeNull();
    expect(volts(['relay'], 'relay.nc')).toBeNull();
    expect(volts(['relay'], 'relay.no')?.re).toBeCloseTo(20, 9);
  });
});

describe('a circuit with a diode', () => {
  it('has figures that say they are an approximation, and a short that only the diode makes is found', () => {
    const diode = partType('diode-kit', { terminals: ['a', 'b'], elements: [{ kind: 'diode', a: 'a', b: 'b' }] });
    const analysis = analyse(atTheEndOf(5, device('kit', 'diode-kit'), ['kit.a', 'kit.b'], [diode]));
    expect(only(analysis).unsolved).toEqual([]);
    const [idle] = only(analysis).solved('nominal');
    expect(idle?.solution.approximate).toMatch(/diode/);
    expect(idle?.solution.shorted).toHaveLength(1);
    expect(analysis.assumptions.map(({ part, what }) => `${part} ${what}`)).toContain('kit diode');
  });
});

describe('what has no figures', () => {
  it('is a circuit with a coil whose volts and VA nobody states', () => {
    const bare = partType('bare', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'coil', a: 'a', b: 'b', asRated: true }],
    });
    const analysis = analyse(atTheEndOf(5, device('bell', 'bare'), ['bell.a', 'bell.b'], [bare]));
    expect(only(analysis).unsolved.map(({ part }) => part)).toEqual(['bell']);
  });
});

describe('an analysis after an edit', () => {
  it('keeps the solutions of circuits that did not change, and solves those that did', () => {
    const withShed = (ohms: number): Installation => ({
      ...plainBell(),
      supplies: [...plainBell().supplies, supply('shed-tx', 'bell-transformer')],
      runs: [
        ...plainBell().runs,
        run('shed-run', {
          loopOhms: { value: ohms },
          conductors: [conductor('red', 'shed-tx.a', 'shed-joint'), conductor('white', 'shed-tx.b', 'shed-joint')],
        }),
      ],
    });
    const before = analyse(withShed(1));
    const solvedBefore = before.circuits.map((circuit) => circuit.solved('nominal'));
    const after = analyse(withShed(2), before);
    const solvedAfter = after.circuits.map((circuit) => circuit.solved('nominal'));
    const nameOf = (index: number): string | undefined => after.circuits[index]?.supplies[0];
    const same = solvedAfter.map((solved, index) => [nameOf(index), solved === solvedBefore[index]]);
    expect(same).toContainEqual(['bell-tx', true]);
    expect(same).toContainEqual(['shed-tx', false]);
  });

  it('solves a circuit anew when one of its lengths changed', () => {
    const before = analyse(plainBell());
    only(before).solved('nominal');
    const after = only(
      analyse({ ...plainBell(), runs: plainBell().runs.map((r) => ({ ...r, ...metres(40) })) }, before),
    );
    expect(after.solved('nominal')).not.toBe(only(before).solved('nominal'));
  });
});
