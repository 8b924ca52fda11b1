/** What is closed and what carries current in the state that is drawn. */

import type { CircuitAnalysis, Analysis, ResolvedElement } from '@ohmstead/record';

export interface Choice {
  /** Contacts that are actuated. */
  readonly closed: readonly string[];
  readonly loads: 'idle' | 'peak';
}

/** Below this nothing is emphasised: a leak is no path. */
const LIVE_AMPS = 1e-4;

export interface Moment {
  isLive(id: string): boolean;
  isClosed(element: ResolvedElement): boolean;
  /** RMS volts across an element; undefined where there is no figure. */
  volts(element: ResolvedElement): number | undefined;
}

/** The names of all contacts that can be chosen, sorted. */
export function contactNames(analysis: Analysis): string[] {
  return [...new Set(analysis.circuits.flatMap(({ circuit }) => circuit.contacts))].sort();
}

export function momentOf(analysis: Analysis, choice: Choice): Moment {
  const solutions = new Map(analysis.circuits.map((circuit) => [circuit, solutionOf(circuit, choice)]));
  const solution = (id: string) => {
    const circuit = analysis.circuitOfElement(id);
    return circuit === undefined ? undefined : solutions.get(circuit);
  };
  return {
    isLive(id) {
      const amps = solution(id)?.element(id)?.amps;
      return amps !== undefined && amps !== null && Math.hypot(amps.re, amps.im) > LIVE_AMPS;
    },
    isClosed({ element, contact, part }) {
      if (element.kind !== 'contact') return false;
      return choice.closed.includes(contact ?? part) !== element.normallyClosed;
    },
    volts({ id }) {
      const volts = solution(id)?.element(id)?.volts;
      return volts === undefined ? undefined : Math.hypot(volts.re, volts.im);
    },
  };
}

/** Each circuit has its own contacts: those that are not in it change nothing there. */
function solutionOf(circuit: CircuitAnalysis, { closed, loads }: Choice) {
  if (circuit.held || circuit.unsolved.length > 0) return undefined;
  const own = closed.filter((name) => circuit.circuit.contacts.includes(name)).sort();
  const solved = circuit.at('nominal', own, circuit.circuit.hasPeak ? loads : 'idle');
  return solved?.solution.problem === undefined ? solved?.solution : undefined;
}
