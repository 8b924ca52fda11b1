/** What of a circuit an element's own current takes, from a supply and back. */

import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { blocksOf } from './loops.js';
import { studyOf } from './study.js';
import { type Edge, isBare } from './topology.js';

/** What current may have to pass besides metal, tried in this order: what stands beside a way of less is no part of it. */
const PASSED: readonly (readonly string[])[] = [
  ['bypass'],
  ['resistor', 'impedance'],
  ['coil'],
  ['load', 'lamp', 'diode'],
];

export interface Way {
  /** Edges of the topology. */
  readonly edges: ReadonlySet<string>;
  readonly windings: readonly ResolvedElement[];
}

/** The least that closes a loop through the element and a winding with these contacts actuated; everything where nothing closes one. */
export function wayTo(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  element: ResolvedElement,
  closed: readonly string[] = [],
): Way {
  return studyOf(analysis).once(`way ${element.id} ${closed.join('\n')}`, () =>
    find(analysis, circuit, element, closed),
  );
}

function find(analysis: Analysis, circuit: CircuitAnalysis, element: ResolvedElement, closed: readonly string[]): Way {
  const edges = studyOf(analysis).edgesOf(circuit);
  const held = new Set(closed);
  const passed = new Set<string>();
  for (const more of [[], ...PASSED]) {
    for (const kind of more) passed.add(kind);
    const able = edges.filter(
      (edge) => edge.id === element.id || isWinding(edge) || isBare(edge, held) || passed.has(kindOf(edge) ?? ''),
    );
    const blocks = blocksOf(able);
    const own = blocks.get(element.id);
    const loop = own === undefined ? [] : able.filter(({ id }) => blocks.get(id) === own);
    if (loop.some(isWinding)) return asWay(loop);
  }
  return asWay(edges);
}

function asWay(edges: readonly Edge[]): Way {
  return {
    edges: new Set(edges.map(({ id }) => id)),
    windings: edges.filter(isWinding).map(({ element }) => element!),
  };
}

function isWinding(edge: Edge): boolean {
  return kindOf(edge) === 'winding';
}

function kindOf({ element }: Edge): string | undefined {
  return element?.element.kind;
}
