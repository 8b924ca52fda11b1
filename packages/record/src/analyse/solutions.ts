/** Solutions by what they are solutions of, so that an edit elsewhere does not cause them to be worked out again. */

import type { Circuit, CircuitState, Network, PreparedNetwork } from '@ohmstead/circuit';
import type { Analysis, Condition, Solved } from '../analysis-types.js';

export type KeptSolutions = ReadonlyMap<string, readonly Solved[]>;

/** Solves circuits, once each condition; what an earlier store has solved of the same elements and states is taken from it. */
export class SolutionStore {
  readonly kept = new Map<string, readonly Solved[]>();
  readonly #network: (condition: Condition) => Network;
  readonly #prepared: (condition: Condition) => PreparedNetwork;
  readonly #earlier: KeptSolutions;
  readonly #written = new Map<Condition, ReadonlyMap<string, string>>();

  constructor(
    network: (condition: Condition) => Network,
    prepared: (condition: Condition) => PreparedNetwork,
    earlier: KeptSolutions,
  ) {
    this.#network = network;
    this.#prepared = prepared;
    this.#earlier = earlier;
  }

  solve(circuit: Circuit, states: readonly CircuitState[], condition: Condition): readonly Solved[] {
    const key = this.#keyOf(circuit, states, condition);
    const known = this.kept.get(key) ?? this.#earlier.get(key);
    const solved =
      known ?? states.map((state) => ({ state, condition, solution: this.#prepared(condition).solve(circuit, state) }));
    this.kept.set(key, solved);
    return solved;
  }

  #keyOf(circuit: Circuit, states: readonly CircuitState[], condition: Condition): string {
    const written = this.#elementsWritten(condition);
    const elements = circuit.elements.map((id) => written.get(id) ?? id);
    return [condition, JSON.stringify(states), ...elements].join('\n');
  }

  #elementsWritten(condition: Condition): ReadonlyMap<string, string> {
    const known = this.#written.get(condition);
    if (known !== undefined) return known;
    const written = new Map(this.#network(condition).elements.map((element) => [element.id, JSON.stringify(element)]));
    this.#written.set(condition, written);
    return written;
  }
}

const stores = new WeakMap<Analysis, KeptSolutions>();

export function keepSolutions(analysis: Analysis, store: SolutionStore): void {
  stores.set(analysis, store.kept);
}

export function solutionsKeptFor(analysis: Analysis | undefined): KeptSolutions {
  return (analysis === undefined ? undefined : stores.get(analysis)) ?? new Map();
}
