/** Supplies in the budget: what each winding gives in each state, and its worst. */

import type { Analysis, ResolvedElement, ResolvedPart } from '../analysis-types.js';
import type { BudgetSupply, BudgetWinding, StateKey } from '../budget-types.js';
import { compare } from '../resolve/parts.js';
import { type BudgetFigures, figuresOfElement, terminalOf } from './elements.js';

type Worst = StateKey & { readonly va: number; readonly share: number | null };

/** One supply by itself. */
export function budgetSupply(analysis: Analysis, part: ResolvedPart): BudgetSupply {
  const circuits = analysis.circuitsOfPart(part.name);
  const feeds = new Set(circuits.flatMap((circuit) => circuit.devices));
  return {
    name: part.name,
    type: part.type?.name ?? null,
    place: part.place?.name ?? null,
    windings: part.elements
      .filter(({ element }) => element.kind === 'winding')
      .map((winding) => budgetWinding(analysis, winding)),
    feeds: [...feeds].sort(compare),
  };
}

function budgetWinding(analysis: Analysis, winding: ResolvedElement): BudgetWinding {
  const solved = figuresOfElement(analysis, winding);
  const lasting = solved.filter(({ closed }) => !closed.some((contact) => analysis.momentary.has(contact)));
  return {
    from: terminalOf(winding, 'a'),
    to: terminalOf(winding, 'b'),
    ratedVolts: winding.ratedVolts ?? null,
    ratedVA: winding.ratedVoltAmperes ?? null,
    noLoadVolts: winding.noLoadVolts ?? null,
    ohms: winding.ohms ?? null,
    assumed: [...new Set(winding.assumed.map(({ what }) => what))].sort(compare),
    solved: solved.map(({ on: _, ...figures }) => figures),
    worst: worstOf(solved, winding.ratedAmps),
    lasting: worstOf(lasting, winding.ratedAmps),
  };
}

/** The state with the greatest amps; the first of several alike. */
function worstOf(solved: readonly BudgetFigures[], ratedAmps: number | undefined): Worst | null {
  let worst: Worst | null = null;
  let most = -1;
  for (const { closed, maintained, loads, amps, va } of solved) {
    if (amps === null || va === null || amps <= most) continue;
    most = amps;
    const kept = maintained === undefined ? {} : { maintained };
    worst = { closed, ...kept, loads, va, share: ratedAmps === undefined ? null : amps / ratedAmps };
  }
  return worst;
}
