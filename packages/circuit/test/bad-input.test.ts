import { describe, expect, it } from 'vitest';
import { type CircuitElement, prepare, type Solution, statesOf } from '../src/index.js';
import { ac, bypass, contact, dc, diode, draws, short, watts, wire, z } from './networks.js';

/** A house in small: everything there is, once. */
const house: readonly CircuitElement[] = [
  ac('mains', 'l', 'n', 120),
  ac('tx', 'a', 'b', 20, { ohms: 6.4, reactance: 1, fedBy: { a: 'l', b: 'n', ratio: 1 / 6 } }),
  wire('go', 'a', 'p', 0.6),
  wire('back', 'b', 'q', 0.6),
  contact('push', 'p', 'c'),
  contact('rest', 'p', 'd', 'push', 'closed'),
  z('coil', 'c', 'q', 18, 18),
  bypass('kit', 'd', 'e', 3, 0.8),
  watts('cam', 'e', 'q', 3, 10, 8),
  draws('led', 'p', 'q', 0.01, 2, 0.02),
  diode('half', 'd', 'f'),
  z('lamp', 'f', 'q', 500),
  short('jumper', 'q', 'g'),
  z('capacitor', 'g', 'p', 10, -500),
];

/** Every solution has figures that are numbers, or says what is in the way. */
function solutionsAreSound(elements: readonly CircuitElement[]): readonly Solution[] {
  const prepared = prepare({ elements });
  return prepared.circuits.flatMap((circuit) =>
    statesOf(circuit).map((state) => {
      const solution = prepared.solve(circuit, state);
      expect(solution.problem?.kind).not.toBe('self-check-failed');
      for (const id of circuit.elements) {
        const figures = solution.element(id);
        expect(figures === undefined).toBe(solution.problem !== undefined);
        if (figures === undefined) continue;
        expect(Number.isFinite(figures.volts.re + figures.volts.im), `volts of ${id}`).toBe(true);
        if (figures.amps !== null) {
          expect(Number.isFinite(figures.amps.re + figures.amps.im), `amps of ${id}`).toBe(true);
        }
      }
      return solution;
    }),
  );
}

const VALUES = [0, -0, -1, 1e-300, 1e-15, 1e-9, 1e-6, 1e6, 1e12, 1e13, 1e300, Number.NaN, Infinity, -Infinity];
const FIGURES = ['volts', 'phase', 'ohms', 'reactance', 'frequency', 'opensAbove', 'staysOnFrom'];

describe('any figure of any part', () => {
  const cases = house.flatMap((element) =>
    Object.keys(element)
      .filter((key) => FIGURES.includes(key))
      .map((figure) => ({ id: element.id, figure })),
  );

  it.each(cases)('$figure of $id: zero, negative, tiny, huge or no number', ({ id, figure }) => {
    for (const value of VALUES) {
      const solutions = solutionsAreSound(house.map((e) => (e.id === id ? { ...e, [figure]: value } : e)));
      const isNumber = Number.isFinite(value) && Math.abs(value) <= 1e12;
      if (!isNumber) expect(solutions.some(({ problem }) => problem?.kind === 'bad-figure')).toBe(true);
    }
  });

  it.each(['cam', 'led'])('the draw of %s', (id) => {
    for (const value of VALUES) {
      const both = { idle: value, peak: value };
      solutionsAreSound(house.map((e) => (e.id === id ? { ...e, voltAmperes: both, amps: both } : e)));
    }
  });

  it('of all parts at once', () => {
    for (const value of VALUES) {
      const given = Object.fromEntries(FIGURES.map((figure) => [figure, value]));
      solutionsAreSound(
        house.map((e) => {
          const own = Object.fromEntries(Object.entries(given).filter(([key]) => key in e));
          return { ...e, ...own } as CircuitElement;
        }),
      );
    }
  });

  it('that is missing, of a part of no known kind, or of parts with one id', () => {
    const bare = { kind: 'power', id: 'bare', a: 'p', b: 'q' } as unknown as CircuitElement;
    const strange = { kind: 'flux', id: 'strange', a: 'p', b: 'q' } as unknown as CircuitElement;
    for (const odd of [bare, strange, z('coil', 'p', 'q', 5)]) {
      expect(solutionsAreSound([...house, odd]).every(({ problem }) => problem?.kind === 'bad-figure')).toBe(true);
    }
  });
});

