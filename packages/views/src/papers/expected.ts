/** What a meter should show, as a band over nominal, low and high mains, warm and cold wire. */

import type { Phasor } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '@ohmstead/record';
import { problemWords } from '@ohmstead/record';

/** Volts from least to most, or why there are none. */
export type Expected =
  | { readonly least: number; readonly most: number; readonly approximate?: string }
  | { readonly reason: string };

const conditions = ['nominal', 'low', 'high'] as const;

export interface Moment {
  readonly closed: readonly string[];
  readonly loads: 'idle' | 'peak';
}

export function size({ re, im }: Phasor): number {
  return Math.hypot(re, im);
}

/** Volts between two points while the contacts are closed. */
export function expectedVolts(circuit: CircuitAnalysis, moment: Moment, a: string, b: string): Expected {
  return over(circuit, moment, ({ solution }) => {
    const between = solution.between(a, b);
    return between === null ? undefined : size(between);
  });
}

/** Volts across an element's own ends. */
export function expectedAcross(circuit: CircuitAnalysis, moment: Moment, element: ResolvedElement): Expected {
  return expectedVolts(circuit, moment, element.a, element.b);
}

function over(circuit: CircuitAnalysis, moment: Moment, read: (solved: Solved) => number | undefined): Expected {
  if (circuit.held) return { reason: 'a statement of this circuit cannot be read' };
  const [missing] = circuit.unsolved;
  if (missing !== undefined) return { reason: missing.words };
  const found: number[] = [];
  let approximate: string | undefined;
  for (const condition of conditions) {
    const solved = circuit.at(condition, moment.closed, moment.loads);
    if (solved === undefined) return { reason: 'the record does not allow this' };
    if (solved.solution.problem !== undefined) return { reason: problemWords(solved.solution.problem) };
    const volts = read(solved);
    if (volts === undefined) return { reason: 'hangs free of one another' };
    approximate ??= solved.solution.approximate;
    found.push(volts);
  }
  const band = { least: Math.min(...found), most: Math.max(...found) };
  return approximate === undefined ? band : { ...band, approximate };
}

/** Rounded outwards to a tenth, so that a reading at the band's edge is in it: "15.3 to 16.8 V". */
export function bandWords(expected: Expected): string {
  if ('reason' in expected) return `no figure: ${expected.reason}`;
  const mark = expected.approximate === undefined ? '' : 'roughly ';
  const least = Math.floor(expected.least * 10 + 1e-6) / 10;
  const most = Math.ceil(expected.most * 10 - 1e-6) / 10;
  if (most < 0.1) return '0 V';
  return least === most ? `${mark}${most.toFixed(1)} V` : `${mark}${least.toFixed(1)} to ${most.toFixed(1)} V`;
}

/** Whether figures of the circuit lean on something that was not read off a label or measured. */
export function leansOnAssumptions(analysis: Analysis, circuit: CircuitAnalysis): boolean {
  const names = new Set([...circuit.supplies, ...circuit.devices, ...circuit.runs]);
  return analysis.assumptions.some(({ part }) => names.has(part));
}
