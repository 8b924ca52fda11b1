import { describe, expect, it } from 'vitest';
import {
  type Part,
  type PartElement,
  type PartType,
  type ResolvedElement,
  type ResolvedPart,
  resolveParts,
} from '../../src/index.js';
import { device, installation, output, partType, supply } from '../builder.js';

function resolve(part: Part, ...types: readonly PartType[]): ResolvedPart {
  const found = resolveParts(
    installation({ types, ...(part.kind === 'supply' ? { supplies: [part] } : { devices: [part] }) }),
  ).get(part.name);
  if (found === undefined) throw new Error(`${part.name} is not resolved`);
  return found;
}

function first(part: ResolvedPart, kind: PartElement['kind']): ResolvedElement {
  const found = part.elements.find(({ element }) => element.kind === kind);
  if (found === undefined) throw new Error(`${part.name} has no ${kind}`);
  return found;
}

function assumed(part: ResolvedPart): readonly string[] {
  return [...new Set(part.elements.flatMap((element) => element.assumed.map(({ what }) => what)))].sort();
}

const volts = (least: number, most = least) => ({ least, most });

describe('the label in hand beats the library', () => {
  it('in a rating, which elements "as rated" follow', () => {
    const part = resolve(
      device('hall-chime', 'two-note-chime', { rating: { volts: volts(24), system: 'AC', voltAmperes: 15 } }),
    );
    const coil = first(part, 'coil');
    expect(part.rating).toEqual({ volts: volts(24), system: 'AC', voltAmperes: 15 });
    expect(Math.hypot(coil.ohms ?? 0, coil.reactance ?? 0)).toBeCloseTo((24 * 24) / 15, 9);
    expect(coil).toMatchObject({ ratedVolts: 24, ratedVoltAmperes: 15, ratedAmps: 15 / 24 });
    expect(coil.ringsFromVolts).toBeCloseTo(0.7 * 24, 9);
    expect(coil.humsFromAmps).toBeCloseTo((0.25 * 15) / 24, 9);
    expect(assumed(part)).toEqual(['power-factor']);
  });

  it('and what it does not say is the library’s, and said to be assumed', () => {
    const part = resolve(device('hall-chime', 'two-note-chime', { rating: { volts: volts(10) } }));
    expect(part.rating).toEqual({ volts: volts(10), system: 'AC', voltAmperes: 10 });
    const words = part.elements.flatMap((element) => element.assumed.map((one) => one.words));
    expect(words).toContain("a rating of 10 VA (the library's figure for two-note-chime)");
  });

  it('in whichever of VA, watts and amps it is given', () => {
    const part = resolve(device('hall-chime', 'two-note-chime', { rating: { amps: 0.5 } }));
    expect(part.rating).toEqual({ volts: volts(16), system: 'AC', amps: 0.5 });
    expect(first(part, 'coil').ratedVoltAmperes).toBeCloseTo(8, 12);
  });

  it('but elements with figures of their own keep them', () => {
    const type = partType('own', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'coil', a: 'a', b: 'b', volts: 8, voltAmperes: 8, powerFactor: 0.6 }],
      facts: { rating: { volts: volts(16), voltAmperes: 10 } },
    });
    expect(first(resolve(device('bell', 'own'), type), 'coil')).toMatchObject({ ratedVolts: 8, ratedVoltAmperes: 8 });
  });

  it('and figures of a type that the record itself declares are nobody’s assumption', () => {
    const own = partType('own-bell', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'coil', a: 'a', b: 'b', asRated: true, powerFactor: 0.6 }],
      facts: { rating: { volts: volts(8), voltAmperes: 8 } },
      shipped: false,
    });
    expect(assumed(resolve(device('bell', 'own-bell'), own))).toEqual([]);
  });

  it('and says which facts it states itself', () => {
    const part = resolve(device('hall-chime', 'two-note-chime', { rating: { voltAmperes: 10 }, ring: 'none' }));
    expect([...part.stated].sort()).toEqual(['rating', 'ring', 'type']);
  });
});

describe('the supply that a part asks for', () => {
  it('is what its box says', () => {
    expect(resolve(device('cam', 'video-doorbell', { needsSupply: { least: 10, most: 40 } })).needs).toEqual({
      least: 10,
      most: 40,
      by: 'needs',
    });
  });

  it("is a rating's VA where the part's load states its own draws, and then not its draw", () => {
    const part = resolve(
      device('cam', 'video-doorbell', { rating: { volts: volts(16, 24), system: 'AC', voltAmperes: 30 } }),
    );
    expect(part.needs).toEqual({ least: 30, by: 'rating' });
    expect(first(part, 'load').draws).toEqual({ unit: 'VA', idle: 3, peak: 8 });
  });

  it("is no part of a rating that the part's elements follow", () => {
    expect(resolve(device('hall-chime', 'two-note-chime')).needs).toBeUndefined();
  });
});

