/** An element's solved figures as plain numbers. */

import type { CircuitState, ElementFigures, Phasor, SolveProblem } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import type { SolvedFigures, StateKey } from '../budget-types.js';

export type BudgetFigures = SolvedFigures & { readonly on: boolean };

export function magnitude({ re, im }: Phasor): number {
  return Math.sqrt(re * re + im * im);
}

export function stateKey({ momentary }: Pick<Analysis, 'momentary'>, { closed, loads }: CircuitState): StateKey {
  const maintained = closed.filter((contact) => !momentary.has(contact));
  return { closed, ...(maintained.length === 0 ? {} : { maintained }), loads };
}

/** One element in one state, or why there is nothing to say of it. */
export function figuresIn(analysis: Analysis, solved: Solved, element: ResolvedElement): BudgetFigures {
  const key = stateKey(analysis, solved.state);
  const { problem } = solved.solution;
  if (problem !== undefined) return without(key, problemWords(problem));
  const figures = solved.solution.element(element.id);
  if (figures === undefined) return without(key, 'not part of a circuit');
  const volts = magnitude(figures.volts);
  const amps = figures.amps === null ? null : magnitude(figures.amps);
  const va = amps === null ? null : volts * amps;
  return { ...key, volts, amps, va, watts: wattsOf(element, figures, va), on: figures.on };
}

/** Of a circuit that has no figures: the reason, once for each state. */
export function figuresWithheld(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  reason: string,
): readonly BudgetFigures[] {
  return circuit.states.map((state) => without(stateKey(analysis, state), reason));
}

/** Why a circuit is shown without figures at all. */
export function withheldBecause(circuit: CircuitAnalysis): string | undefined {
  if (circuit.held) return 'a statement about this circuit could not be read';
  const [first] = circuit.unsolved;
  return first === undefined ? undefined : `${first.part}: ${first.words}`;
}

function without(key: StateKey, reason: string): BudgetFigures {
  return { ...key, volts: null, amps: null, va: null, watts: null, reason, on: false };
}

/** Watts taken (of a winding: given). A rectifier's power factor does not turn its amps, so it counts here alone. */
function wattsOf({ element, powerFactor }: ResolvedElement, figures: ElementFigures, va: number | null): number | null {
  if (figures.amps === null || va === null) return null;
  if (element.kind === 'load') return va * (powerFactor ?? 1);
  const taken = figures.volts.re * figures.amps.re + figures.volts.im * figures.amps.im;
  return element.kind === 'winding' ? noMinusZero(-taken) : taken;
}

function noMinusZero(value: number): number {
  return value === 0 ? 0 : value;
}

/** A problem in a technician's words. */
export function problemWords(problem: SolveProblem): string {
  switch (problem.kind) {
    case 'ideal-source-shorted':
      return 'the supply is shorted';
    case 'ideal-sources-parallel':
      return 'two supplies are joined and contradict each other';
    case 'collapses':
      return 'what is connected asks for more than supply and wire can give';
    case 'mixed-systems':
      return 'AC and DC, or two frequencies, meet in this circuit';
    case 'bad-figure':
      return 'a stated figure cannot be used';
    case 'singular':
      return 'the volts cannot be told from what is recorded';
    case 'self-check-failed':
      return 'the computed figures failed their own check: a fault of this program';
  }
}
