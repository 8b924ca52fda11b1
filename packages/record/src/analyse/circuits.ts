/** One circuit of the network, with what of the record is in it. */

import type { Circuit, CircuitState } from '@ohmstead/circuit';
import type { CircuitAnalysis, Condition, ResolvedElement, Solved } from '../analysis-types.js';
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
  const owners = circuit.elements.map(ownerOf);
  const named = (...kinds: readonly string[]) =>
    [...new Set(owners.filter(({ kind }) => kinds.includes(kind)).map(({ name }) => name))].sort(compare);
  const inIt = named('part', 'lead');
  const runsInIt = named('run');
  const jumpersInIt = named('jumper');
  const touched = [...inIt, ...runsInIt, ...jumpersInIt, ...circuit.points.map(partOfPoint)];
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
    held: touched.some((name) => installation.broken.has(name)),
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

/** `part/hall-chime/0` is of the part `hall-chime`. */
function ownerOf(id: string): { kind: string; name: string } {
  const [kind = '', name = ''] = id.split('/');
  return { kind, name };
}

function partOfPoint(point: string): string {
  return point.split('.', 1)[0] ?? point;
}

function reasonsUnsolved(
  circuit: Circuit,
  elements: ReadonlyMap<string, ResolvedElement>,
): readonly { part: string; words: string }[] {
  return circuit.elements.flatMap((id) => {
    const found = elements.get(id);
    if (found?.missing === undefined) return [];
    return [{ part: found.part, words: `no figures for its circuit: ${found.missing} are not stated` }];
  });
}
