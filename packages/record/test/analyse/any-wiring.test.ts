import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyse, budgetOf, type Installation, probe } from '../../src/index.js';
import { conductor, device, installation, jumper, metres, output, partType, run, supply } from '../builder.js';

const kit = partType('kit', {
  terminals: ['a', 'b'],
  elements: [
    { kind: 'bypass', a: 'a', b: 'b', ohms: 3, opensAbove: 0.8 },
    { kind: 'lamp', a: 'a', b: 'b', volts: 16, watts: 0.5 },
  ],
});

const POINTS = [
  'tx.a',
  'tx.b',
  'tx.line',
  'tx.neutral',
  'other-tx.a',
  'other-tx.b',
  'other-tx.line',
  'other-tx.neutral',
  'chime.trans',
  'chime.front',
  'chime.rear',
  'cam.a',
  'cam.b',
  'push.a',
  'push.b',
  'kit.a',
  'kit.b',
  'joint',
  'nobody.a',
];

const point = fc.constantFrom(...POINTS);
const ring = fc.constantFrom('mechanical' as const, 'none' as const, undefined);
const length = fc.constantFrom(0, 3, 30, Number.NaN, -2, undefined);

/** Whatever can be written, sound or not: wires anywhere, shorts, windings into windings, lengths that are no lengths. */
const anyWiring: fc.Arbitrary<Installation> = fc
  .record({
    wires: fc.array(fc.tuple(point, point, length), { maxLength: 9 }),
    links: fc.array(fc.tuple(point, point), { maxLength: 5 }),
    voltAmperes: fc.constantFrom(0, 5, 10, 30),
    ring,
  })
  .map(({ wires, links, voltAmperes, ring }) =>
    installation({
      types: [kit],
      supplies: [
        supply('tx', 'bell-transformer', output(16, voltAmperes)),
        supply('other-tx', 'bell-transformer', output(24, 40)),
      ],
      devices: [
        device('chime', 'two-note-chime'),
        device('cam', 'video-doorbell', { ring }),
        device('push', 'push-button'),
        device('kit', 'kit'),
      ],
      splices: [{ name: 'joint', notes: [] }],
      runs: wires.map(([from, to, value], index) =>
        run(`run-${index}`, {
          ...(value === undefined ? {} : metres(value)),
          conductors: [conductor('red', from, to)],
        }),
      ),
      jumpers: links.map(([from, to], index) => jumper(`jumper-${index}`, from, to)),
    }),
  );

describe('any wiring, sound or not', () => {
  it('has a budget whose figures are numbers or nothing, the same when its solutions are taken over', () => {
    fc.assert(
      fc.property(anyWiring, (house) => {
        const analysis = analyse(house);
        expect(JSON.stringify(budgetOf(analysis, []))).toBe(JSON.stringify(budgetOf(analyse(house, analysis), [])));
        for (const number of numbersIn(budgetOf(analysis, []))) expect(Number.isFinite(number)).toBe(true);
      }),
      { numRuns: 150 },
    );
  });

  it('is solved at every condition without a fault of the program', () => {
    const conditions = ['nominal', 'low', 'high', 'labels'] as const;
    fc.assert(
      fc.property(anyWiring, (house) => {
        for (const { solved } of analyse(house).circuits) {
          for (const { solution } of conditions.flatMap(solved)) {
            expect(solution.problem?.kind).not.toBe('self-check-failed');
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it('reads the same on a meter whichever way round its leads are', () => {
    fc.assert(
      fc.property(anyWiring, point, point, fc.boolean(), (house, a, b, ohms) => {
        const analysis = analyse(house);
        const read = (x: string, y: string): unknown => {
          const found = ohms ? probe(analysis, x, y, { ohms: true }) : probe(analysis, x, y);
          return 'kind' in found ? found.kind : found.solved.map(rounded);
        };
        expect(read(a, b)).toEqual(read(b, a));
      }),
      { numRuns: 150 },
    );
  });
});

function rounded(row: object): object {
  return Object.fromEntries(
    Object.entries(row).map(([key, value]) => [key, typeof value === 'number' ? Number(value.toPrecision(8)) : value]),
  );
}

function numbersIn(value: unknown): readonly number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(numbersIn);
}
