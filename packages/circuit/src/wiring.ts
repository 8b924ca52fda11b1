/**
 * What the equations of a state owe to what is joined to what, and nothing to figures: live parts, nets at zero volts, the order of elimination.
 * Found once for the roles that elements play on the nets of a state, and kept.
 */

import { IMPEDANCE } from './columns.js';
import { deadPrimaries } from './dead-primaries.js';
import { type Elimination, eliminationOf } from './elimination.js';
import type { Layout, Nets } from './layout.js';
import type { SolveProblem } from './network.js';
import { isEqual, keptOr } from './same.js';
import { UnionFind } from './union-find.js';

/** What an element is to the equations. */
export const OPEN = 0;
/** An admittance. */
export const PLAIN = 1;
/** An admittance whose nets are left to the part that is solved with pivoting. */
export const PINNED = 2;
/** A current unknown. */
export const BRANCH = 3;
/** A current unknown of a source without ohms. */
export const IDEAL = 4;
/** The current unknown of a winding that is fed by another. */
export const FED = 5;
/** The same, where it has no ohms itself. */
export const IDEAL_FED = 6;
/** An admittance whose nets are eliminated last: a load that is not linear hangs at them. */
export const LATE = 7;

export interface Wiring {
  /** Per element: its role. */
  readonly roles: Uint8Array;
  /** Set where ideal sources leave no answer; the rest is not to be used then. */
  readonly problem: SolveProblem | undefined;
  /** Per net: the galvanic part it belongs to, named by its smallest net. */
  readonly part: Int32Array;
  /** Per net: whether a source reaches it. */
  readonly live: Uint8Array;
  /** Per element: whether it carries current. */
  readonly conducting: Uint8Array;
  readonly plan: Elimination;
  /** The elements that are admittances, in the order of the plan's; `ANY` for one that holds the primary of a dead winding. */
  readonly admittances: Int32Array;
  /** The elements in live parts that are not impedances entered as admittances, nor ideal connections. */
  readonly apart: readonly number[];
  /** The elements with a current unknown; and per element the number of it, or -1. */
  readonly branches: readonly number[];
  readonly branchOf: Int32Array;
  /** Stands for columns of nets that hold nothing, once one has been asked for: never to be written to. */
  zeros: Float64Array | undefined;
}

export const ANY = -1;

/** Stands for what there is none of, so that none is made for each state. */
const NONE_LATE = new Uint8Array(0);

/** How many wirings of one set of nets are kept. */
const KEPT = 24;

/** The wiring for some roles, known or new. */
export function wiringOf(layout: Layout, nets: Nets, roles: Uint8Array): Wiring {
  return keptOr(
    nets.wirings,
    (one) => isEqual(one.roles, roles),
    KEPT,
    () => newWiring(layout, nets, roles),
  );
}

export interface Parts {
  readonly galvanic: UnionFind;
  /** Parts that windings couple count as one here. */
  readonly coupled: UnionFind;
}

/** What elements that are not open make one part. */
export function partsOf(layout: Layout, nets: Nets, roles: Uint8Array): Parts {
  const { netOf } = nets;
  const { a, b, fedA, fedB } = layout;
  const galvanic = new UnionFind(nets.count);
  for (let e = 0; e < roles.length; e++) if (roles[e] !== OPEN) galvanic.join(netOf[a[e]!]!, netOf[b[e]!]!);
  if (!layout.hasFed) return { galvanic, coupled: galvanic };
  for (const e of layout.sources) if (fedA[e]! >= 0) galvanic.join(netOf[fedA[e]!]!, netOf[fedB[e]!]!);
  const coupled = new UnionFind(nets.count);
  for (let net = 0; net < nets.count; net++) coupled.join(net, galvanic.find(net));
  for (const e of layout.sources) if (fedA[e]! >= 0) coupled.join(netOf[a[e]!]!, netOf[fedA[e]!]!);
  return { galvanic, coupled };
}

