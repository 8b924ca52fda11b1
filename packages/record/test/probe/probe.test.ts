import { describe, expect, it } from 'vitest';
import { type Analysis, analyse, probe } from '../../src/index.js';
import { atTheEndOf, device, installation, output, partType, plainBell, supply } from '../builder.js';

function volts(analysis: Analysis, a: string, b: string) {
  const found = probe(analysis, a, b);
  if ('kind' in found) throw new Error(`${found.point} is not known`);
  return found;
}

function ohms(analysis: Analysis, a: string, b: string) {
  const found = probe(analysis, a, b, { ohms: true });
  if ('kind' in found) throw new Error(`${found.point} is not known`);
  return found.solved;
}

describe('a volt-meter', () => {
  it('shows the open supply at rest and less with the button pressed', () => {
    const { version, between, solved } = volts(analyse(plainBell()), 'bell-tx.a', 'bell-tx.b');
    expect([version, between]).toEqual([1, ['bell-tx.a', 'bell-tx.b']]);
    expect(solved[0]).toEqual({ closed: [], loads: 'idle', volts: 20 });
    expect(solved[1]).toMatchObject({ closed: ['porch-button'], loads: 'idle' });
    expect(solved[1]?.volts).toBeGreaterThan(16);
    expect(solved[1]?.volts).toBeLessThan(17);
  });

  it('shows the same with its leads the other way round', () => {
    const analysis = analyse(plainBell());
    const [forth, back] = [
      volts(analysis, 'hall-chime.trans', 'joist-joint'),
      volts(analysis, 'joist-joint', 'hall-chime.trans'),
    ];
    expect(back.solved).toEqual(forth.solved);
  });

  it('shows the whole supply across an open push, and nothing across a pressed one', () => {
    const [idle, pressed] = volts(analyse(plainBell()), 'porch-button.a', 'porch-button.b').solved;
    expect(idle?.volts).toBeCloseTo(20, 9);
    expect(pressed?.volts).toBe(0);
  });

  it('hangs free between two circuits', () => {
    const shed = supply('shed-tx', 'bell-transformer', output(16, 10));
    const analysis = analyse({ ...plainBell(), supplies: [...plainBell().supplies, shed] });
    const apart = volts(analysis, 'bell-tx.a', 'shed-tx.a').solved;
    expect(apart.length).toBeGreaterThan(0);
    expect(apart.every((row) => row.floating === true && row.volts === null)).toBe(true);
  });

  it('hangs free at a terminal with nothing on it, and shows nothing across one point', () => {
    const analysis = analyse(plainBell());
    const dead = volts(analysis, 'bell-tx.line', 'bell-tx.neutral').solved;
    expect(dead).toEqual([{ closed: [], loads: 'idle', volts: null, floating: true }]);
    expect(volts(analysis, 'bell-tx.a', 'bell-tx.a').solved.map((row) => row.volts)).toEqual([0, 0]);
  });

  it('shows no figure where a statement could not be read', () => {
    const [row] = volts(analyse({ ...plainBell(), broken: new Set(['hall-chime']) }), 'bell-tx.a', 'bell-tx.b').solved;
    expect(row).toMatchObject({ volts: null, reason: expect.stringContaining('could not be read') });
  });

  it('cannot be held to a point that is not there, and offers those that are', () => {
    expect(probe(analyse(plainBell()), 'bell-tx.a', 'hall-chime.tran')).toEqual({
      kind: 'unknown-point',
      point: 'hall-chime.tran',
      nearest: ['hall-chime.trans', 'hall-chime.front', 'hall-chime.rear'],
    });
    expect(probe(analyse(plainBell()), 'nowhere', 'bell-tx.a')).toMatchObject({ point: 'nowhere', nearest: [] });
  });
});

describe('an ohm-meter, supplies isolated', () => {
  const dcOhms = 6;
  const sounder = partType('sounder', {
    terminals: ['a', 'b'],
    elements: [{ kind: 'coil', a: 'a', b: 'b', volts: 16, voltAmperes: 10, dcOhms }],
  });
  const wire = (30 * 2) / 58 / ((Math.PI * (0.127 * 92 ** (18 / 39)) ** 2) / 4);

  it("reads the coil's DC ohms through the wire, not its impedance, and not through the supply", () => {
    const analysis = analyse(atTheEndOf(30, device('bell', 'sounder'), ['bell.a', 'bell.b'], [sounder]));
    const [row] = ohms(analysis, 'bell-tx.a', 'bell-tx.b');
    expect(row).toMatchObject({ closed: [], known: true, tells: 'ohms' });
    expect(row?.ohms).toBeCloseTo(dcOhms + wire, 9);
  });

  it('tells no more than "some" through a coil whose DC ohms nobody states', () => {
    const rows = ohms(analyse(plainBell()), 'bell-tx.a', 'bell-tx.b');
    expect(rows).toEqual([
      { closed: [], ohms: null, known: true, tells: 'open' },
      { closed: ['porch-button'], ohms: null, known: false, tells: 'some' },
    ]);
  });

  it('reads wire alone as a short, also beside electronics', () => {
    const analysis = analyse(plainBell());
    const [row] = ohms(analysis, 'bell-tx.a', 'hall-chime.trans');
    expect(row).toMatchObject({ known: true, tells: 'short' });
    expect(row?.ohms).toBeCloseTo(wire * (9 / 60), 9);
    const cam = analyse(installation({ devices: [device('porch-cam', 'video-doorbell', { ring: 'mechanical' })] }));
    expect(ohms(cam, 'porch-cam.a', 'porch-cam.b')).toEqual([
      { closed: [], ohms: null, known: false, tells: 'some' },
      { closed: ['porch-cam.ring'], ohms: 0, known: true, tells: 'short' },
    ]);
  });

  it('does not pretend to know the ohms of a run without a length', () => {
    const house = atTheEndOf(30, device('bell', 'sounder'), ['bell.a', 'bell.b'], [sounder]);
    const { length: _, ...unmeasured } = house.runs[0]!;
    const analysis = analyse({ ...house, runs: [unmeasured] });
    expect(ohms(analysis, 'bell-tx.a', 'bell-tx.b')).toEqual([{ closed: [], ohms: null, known: false, tells: 'some' }]);
  });
});
