/** Short ways to write networks in tests. */

import type { Bypass, Contact, CurrentLoad, Diode, Impedance, PowerLoad, Short, Source } from '../src/index.js';
import {
  type CircuitElement,
  type CircuitState,
  magnitude,
  type PreparedNetwork,
  prepare,
  type Solution,
} from '../src/index.js';

export const AT_REST: CircuitState = { closed: [], loads: 'idle' };

export function ac(id: string, a: string, b: string, volts: number, more: Partial<Source> = {}): Source {
  return { kind: 'source', id, a, b, system: 'AC', frequency: 60, volts, phase: 0, ohms: 0, reactance: 0, ...more };
}

export function dc(id: string, a: string, b: string, volts: number, ohms = 0): Source {
  return { kind: 'source', id, a, b, system: 'DC', frequency: 0, volts, phase: 0, ohms, reactance: 0 };
}

export function z(id: string, a: string, b: string, ohms: number, reactance = 0): Impedance {
  return { kind: 'impedance', id, a, b, ohms, reactance, wire: false };
}

export function wire(id: string, a: string, b: string, ohms: number): Impedance {
  return { kind: 'impedance', id, a, b, ohms, reactance: 0, wire: true };
}

export function short(id: string, a: string, b: string): Short {
  return { kind: 'short', id, a, b };
}

export function contact(id: string, a: string, b: string, name = id, normally: 'open' | 'closed' = 'open'): Contact {
  return { kind: 'contact', id, a, b, contact: name, normally };
}

export function watts(id: string, a: string, b: string, idle: number, staysOnFrom = 0, peak = idle): PowerLoad {
  return { kind: 'power', id, a, b, voltAmperes: { idle, peak }, powerFactor: 1, staysOnFrom };
}

export function draws(id: string, a: string, b: string, idle: number, staysOnFrom = 0, peak = idle): CurrentLoad {
  return { kind: 'current', id, a, b, amps: { idle, peak }, powerFactor: 1, staysOnFrom };
}

export function bypass(id: string, a: string, b: string, ohms: number, opensAbove: number): Bypass {
  return { kind: 'bypass', id, a, b, ohms, opensAbove };
}

/** From anode to cathode. */
export function diode(id: string, a: string, b: string): Diode {
  return { kind: 'diode', id, a, b };
}

/** Prepares elements and solves the circuit of the first one. */
export function solved(elements: readonly CircuitElement[], state: CircuitState = AT_REST): Solution {
  const prepared = prepare({ elements });
  return prepared.solve(circuitOf(prepared, elements), state);
}

export function circuitOf(prepared: PreparedNetwork, elements: readonly CircuitElement[]) {
  return prepared.circuitOf(elements[0]!.a)!;
}

export function amps(solution: Solution, id: string): number {
  const figure = solution.element(id)?.amps;
  return figure === undefined || figure === null ? Number.NaN : magnitude(figure);
}

export function volts(solution: Solution, id: string): number {
  const figure = solution.element(id)?.volts;
  return figure === undefined ? Number.NaN : magnitude(figure);
}

export function voltsBetween(solution: Solution, a: string, b: string): number {
  const figure = solution.between(a, b);
  return figure === null ? Number.NaN : magnitude(figure);
}
