/** One circuit of the network, with what of the record is in it. */

import type { Circuit, CircuitState } from '@ohmstead/circuit';
import {
  type CircuitAnalysis,
  type Condition,
  partNameOf,
  type ResolvedElement,
  type Solved,
} from '../analysis-types.js';
import type { Installation } from '../model.js';
import { compare } from '../resolve/parts.js';
import type { ResolvedInstallation } from './build-network.js';
import { lazily } from './lazily.js';
import type { SolutionStore } from './solutions.js';

export function describeCircuit(
  circuit: Circuit,
  states: readonly CircuitState[],
  installation: Installation,
  { parts, runs }: ResolvedInstallation,
  elements: ReadonlyMap<string, ResolvedElement>,
  store: SolutionStore,
): CircuitAnalysis {
  const { part: inIt, run: runsInIt, jumper: jumpersInIt } = ownersOf(circuit);
  const unsolved = reasonsUnsolved(circuit, elements);
  const solved = lazily((condition: Condition): readonly Solved[] =>
    unsolved.length > 0 ? [] : store.solve(circuit, states, condition),
  );
  return {
    circuit,
    supplies: inIt.filter((name) => parts.get(name)?.kind === 'supply'),
    devices: inIt.filter((name) => parts.get(name)?.kind === 'device'),
    runs: runsInIt,
    jumpers: jumpersInIt,
    held: installation.broken.size > 0 && touches(circuit, [...inIt, ...runsInIt, ...jumpersInIt], installation.broken),
    unmeasuredRuns: runsInIt.filter((name) => runs.get(name)?.conductors.every(({ ohms }) => ohms === undefined)),
    unsolved,
    states,
    solved,
    at: (condition, closed, loads) => {
      const asked = [...closed].sort(compare).join('\n');
      const alike = solved(condition).filter(({ state }) => state.closed.join('\n') === asked);
      return alike.find(({ state }) => state.loads === loads) ?? alike.find(() => !circuit.hasPeak);
    },
  };
}

/** Names of the parts, runs and jumpers that its elements are of, sorted: `part/hall-chime/0` and `lead/hall-chime/1` are of `hall-chime`. */
function ownersOf({ elements }: Circuit): Readonly<Record<'part' | 'run' | 'jumper', readonly string[]>> {
  const owners = { part: new Set<string>(), run: new Set<string>(), jumper: new Set<string>() };
  for (const id of elements) {
    const start = id.indexOf('/') + 1;
    const end = id.indexOf('/', start);
    const kind = id.slice(0, start - 1);
    const of = kind === 'run' || kind === 'jumper' ? owners[kind] : owners.part;
    of.add(end < 0 ? id.slice(start) : id.slice(start, end));
  }
  const sorted = (names: ReadonlySet<string>) => [...names].sort(compare);
  return { part: sorted(owners.part), run: sorted(owners.run), jumper: sorted(owners.jumper) };
}

function touches({ points }: Circuit, names: readonly string[], broken: ReadonlySet<string>): boolean {
  return names.some((name) => broken.has(name)) || points.some((point) => broken.has(partNameOf(point)));
}

function reasonsUnsolved(
  circuit: Circuit,
  elements: ReadonlyMap<string, ResolvedElement>,
): readonly { part: string; words: string }[] {
  return circuit.elements.flatMap((id) => {
    const found = elements.get(id);
    if (found?.missing === undefined) return [];
    return [{ part: found.part, words: `its circuit has no figures, since ${found.missing} not stated` }];
  });
}
