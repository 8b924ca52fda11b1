/** An element's figures over the states of its circuit. */

import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import type { Extreme } from '../budget-types.js';
import { type BudgetFigures, figuresIn, figuresWithheld, magnitude, stateKey, withheldBecause } from './figures.js';

export type { BudgetFigures };

const CORNERS = ['nominal', 'low', 'high'] as const;

/** Share of its greatest volts from which a coil counts as driven, not as having a trickle pass through it. */
const DRIVEN_SHARE = 0.5;

/** All states at nominal; nothing for an element that is in no circuit. */
export function figuresOfElement(analysis: Analysis, element: ResolvedElement): readonly BudgetFigures[] {
  const circuit = analysis.circuitOfElement(element.id);
  if (circuit === undefined) return [];
  const reason = withheldBecause(circuit);
  if (reason !== undefined) return figuresWithheld(analysis, circuit, reason);
  return circuit.solved('nominal').map((solved) => figuresIn(analysis, solved, element));
}

interface Extremes {
  readonly least: Extreme | null;
  readonly most: Extreme | null;
  readonly leastWorking: Extreme | null;
}

/** Least and most volts over all states at nominal and at both corners of mains and wire; of equals the first. */
export function extremesOf(analysis: Analysis, element: ResolvedElement): Extremes {
  const circuit = analysis.circuitOfElement(element.id);
  if (circuit === undefined || withheldBecause(circuit) !== undefined) {
    return { least: null, most: null, leastWorking: null };
  }
  const seen = everySeen(analysis, circuit, element);
  const greatest = Math.max(0, ...seen.filter(({ corner }) => corner === 'nominal').map(({ volts }) => volts));
  const working = seen.filter(({ volts, on }) => on && volts > 0 && volts >= workingFrom(element, greatest));
  return {
    least: bare(firstBy(seen, (x, y) => x.volts < y.volts)),
    most: bare(firstBy(seen, (x, y) => x.volts > y.volts)),
    leastWorking: bare(firstBy(working, (x, y) => x.volts < y.volts)),
  };
}

type Seen = Extreme & { readonly on: boolean };

function everySeen(analysis: Analysis, circuit: CircuitAnalysis, element: ResolvedElement): readonly Seen[] {
  return CORNERS.flatMap((corner) =>
    circuit.solved(corner).flatMap((solved): Seen[] => {
      const figures = solved.solution.problem === undefined ? solved.solution.element(element.id) : undefined;
      if (figures === undefined) return [];
      return [{ ...stateKey(analysis, solved.state), corner, volts: magnitude(figures.volts), on: figures.on }];
    }),
  );
}

function workingFrom({ element }: ResolvedElement, greatest: number): number {
  return element.kind === 'coil' || element.kind === 'lamp' ? greatest * DRIVEN_SHARE : 0;
}

function firstBy<T>(items: readonly T[], isBetter: (x: T, than: T) => boolean): T | undefined {
  let best: T | undefined;
  for (const item of items) if (best === undefined || isBetter(item, best)) best = item;
  return best;
}

function bare(seen: Seen | undefined): Extreme | null {
  if (seen === undefined) return null;
  const { on: _, ...extreme } = seen;
  return extreme;
}

/** The terminal's name without the part's. */
export function terminalOf(element: ResolvedElement, end: 'a' | 'b'): string {
  return element[end].slice(element.part.length + 1);
}
