import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type CircuitElement, EditableNetwork, prepare } from '../src/index.js';

interface Drawn {
  readonly ohms: number;
  readonly reactance: number;
  readonly from: number;
}

const ohms = fc.double({ min: 0.05, max: 500, noNaN: true });
const reactance = fc.double({ min: -50, max: 50, noNaN: true });
const branch: fc.Arbitrary<Drawn> = fc.record({ ohms, reactance, from: fc.nat() });
const volts = fc.double({ min: 1, max: 30, noNaN: true });

/** A tree of branches from node 0 with more across it, so that all is one piece; the source lies from node 0 to node 1. */
function endsOf(drawn: readonly Drawn[], nodes: number): readonly (readonly [number, number])[] {
  return drawn.map(({ from }, k) => {
    const to = (k % (nodes - 1)) + 1;
    const other = k < nodes - 1 ? from % to : from % nodes;
    return [other === to ? 0 : other, to] as const;
  });
}

function figuresOf({ ohms, reactance }: Pick<Drawn, 'ohms' | 'reactance'>, emf = 0) {
  const square = ohms * ohms + reactance * reactance;
  return { re: ohms / square, im: -reactance / square, emfRe: emf, emfIm: 0 };
}

test('a network with edited branches has the volts of the same network solved afresh', () => {
  const cases = fc.record({
    nodes: fc.integer({ min: 3, max: 8 }),
    drawn: fc.array(branch, { minLength: 8, maxLength: 14 }),
    emf: volts,
    edits: fc.array(fc.record({ branch: fc.nat(), ohms, reactance }), { maxLength: 4 }),
  });
  fc.assert(
    fc.property(cases, ({ nodes, drawn, emf, edits }) => {
      const ends = endsOf(drawn, nodes);
      const source = { ohms: 4, reactance: 0 };
      // A source's current runs out of its `a`: as a branch it pushes from b to a.
      const network = new EditableNetwork(nodes, [
        { a: 0, b: 1, ...figuresOf(source, emf) },
        ...drawn.map((one, k) => ({ a: ends[k]![0], b: ends[k]![1], ...figuresOf(one) })),
      ]);
      const changed = new Map(edits.map((edit) => [edit.branch % drawn.length, edit]));
      const edited = network.edited([...changed].map(([k, one]) => ({ branch: k + 1, ...figuresOf(one) })));
      const elements: CircuitElement[] = [
        {
          kind: 'source',
          id: 'source',
          a: 'n0',
          b: 'n1',
          system: 'AC',
          frequency: 60,
          volts: emf,
          phase: 0,
          ohms: source.ohms,
          reactance: 0,
        },
        ...drawn.map((one, k): CircuitElement => {
          const { ohms, reactance } = changed.get(k) ?? one;
          return {
            kind: 'impedance',
            id: `z${k}`,
            a: `n${ends[k]![0]}`,
            b: `n${ends[k]![1]}`,
            ohms,
            reactance,
            wire: false,
          };
        }),
      ];
      const afresh = prepare({ elements });
      const solution = afresh.solve(afresh.circuitOf('n0')!, { closed: [], loads: 'idle' });
      for (let node = 1; node < nodes; node++) {
        const expected = solution.between('n0', `n${node}`);
        const found = edited.volts(0, node);
        expect(Math.hypot(found.re - expected!.re, found.im - expected!.im)).toBeLessThan(1e-6 * emf);
      }
    }),
    { numRuns: 300 },
  );
});