describe('loads', () => {
  const load = (element: Partial<Extract<PartElement, { kind: 'load' }>>, rating?: Part['facts']['rating']) => {
    const type = partType('thing', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'load', a: 'a', b: 'b', ...element }],
      facts: { rating },
    });
    return first(resolve(device('thing', 'thing'), type), 'load');
  };

  it('take more VA than watts by their power factor', () => {
    const draws = { unit: 'W', value: 3 } as const;
    expect(load({ draws, powerFactor: 0.6 }).draws).toEqual({ unit: 'VA', idle: 5, peak: 5 });
    expect(load({ draws }).assumed.map(({ what }) => what)).toContain('power-factor');
  });

  it('draw amps where the label gives amps, peak included', () => {
    const peaks = { unit: 'W', value: 12 } as const;
    const rating = { volts: volts(24), amps: 0.35 };
    expect(load({ asRated: true, peaks }, rating).draws).toEqual({ unit: 'A', idle: 0.35, peak: 0.5 });
  });

  it('stay on from where they say, else from a share of the least rated volts that is named as assumed', () => {
    const draws = { unit: 'W', value: 3 } as const;
    expect(load({ draws, staysOnFrom: 10 }).staysOnFrom).toBe(10);
    const silent = load({ draws }, { volts: volts(16, 24) });
    expect(silent.staysOnFrom).toBeCloseTo(9.6, 12);
    expect(silent.assumed.map(({ what }) => what)).toContain('stays-on');
  });

  it('that state nothing say what is missing', () => {
    expect(load({}).missing).toBe('what a load draws is');
  });
});

describe('coils', () => {
  it('meant to buzz have no hum to judge', () => {
    const type = partType('buzzer', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'coil', a: 'a', b: 'b', volts: 16, voltAmperes: 5, humsFrom: 'off' }],
    });
    const coil = first(resolve(device('buzzer', 'buzzer'), type), 'coil');
    expect(coil.humsFromAmps).toBeUndefined();
    expect(coil.powerFactor).toBe(0.7);
    expect(coil.assumed.map(({ what }) => what)).toContain('power-factor');
  });

  it('on DC are resistance alone', () => {
    const type = partType('dc-bell', {
      terminals: ['a', 'b'],
      elements: [{ kind: 'coil', a: 'a', b: 'b', volts: 12, voltAmperes: 6, system: 'DC' }],
    });
    expect(first(resolve(device('bell', 'dc-bell'), type), 'coil')).toMatchObject({ ohms: 24, reactance: 0 });
  });
});

