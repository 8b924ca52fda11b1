/** One circuit solved in one state, checked before it is handed out. */

import { BALANCE_WITHIN, figuresOf } from './figures.js';
import { furtherStatesOf } from './further-states.js';
import { type Layout, netsOf } from './layout.js';
import type { CircuitState, Phasor, ShortedSource, Solution, SolveProblem } from './network.js';
import { ZERO } from './phasor.js';
import { settle } from './settle.js';
import { shortedSources } from './shorted.js';

/** Why figures of a circuit with half waves in it are no more than an approximation. */
const OVER_A_CYCLE =
  'a diode cuts the waves: worked out point by point over a cycle, RMS, with the impedance of coils as plain ohms';

/** A solution without figures. */
export function unsolved(state: CircuitState, shorted: readonly ShortedSource[], problem: SolveProblem): Solution {
  return {
    state,
    problem,
    shorted,
    droppedOut: [],
    cycling: [],
    element: () => undefined,
    between: () => null,
  };
}

/** A circuit of fewer elements than this is solved in full some times first, and always once a further state has been asked for in full. */
const LARGE_FROM = 400;
const IN_FULL_FIRST = 3;

/** Solves a circuit in a state: the first one in full, further ones of most circuits as far as they are asked for. */
export function solveLayout(layout: Layout, state: CircuitState): Solution {
  const { shared } = layout;
  const isLarge = layout.kind.length >= LARGE_FROM;
  if (layout.problem === undefined && shared.inFull >= (isLarge ? 1 : IN_FULL_FIRST)) {
    shared.further ??= furtherStatesOf(layout) ?? 'none';
    if (shared.further !== 'none' && (isLarge || !shared.further.wasAskedInFull)) {
      const further = shared.further.solve(state, solveInFull);
      if (further !== undefined) return further;
    }
  }
  shared.inFull++;
  return solveInFull(layout, state);
}

function solveInFull(layout: Layout, state: CircuitState): Solution {
  const nets = netsOf(layout, state);
  const shorted = shortedSources(layout, nets);
  if (layout.problem !== undefined) return unsolved(state, shorted, layout.problem);
  const settled = settle(layout, nets, state.loads);
  if ('kind' in settled) return unsolved(state, shorted, settled);
  const figures = figuresOf(layout, nets, settled, state.loads);
  const { residual } = figures;
  if (!(residual <= BALANCE_WITHIN)) return unsolved(state, shorted, { kind: 'self-check-failed', residual });

  const { equations, cycle } = settled.operating;
  const idsOf = (indices: readonly number[]): readonly string[] => indices.map((e) => layout.elementAt(e).id);
  return {
    state,
    problem: undefined,
    ...(cycle === undefined ? {} : { approximate: OVER_A_CYCLE }),
    shorted,
    droppedOut: idsOf(settled.droppedOut),
    cycling: idsOf(settled.cycling),
    element(id) {
      const index = layout.numberOf(id);
      return index === undefined ? undefined : figures.figuresOf(index);
    },
    between(a, b): Phasor | null {
      const pa = layout.pointOf(a);
      const pb = layout.pointOf(b);
      if (pa === undefined || pb === undefined) return null;
      const na = nets.netOf[pa]!;
      const nb = nets.netOf[pb]!;
      if (na === nb) return ZERO;
      if (equations.part[na] !== equations.part[nb]) return null;
      return figures.between(na, nb);
    },
  };
}
