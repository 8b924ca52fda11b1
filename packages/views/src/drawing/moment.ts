/** What is closed and what carries current in the state that is drawn. */

import type { CircuitAnalysis, Analysis, ResolvedElement, StateKey } from '@ohmstead/record';
import { circuitKey } from '../budget-view.js';
import { stateId } from '../words.js';

export interface Choice extends StateKey {
  /** By circuit key, for circuits that are shown in a state of their own: the id of that state. */
  readonly shown?: Readonly<Record<string, string>>;
}

/** Each circuit in the state that is chosen for it, or in its first. */
export function choiceOf({ circuits }: Analysis, shown: Readonly<Record<string, string>>): Choice {
  const states = circuits.flatMap((circuit) => shownState(circuit, shown) ?? []);
  const closed = [...new Set(states.flatMap((state) => state.closed))].sort();
  return { closed, loads: states.some(({ loads }) => loads === 'peak') ? 'peak' : 'idle', shown };
}

function shownState(circuit: CircuitAnalysis, shown: Readonly<Record<string, string>>): StateKey | undefined {
  const wanted = shown[circuitKey(circuit)];
  return circuit.states.find((state) => stateId(state) === wanted) ?? circuit.states[0];
}

/** Below this nothing is emphasised: a leak is no path. */
const LIVE_AMPS = 1e-4;

export interface Moment {
  /** Circuits that have a supply and yet no figures in this state. */
  readonly withoutFigures: readonly CircuitAnalysis[];
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
    withoutFigures: analysis.circuits.filter(
      (circuit) => circuit.supplies.length > 0 && solutions.get(circuit) === undefined,
    ),
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
function solutionOf(circuit: CircuitAnalysis, choice: Choice) {
  if (circuit.held || circuit.unsolved.length > 0) return undefined;
  const { closed, loads } = (choice.shown && shownState(circuit, choice.shown)) ?? choice;
  const own = closed.filter((name) => circuit.circuit.contacts.includes(name)).sort();
  const solved = circuit.at('nominal', own, circuit.circuit.hasPeak ? loads : 'idle');
  return solved?.solution.problem === undefined ? solved?.solution : undefined;
}
