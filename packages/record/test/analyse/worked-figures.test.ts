import { describe, expect, it } from 'vitest';
import { type Analysis, analyse, type Condition } from '../../src/index.js';
import {
  AWG20,
  atTheEndOf,
  cable,
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

/** Figures worked out beside the limits of the electrical model (common practice, no source). */

function size({ re, im }: { re: number; im: number }): number {
  return Math.hypot(re, im);
}

function figures(analysis: Analysis, id: string, closed: string[], loads: 'idle' | 'peak', at: Condition = 'nominal') {
  const solved = analysis.circuitOfElement(id)?.at(at, closed, loads);
  const found = solved?.solution.element(id);
  if (solved === undefined || found === undefined || found.amps === null) {
    throw new Error(`${id} has no figures: ${JSON.stringify(solved?.solution.problem)}`);
  }
  return { volts: size(found.volts), amps: size(found.amps), on: found.on, solution: solved.solution };
}

const WINDING = 'part/bell-tx/1';

const twoDraws = partType('video-doorbell', {
  terminals: ['a', 'b'],
  elements: [
    { kind: 'load', a: 'a', b: 'b', draws: { unit: 'W', value: 3 }, peaks: { unit: 'W', value: 8 }, staysOnFrom: 10 },
  ],
  facts: { rating: { volts: { least: 16, most: 24 }, system: 'AC' } },
});

describe('worked figures', () => {
  it.each([
    [12, 16.69],
    [30, 16.22],
  ])('an 8 W doorbell on 16 V 10 VA at the end of %d m of 18 AWG', (length, volts) => {
    const cam = device('porch-cam', 'video-doorbell');
    const analysis = analyse(atTheEndOf(length, cam, ['porch-cam.a', 'porch-cam.b'], [twoDraws]));
    expect(figures(analysis, 'part/porch-cam/0', [], 'peak').volts).toBeCloseTo(volts, 2);
  });

  it('a chime coil on 16 V 10 VA at the end of 30 m of 18 AWG, nominal and at low mains and warm wire', () => {
    const analysis = analyse(
      atTheEndOf(30, device('hall-chime', 'two-note-chime'), ['hall-chime.trans', 'hall-chime.front']),
    );
    expect(figures(analysis, 'part/hall-chime/0', [], 'idle').volts).toBeCloseTo(16.29, 2);
    expect(figures(analysis, 'part/hall-chime/0', [], 'idle', 'low').volts).toBeCloseTo(15.39, 2);
  });

  it('3 W through a chime that is not bypassed: a third of its rated amps', () => {
    const analysis = analyse(
      installation({
        supplies: [supply('bell-tx', 'bell-transformer', output(16, 10))],
        devices: [device('hall-chime', 'two-note-chime'), device('porch-cam', 'video-doorbell')],
        jumpers: [
          jumper('j1', 'bell-tx.a', 'hall-chime.trans'),
          jumper('j2', 'hall-chime.front', 'porch-cam.a'),
          jumper('j3', 'porch-cam.b', 'bell-tx.b'),
        ],
      }),
    );
    const coil = analysis.elements.get('part/hall-chime/0');
    const { amps } = figures(analysis, 'part/hall-chime/0', [], 'idle');
    expect(amps / (coil?.ratedAmps ?? 0)).toBeCloseTo(0.33, 2);
    expect(amps).toBeGreaterThan(coil?.humsFromAmps ?? Number.POSITIVE_INFINITY);
  });

  it('two doors at once on 10 VA: 1.76 of the rated amps', () => {
    const analysis = analyse(twoDoors());
    const { amps } = figures(analysis, WINDING, ['back-button', 'porch-button'], 'idle');
    expect(amps / (analysis.elements.get(WINDING)?.ratedAmps ?? 0)).toBeCloseTo(1.76, 2);
  });

  it('a bypassed doorbell that is set to ring shorts its supply: about 2.8 A', () => {
    const analysis = analyse(
      installation({
        supplies: [supply('bell-tx', 'bell-transformer', output(16, 10))],
        devices: [device('porch-cam', 'video-doorbell', { ring: 'mechanical' })],
        runs: [
          run('tx-to-porch', {
            ...metres(18),
            conductors: [conductor('red', 'bell-tx.a', 'porch-cam.a'), conductor('white', 'bell-tx.b', 'porch-cam.b')],
          }),
        ],
      }),
    );
    const rung = figures(analysis, WINDING, ['porch-cam.ring'], 'idle');
    expect(rung.amps).toBeCloseTo(2.8, 1);
    expect(rung.solution.shorted.map(({ source }) => source)).toEqual([WINDING]);
  });

  it('60 m of 20 AWG shorted on 30 VA: 1.9 of the rated amps, and still a short', () => {
    const analysis = analyse(
      installation({
        supplies: [supply('bell-tx', 'bell-transformer', output(16, 30))],
        splices: [{ name: 'twist', notes: [] }],
        runs: [
          run('long-run', {
            ...metres(60),
            cable: cable(AWG20),
            conductors: [conductor('red', 'bell-tx.a', 'twist'), conductor('white', 'bell-tx.b', 'twist')],
          }),
        ],
      }),
    );
    const shorted = figures(analysis, WINDING, [], 'idle');
    expect(shorted.amps / (30 / 16)).toBeCloseTo(1.9, 1);
    expect(shorted.solution.shorted).toHaveLength(1);
  });

  it('10 W at the end of 30 m of 18 AWG on 16 V 10 VA: 1.08 of the rated amps', () => {
    const steady = partType('steady', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'load', a: 'a', b: 'b', draws: { unit: 'W', value: 10 }, staysOnFrom: 10 }],
    });
    const analysis = analyse(atTheEndOf(30, device('porch-cam', 'steady'), ['porch-cam.a', 'porch-cam.b'], [steady]));
    expect(figures(analysis, WINDING, [], 'idle').amps / 0.625).toBeCloseTo(1.08, 2);
  });

  it('a plain bell is at rest with nothing pressed and rings with the button pressed', () => {
    const analysis = analyse(plainBell());
    const coil = analysis.elements.get('part/hall-chime/0');
    expect(figures(analysis, 'part/hall-chime/0', [], 'idle').amps).toBe(0);
    const rung = figures(analysis, 'part/hall-chime/0', ['porch-button'], 'idle');
    expect(rung.volts).toBeGreaterThan(coil?.ringsFromVolts ?? Number.POSITIVE_INFINITY);
  });
});

function twoDoors() {
  return installation({
    supplies: [supply('bell-tx', 'bell-transformer', output(16, 10))],
    devices: [
      device('hall-chime', 'two-note-chime'),
      device('porch-button', 'push-button'),
      device('back-button', 'push-button'),
    ],
    splices: [
      { name: 'front-joint', notes: [] },
      { name: 'rear-joint', notes: [] },
    ],
    runs: [
      run('tx-to-hall', {
        ...metres(7),
        conductors: [
          conductor('red', 'bell-tx.a', 'hall-chime.trans'),
          conductor('white', 'front-joint', 'hall-chime.front'),
          conductor('green', 'rear-joint', 'hall-chime.rear'),
        ],
      }),
      run('tx-to-porch', {
        ...metres(6.5),
        conductors: [
          conductor('red', 'bell-tx.b', 'porch-button.a'),
          conductor('white', 'front-joint', 'porch-button.b'),
        ],
      }),
      run('tx-to-back', {
        ...metres(7),
        conductors: [conductor('red', 'bell-tx.b', 'back-button.a'), conductor('white', 'rear-joint', 'back-button.b')],
      }),
    ],
  });
}
