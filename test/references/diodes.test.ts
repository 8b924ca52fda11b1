// Circuits with diodes against eecircuit-engine (ngspice compiled to WebAssembly), which follows the waves in time with an exponential diode.
import { describe, expect, it } from 'vitest';
import { type CircuitElement, magnitude, prepare } from '../../packages/circuit/src/index.js';
import { Simulator } from './simulator.js';

const simulator = new Simulator();
const FREQUENCY = 60;

/** About 0.7 V at 0.1 A. */
const MODEL = '.model rectifier d(is=1.45e-9 n=1.5 rs=0.05)';

/** Two straight lines against an exponential: within so much of the source's volts. */
const WITHIN = 0.01;

const tx = (a: string, b: string, volts: number, ohms: number): CircuitElement => ({
  kind: 'source',
  id: 'tx',
  a,
  b,
  system: 'AC',
  frequency: FREQUENCY,
  volts,
  phase: 0,
  ohms,
  reactance: 0,
});
const r = (id: string, a: string, b: string, ohms: number): CircuitElement => ({
  kind: 'impedance',
  id: `r${id}`,
  a,
  b,
  ohms,
  reactance: 0,
  wire: false,
});
const d = (id: string, a: string, b: string): CircuitElement => ({ kind: 'diode', id: `d${id}`, a, b });

function netlist(elements: readonly CircuitElement[]): string[] {
  return elements.map((element) => {
    if (element.kind === 'diode') return `${element.id} ${element.a} ${element.b} rectifier`;
    if (element.kind === 'impedance') return `${element.id} ${element.a} ${element.b} ${element.ohms}`;
    if (element.kind !== 'source') throw new Error(`no line for ${element.kind}`);
    const { id, a, b, volts, ohms } = element;
    return `v${id} e${id} ${b} sin(0 ${volts * Math.SQRT2} ${FREQUENCY})\nr${id} e${id} ${a} ${ohms}`;
  });
}

const circuits: readonly { what: string; volts: number; elements: readonly CircuitElement[] }[] = [
  { what: 'a half wave', volts: 20, elements: [tx('p', '0', 20, 6.4), d('1', 'p', 'q'), r('1', 'q', '0', 60)] },
  {
    what: 'a bridge of four',
    volts: 16,
    elements: [
      tx('p', '0', 16, 2),
      d('1', 'p', 'x'),
      d('2', '0', 'x'),
      d('3', 'y', 'p'),
      d('4', 'y', '0'),
      r('1', 'x', 'y', 80),
    ],
  },
  {
    what: 'half waves to one load and whole ones to another',
    volts: 20,
    elements: [tx('p', '0', 20, 4), r('w', 'p', 'm', 1), d('1', 'm', 'q'), r('1', 'q', '0', 90), r('2', 'm', '0', 120)],
  },
  {
    what: 'two diodes, one a half each',
    volts: 12,
    elements: [tx('p', '0', 12, 1), d('1', 'p', 'x'), d('2', 'y', 'p'), r('1', 'x', '0', 40), r('2', 'y', '0', 70)],
  },
  {
    what: 'two in series, and one the other way round beside them',
    volts: 24,
    elements: [tx('p', '0', 24, 3), d('1', 'p', 'x'), d('2', 'x', 'y'), d('3', 'y', 'p'), r('1', 'y', '0', 100)],
  },
];

describe('diodes on AC', () => {
  it.each(circuits)('$what: RMS volts within 1 % of the source', async ({ volts, elements }) => {
    const pairs = elements.map(({ a, b }) => [a, b] as const);
    const reference = await simulator.overACycle([...netlist(elements), MODEL], pairs, FREQUENCY);
    expect(reference).toBeDefined();
    const prepared = prepare({ elements });
    const solution = prepared.solve(prepared.circuits[0]!, { closed: [], loads: 'idle' });
    elements.forEach(({ id }, i) => {
      const mine = magnitude(solution.element(id)!.volts);
      expect(Math.abs(mine - reference![i]!) / volts, id).toBeLessThan(WITHIN);
    });
  });
});

describe('diodes on DC', () => {
  it.each([
    ['forwards', d('1', 'p', 'q')],
    ['reversed', d('1', 'q', 'p')],
  ])('%s: volts within 1 % of the source', async (_, diode) => {
    const values = await simulator.run(
      ['v1 e 0 dc 12', 'r1 e p 1', `d1 ${diode.a} ${diode.b} rectifier`, 'r2 q 0 100', MODEL, '.op'],
      ['v(p)', 'v(q)'],
    );
    const elements: CircuitElement[] = [
      { ...tx('p', '0', 12, 1), system: 'DC', frequency: 0 } as CircuitElement,
      diode,
      r('2', 'q', '0', 100),
    ];
    const prepared = prepare({ elements });
    const solution = prepared.solve(prepared.circuits[0]!, { closed: [], loads: 'idle' });
    for (const point of ['p', 'q']) {
      const mine = solution.between(point, '0')!.re;
      expect(Math.abs(mine - values!.get(`v(${point})`)![0]!.re) / 12).toBeLessThan(WITHIN);
    }
  });
});