describe('windings', () => {
  const winding = (facts: Part['facts'] extends infer F ? Partial<F> : never, ...types: PartType[]) =>
    first(resolve(supply('bell-tx', 'bell-transformer', facts), ...types), 'winding');

  it.each([
    [16, 10, 20],
    [8, 8, 10.4],
    [16, 30, 18.4],
    [24, 40, 27],
  ])('of %d V %d VA without a no-load figure are assumed to show %d V', (rated, va, open) => {
    const found = winding(output(rated, va));
    expect(found.noLoadVolts).toBeCloseTo(open, 9);
    expect(found.ohms).toBeCloseTo((open - rated) / (va / rated), 9);
    expect(found.assumed.map(({ what }) => what)).toEqual(['no-load']);
  });

  it('are ideal where the no-load voltage is the rated one, and lean on nothing', () => {
    expect(winding({ ...output(16, 10), noLoadVolts: 16 })).toMatchObject({ noLoadVolts: 16, ohms: 0, assumed: [] });
  });

  it('take their EMF from a meter and never look healthier for it', () => {
    const weak = winding({ ...output(16, 10), measuredOpenVolts: 17.9 });
    expect(weak.noLoadVolts).toBe(17.9);
    expect(weak.ohms).toBeCloseTo(6.4, 9);
    const strong = winding({ ...output(16, 10), measuredOpenVolts: 21 });
    expect(strong.ohms).toBeCloseTo(5 / 0.625, 9);
    const loaded = winding({ ...output(16, 10), noLoadVolts: 19.8, measuredLoaded: { volts: 15.1, amps: 0.62 } });
    expect(loaded.ohms).toBeCloseTo(4.7 / 0.62, 9);
  });

  it("forget the type's no-load voltage when the instance states another output", () => {
    const type = partType('own-tx', {
      of: 'supply',
      terminals: ['a', 'b'],
      elements: [{ kind: 'winding', a: 'a', b: 'b', asRated: true }],
      facts: { ...output(16, 10), noLoadVolts: 17 },
    });
    expect(first(resolve(supply('tx', 'own-tx'), type), 'winding').noLoadVolts).toBe(17);
    expect(first(resolve(supply('tx', 'own-tx', output(16, 30)), type), 'winding').noLoadVolts).toBeCloseTo(18.4, 9);
    expect(first(resolve(supply('tx', 'own-tx', output(16, 10)), type), 'winding').noLoadVolts).toBe(17);
  });

  it('name the output of the library that nobody read off a label', () => {
    const words = winding({}).assumed.map((one) => one.words);
    expect(words).toContain("an output of 16 V, 10 VA (the library's figure for bell-transformer)");
  });

  const tapped = partType('tapped', {
    of: 'supply',
    terminals: ['0', '8', '12'],
    elements: [
      {
        kind: 'winding',
        a: '0',
        b: '12',
        asRated: true,
        taps: [
          { terminal: '0', volts: 0 },
          { terminal: '8', volts: 8 },
          { terminal: '12', volts: 12 },
        ],
      },
    ],
    facts: { outputs: [{ volts: 12, system: 'AC', voltAmperes: 8 }] },
  });

  it('with taps are sections in series that share one VA', () => {
    const sections = resolve(supply('tx', 'tapped'), tapped).elements;
    expect(sections.map(({ a, b }) => [a, b])).toEqual([
      ['tx.0', 'tx.8'],
      ['tx.8', 'tx.12'],
    ]);
    const total = (pick: (one: ResolvedElement) => number | undefined) =>
      sections.reduce((sum, one) => sum + (pick(one) ?? 0), 0);
    expect(total((one) => one.noLoadVolts)).toBeCloseTo(12 * 1.3, 9);
    expect(total((one) => one.ohms)).toBeCloseTo((12 * 0.3) / (8 / 12), 9);
    expect(sections.map((one) => one.ratedAmps)).toEqual([1, 8 / 12]);
    expect(new Set(sections.map((one) => one.sectionOf?.winding)).size).toBe(1);
    expect(sections[0]?.ohms).toBeCloseTo((2 / 3) * total((one) => one.ohms), 9);
  });

  it("follow the label's amps of each tap", () => {
    const label = [
      { volts: 12, system: 'AC' as const, voltAmperes: 8 },
      { tap: '8', volts: 8, system: 'AC' as const, amps: 0.8 },
    ];
    const [lower] = resolve(supply('tx', 'tapped', { outputs: label }), tapped).elements;
    expect(lower?.ratedAmps).toBe(0.8);
    expect(lower?.ohms).toBeCloseTo((0.3 * 8) / 0.8, 9);
  });

  it('of several outputs take the one named after their terminal', () => {
    const twin = partType('twin', {
      of: 'supply',
      terminals: ['x1', 'x2', 'y1', 'y2'],
      elements: [
        { kind: 'winding', a: 'x1', b: 'x2', asRated: true },
        { kind: 'winding', a: 'y1', b: 'y2', asRated: true, phase: 180 },
      ],
      facts: {
        outputs: [
          { tap: 'x2', volts: 16, voltAmperes: 10 },
          { tap: 'y2', volts: 24, voltAmperes: 20 },
        ],
      },
    });
    const elements = resolve(supply('tx', 'twin'), twin).elements;
    expect(elements.map(({ ratedVolts, ratedVoltAmperes }) => [ratedVolts, ratedVoltAmperes])).toEqual([
      [16, 10],
      [24, 20],
    ]);
  });
});

describe('parts', () => {
  it('of an unknown type have no elements, and the first of two with one name counts', () => {
    const parts = resolveParts(
      installation({ devices: [device('x', 'no-such'), device('x', 'push-button'), device('y', 'push-button')] }),
    );
    expect(parts.get('x')?.elements).toEqual([]);
    expect(parts.get('y')?.elements[0]).toMatchObject({ id: 'part/y/0', contact: 'y', present: true });
    expect(parts.get('y')?.role).toBe('button');
  });
});
