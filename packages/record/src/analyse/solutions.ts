/** Solutions by what they are solutions of, so that an edit elsewhere does not cause them to be worked out again. */

import { type Circuit, type CircuitElement, type CircuitState, type Network, prepare } from '@ohmstead/circuit';
import type { Analysis, Condition, Solved } from '../analysis-types.js';
import { lazily } from './lazily.js';

export type KeptSolutions = ReadonlyMap<string, readonly Solved[]>;

/** Solves circuits, once each condition; what an earlier store has solved of the same elements and states is taken from it. */
export class SolutionStore {
  readonly kept = new Map<string, readonly Solved[]>();
  readonly #elementsById: (condition: Condition) => ReadonlyMap<string, CircuitElement>;
  readonly #earlier: KeptSolutions;

  constructor(network: (condition: Condition) => Network, earlier: KeptSolutions) {
    this.#elementsById = lazily(
      (condition) => new Map(network(condition).elements.map((element) => [element.id, element])),
    );
    this.#earlier = earlier;
  }

  solve(circuit: Circuit, states: readonly CircuitState[], condition: Condition): readonly Solved[] {
    const elements = circuit.elements.flatMap((id) => this.#elementsById(condition).get(id) ?? []);
    const key = [condition, JSON.stringify(states), JSON.stringify(elements)].join('\n');
    const solved = this.kept.get(key) ?? this.#earlier.get(key) ?? solveAlone(circuit, elements, states, condition);
    this.kept.set(key, solved);
    return solved;
  }
}

/** A circuit is prepared by itself: what an edit left as it was costs nothing at any condition. */
function solveAlone(
  circuit: Circuit,
  elements: readonly CircuitElement[],
  states: readonly CircuitState[],
  condition: Condition,
): readonly Solved[] {
  const prepared = prepare({ elements });
  return states.map((state) => ({ state, condition, solution: prepared.solve(circuit, state) }));
}

const stores = new WeakMap<Analysis, KeptSolutions>();

export function keepSolutions(analysis: Analysis, store: SolutionStore): void {
  stores.set(analysis, store.kept);
}

/** What has been solved for analyses of clusters. */
export function solutionsKeptFor(analyses: Iterable<Analysis>): KeptSolutions {
  return new Map([...analyses].flatMap((analysis) => [...(stores.get(analysis) ?? [])]));
}