function newWiring(layout: Layout, nets: Nets, roles: Uint8Array): Wiring {
  const { netOf, count } = nets;
  const { a, b, fedA, fedB, kind, ideal } = layout;
  const { galvanic, coupled } = partsOf(layout, nets, roles);
  const part = galvanic.flatten();
  const live = liveNets(layout, nets, coupled.flatten());
  const problem = idealConflict(layout, nets, roles, live);
  const dead = deadPrimaries(layout, nets, (e) => roles[e] !== OPEN).filter((e) => live[netOf[a[e]!]!] === 1);
  const conducting = new Uint8Array(roles.length);
  const admittances = new Int32Array(roles.length + dead.length);
  const from = new Int32Array(admittances.length);
  const to = new Int32Array(admittances.length);
  const apart: number[] = [];
  const branches: number[] = [];
  const branchOf = new Int32Array(roles.length).fill(-1);
  const pinned = new Uint8Array(count);
  const late = roles.includes(LATE) ? new Uint8Array(count) : NONE_LATE;
  let entered = 0;
  for (let e = 0; e < roles.length; e++) {
    const role = roles[e]!;
    if (role === OPEN) {
      if (ideal[e] !== 1) apart.push(e);
      continue;
    }
    const x = netOf[a[e]!]!;
    const y = netOf[b[e]!]!;
    if (live[x] !== 1) continue;
    conducting[e] = 1;
    if (kind[e] !== IMPEDANCE || role === BRANCH) apart.push(e);
    const isFed = role === FED || role === IDEAL_FED;
    if (x === y && !isFed) continue;
    if (role === BRANCH || role === IDEAL || isFed) {
      branchOf[e] = branches.push(e) - 1;
      pinned[x] = 1;
      pinned[y] = 1;
      if (!isFed) continue;
      pinned[netOf[fedA[e]!]!] = 1;
      pinned[netOf[fedB[e]!]!] = 1;
      continue;
    }
    from[entered] = x;
    to[entered] = y;
    admittances[entered++] = e;
    if (role === PINNED) {
      pinned[x] = 1;
      pinned[y] = 1;
    } else if (role === LATE) {
      late[x] = 1;
      late[y] = 1;
    }
  }
  for (const e of dead) {
    from[entered] = netOf[fedA[e]!]!;
    to[entered] = netOf[fedB[e]!]!;
    admittances[entered++] = ANY;
  }
  const plan = eliminationOf({
    nets: count,
    reference: references(layout, nets, part, live),
    pinned,
    late,
    from: from.subarray(0, entered),
    to: to.subarray(0, entered),
  });
  return {
    roles,
    problem,
    part,
    live,
    conducting,
    plan,
    admittances: admittances.subarray(0, entered),
    apart,
    branches,
    branchOf,
    zeros: undefined,
  };
}

function liveNets(layout: Layout, nets: Nets, coupled: Int32Array): Uint8Array {
  const fed = new Uint8Array(nets.count);
  for (const e of layout.sources) if (layout.fedA[e]! < 0) fed[coupled[nets.netOf[layout.a[e]!]!]!] = 1;
  const live = new Uint8Array(nets.count);
  for (let net = 0; net < nets.count; net++) live[net] = fed[coupled[net]!]!;
  return live;
}

/** One net of each live part stands for zero volts: the return of its first source, else its first net. */
function references(layout: Layout, nets: Nets, part: Int32Array, live: Uint8Array): Uint8Array {
  const chosen = new Int32Array(nets.count).fill(-1);
  for (const e of layout.sources) {
    const net = nets.netOf[layout.b[e]!]!;
    if (chosen[part[net]!] === -1) chosen[part[net]!] = net;
  }
  const reference = new Uint8Array(nets.count);
  for (let net = 0; net < nets.count; net++) {
    if (chosen[part[net]!] === -1) chosen[part[net]!] = net;
    if (live[net] !== 1 || chosen[part[net]!] === net) reference[net] = 1;
  }
  return reference;
}

/** Ideal sources that leave no answer: shorted, or in a loop of their own. */
function idealConflict(layout: Layout, nets: Nets, roles: Uint8Array, live: Uint8Array): SolveProblem | undefined {
  const ideal = layout.sources.filter((e) => roles[e] === IDEAL || roles[e] === IDEAL_FED);
  if (ideal.length === 0) return undefined;
  const sets = new UnionFind(nets.count);
  const placed: number[] = [];
  for (const e of ideal) {
    const a = nets.netOf[layout.a[e]!]!;
    const b = nets.netOf[layout.b[e]!]!;
    if (live[a] !== 1) continue;
    if (a === b) return { kind: 'ideal-source-shorted', source: layout.elementAt(e).id };
    if (!sets.join(a, b)) {
      const loop = [...chainBetween(layout, nets, placed, a, b), e];
      const sources = ideal.filter((other) => loop.includes(other)).map((other) => layout.elementAt(other).id);
      return { kind: 'ideal-sources-parallel', sources };
    }
    placed.push(e);
  }
  return undefined;
}

/** The sources, out of some that form no loop, that lead from one net to another. */
function chainBetween(layout: Layout, nets: Nets, sources: readonly number[], from: number, to: number): number[] {
  const came = new Map<number, { readonly net: number; readonly e: number }>();
  const queue = [from];
  for (let head = 0; head < queue.length; head++) {
    const net = queue[head]!;
    for (const e of sources) {
      const a = nets.netOf[layout.a[e]!]!;
      const b = nets.netOf[layout.b[e]!]!;
      const next = a === net ? b : b === net ? a : -1;
      if (next < 0 || next === from || came.has(next)) continue;
      came.set(next, { net, e });
      queue.push(next);
    }
  }
  const chain: number[] = [];
  for (let step = came.get(to); step !== undefined; step = came.get(step.net)) chain.push(step.e);
  return chain;
}