describe('open and shorted everything', () => {
  const points = [...new Set(house.flatMap(({ a, b }) => [a, b]))];

  it('any two points joined', () => {
    for (const a of points) {
      for (const b of points) if (a < b) solutionsAreSound([...house, short('slip', a, b)]);
    }
  });

  it('all points joined', () => {
    solutionsAreSound([...house, ...points.map((point, i) => short(`slip${i}`, points[0]!, point))]);
  });

  it('any one part open, and any one shorted', () => {
    for (const { id } of house) {
      solutionsAreSound(house.filter((e) => e.id !== id));
      solutionsAreSound(house.map((e) => (e.id === id ? short(id, e.a, e.b) : e)));
    }
  });

  it('every part across itself', () => {
    for (const { id } of house) solutionsAreSound(house.map((e) => (e.id === id ? { ...e, b: e.a } : e)));
    solutionsAreSound(house.map((e) => ({ ...e, b: e.a })));
  });

  it('a supply wired to itself, ideal or not, through wire, a jumper, a contact or a diode', () => {
    for (const ohms of [0, 2]) {
      const tx = ac('tx', 'a', 'b', 16, { ohms });
      for (const joined of [
        wire('w', 'a', 'b', 0.1),
        short('w', 'a', 'b'),
        contact('w', 'a', 'b', 'w', 'closed'),
        diode('w', 'a', 'b'),
      ]) {
        const [rest] = solutionsAreSound([tx, joined]);
        expect(rest!.shorted.map(({ source }) => source)).toEqual(['tx']);
        const hasNoWire = joined.kind === 'short' || joined.kind === 'contact';
        expect(rest!.problem?.kind).toBe(ohms === 0 && hasNoWire ? 'ideal-source-shorted' : undefined);
      }
    }
  });

  it('supplies that feed each other in a ring', () => {
    solutionsAreSound([
      ac('one', 'a', 'b', 16, { ohms: 1, fedBy: { a: 'c', b: 'd', ratio: 0.5 } }),
      ac('two', 'c', 'd', 16, { ohms: 1, fedBy: { a: 'a', b: 'b', ratio: 0.5 } }),
      z('r', 'a', 'b', 10),
    ]);
  });
});

describe('very many', () => {
  const many = Array.from({ length: 4000 }, (_, i) => i);
  const answered = (elements: readonly CircuitElement[]): Solution => {
    const prepared = prepare({ elements });
    const solution = prepared.solve(prepared.circuitOf('p')!, { closed: [], loads: 'idle' });
    expect(solution.problem?.kind).not.toBe('self-check-failed');
    return solution;
  };

  it('parallel parts of every kind', () => {
    const tx = dc('s', 'p', '0', 24, 1e-4);
    expect(answered([tx, ...many.map((i) => z(`r${i}`, 'p', '0', 1000))]).problem).toBeUndefined();
    expect(answered([tx, ...many.map((i) => watts(`l${i}`, 'p', '0', 0.01))]).problem).toBeUndefined();
    expect(answered([tx, ...many.map((i) => draws(`l${i}`, 'p', '0', 0.001))]).problem).toBeUndefined();
    const rows = many.slice(0, 400).flatMap((i) => [diode(`d${i}`, 'p', `m${i}`), z(`r${i}`, `m${i}`, '0', 1000)]);
    expect(answered([tx, ...rows]).problem).toBeUndefined();
  });

  it('wires of next to no ohms, and capacitors', () => {
    const along = (x: (i: number) => CircuitElement) => [
      ac('s', 'p', '0', 24, { ohms: 1 }),
      ...many.map(x),
      z('end', 'm3999', '0', 5),
    ];
    const next = (i: number): string => (i === 0 ? 'p' : `m${i - 1}`);
    const tiny = answered(along((i) => wire(`w${i}`, next(i), `m${i}`, 1e-7)));
    expect(tiny.element('end')?.amps?.re).toBeCloseTo(24 / 6.0004, 6);
    const capacitors = answered(along((i) => z(`c${i}`, next(i), `m${i}`, 0, -0.001)));
    expect(capacitors.element('end')?.amps?.im).toBeCloseTo((24 * 4) / (36 + 16), 6);
  });

  it('jumpers in one loop, and between the same two points', () => {
    const loop = many.map((i) => short(`j${i}`, `m${i}`, `m${(i + 1) % many.length}`));
    const s = answered([dc('s', 'p', '0', 12, 1), short('in', 'p', 'm0'), ...loop, z('r', 'm2000', '0', 11)]);
    expect(s.element('r')?.amps?.re).toBeCloseTo(1, 12);
    expect(s.element('j7')?.amps).toBeNull();
    expect(s.element('in')?.amps?.re).toBeCloseTo(1, 12);
    const beside = answered([
      dc('s', 'p', '0', 12, 1),
      ...many.map((i) => short(`j${i}`, 'p', 'q')),
      z('r', 'q', '0', 11),
    ]);
    expect(beside.element('r')?.amps?.re).toBeCloseTo(1, 12);
  });
});
