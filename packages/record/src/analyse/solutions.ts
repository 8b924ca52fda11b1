/** Solutions by what they are solutions of, so that an edit elsewhere does not cause them to be worked out again. */

import {
  type Circuit,
  type CircuitElement,
  type CircuitState,
  type Network,
  type PreparedNetwork,
  prepare,
} from '@ohmstead/circuit';
import type { Analysis, Condition, Solved } from '../analysis-types.js';
import { Beside } from './beside.js';
import { lazily } from './lazily.js';
import { isSame } from './same.js';

/** A circuit as it was solved. */
interface Kept {
  readonly condition: Condition;
  readonly elements: readonly CircuitElement[];
  readonly states: readonly CircuitState[];
  readonly prepared: PreparedNetwork;
  readonly solved: readonly Solved[];
}

/** By the id of the circuit. */
export type KeptSolutions = ReadonlyMap<string, readonly Kept[]>;

/** Solves circuits, once each condition; what an earlier store has solved of the same elements and states is taken from it. */
export class SolutionStore {
  readonly kept = new Map<string, Kept[]>();
  readonly #elementsById: (condition: Condition) => ReadonlyMap<string, CircuitElement>;
  readonly #earlier: KeptSolutions;

  constructor(network: (condition: Condition) => Network, earlier: KeptSolutions) {
    this.#elementsById = lazily(
      (condition) => new Map(network(condition).elements.map((element) => [element.id, element])),
    );
    this.#earlier = earlier;
  }

  solve(circuit: Circuit, states: readonly CircuitState[], condition: Condition): readonly Solved[] {
    const byId = this.#elementsById(condition);
    const elements: CircuitElement[] = [];
    for (const id of circuit.elements) {
      const element = byId.get(id);
      if (element !== undefined) elements.push(element);
    }
    const own = this.kept.get(circuit.id) ?? [];
    const earlier = this.#earlier.get(circuit.id) ?? [];
    const isAsAsked = (one: Kept): boolean =>
      one.condition === condition && isSame(one.elements, elements) && isSame(one.states, states);
    const known = own.find(isAsAsked);
    if (known !== undefined) return known.solved;
    const like = own[0] ?? earlier[0];
    const kept = earlier.find(isAsAsked) ?? solveAlone(circuit, elements, states, condition, like?.prepared);
    this.kept.set(circuit.id, [...own, kept]);
    return kept.solved;
  }
}

/**
 * A circuit is prepared by itself: what an edit left as it was costs nothing at any condition. `like` is the same circuit at another condition, or
 * before the edit: where no more than figures differ, what is joined to what is taken from it.
 */
function solveAlone(
  circuit: Circuit,
  elements: readonly CircuitElement[],
  states: readonly CircuitState[],
  condition: Condition,
  like: PreparedNetwork | undefined,
): Kept {
  const prepared = prepare({ elements }, like);
  const solved = states.map((state) => ({ state, condition, solution: prepared.solve(circuit, state) }));
  return { condition, elements, states, prepared, solved };
}

const stores = new Beside<Analysis, KeptSolutions>();

export function keepSolutions(analysis: Analysis, store: SolutionStore): void {
  stores.set(analysis, store.kept);
}

/** What has been solved for analyses of clusters. */
export function solutionsKeptFor(analyses: Iterable<Analysis>): KeptSolutions {
  const all = new Map<string, readonly Kept[]>();
  for (const analysis of analyses) {
    for (const [id, kept] of stores.get(analysis) ?? []) all.set(id, [...(all.get(id) ?? []), ...kept]);
  }
  return all;
}
