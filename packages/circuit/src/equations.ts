/** The equations of one state with a given set of loads on: live parts found, references chosen, admittances and current unknowns entered. */

import { BYPASS, CURRENT, DIODE, IMPEDANCE, POWER, SOURCE } from './columns.js';
import { deadPrimaries } from './dead-primaries.js';
import { DIODE_LEAK_SIEMENS, DIODE_OHMS, DIODE_VOLTS } from './diodes.js';
import type { Layout, Nets } from './layout.js';
import { byName } from './names.js';
import type { SolveProblem, Source } from './network.js';
import { type Branch, NodalSystem } from './nodal.js';
import { polar } from './phasor.js';
import { MANY_PORTS } from './ports.js';
import { UnionFind } from './union-find.js';

/** A source with less ohms gets a current unknown: its current would drown in the rounding of its ends' volts. */
export const TINY_OHMS = 1e-5;

/** Across a primary in which nothing flows any admittance says that it has no volts, and carries nothing itself. */
const ANY_SIEMENS = 1;

/** Stands for columns without figures: to make one takes longer than to solve for one net. */
const NOTHING = new Float64Array(0);

function columnOf(figures: readonly number[]): Float64Array {
  return figures.length === 0 ? NOTHING : new Float64Array(figures);
}

/** Which loads and bypasses conduct, and with how many siemens each load enters the linear part. */
export interface Conduction {
  /** Per element; loads, bypasses and diodes only. */
  readonly on: Uint8Array;
  /** Per element: siemens standing in for a load. */
  readonly siemens: Float64Array;
  /** Every impedance as its size in ohms, and what is steady kept apart from what alternates. */
  readonly overCycle?: boolean;
}

export interface Equations {
  /** Per net: the galvanic part it belongs to, named by its smallest net. */
  readonly part: Int32Array;
  /** Per net: whether a source reaches it. */
  readonly live: Uint8Array;
  readonly system: NodalSystem;
  /** Per element: the number of its current unknown, or -1. */
  readonly branchOf: Int32Array;
  readonly branches: number;
  /** Right-hand side with the sources alone. */
  readonly injectedRe: Float64Array;
  readonly injectedIm: Float64Array;
  readonly emfRe: Float64Array;
  readonly emfIm: Float64Array;
  /** What is steady over a cycle, where that is kept apart; else none of it. */
  readonly steady: Float64Array;
  readonly steadyEmf: Float64Array;
  /** Per element: whether it carries current, and the reactance it has here (none in a DC part). */
  readonly conducting: Uint8Array;
  readonly reactance: Float64Array;
}

/** Whether an element carries current at all in this state. */
function conducts(layout: Layout, e: number, conduction: Conduction, direct: Uint8Array | undefined): boolean {
  switch (layout.kind[e]) {
    case IMPEDANCE:
      return layout.ideal[e] === 0 && !(layout.reactance[e]! < 0 && direct?.[e] === 1);
    case SOURCE:
    case DIODE:
      return true;
    case POWER:
    case CURRENT:
      return conduction.siemens[e]! > 0;
    case BYPASS:
      return conduction.on[e] === 1;
    default:
      return false;
  }
}

interface Parts {
  readonly galvanic: UnionFind;
  /** Parts that windings couple count as one here. */
  readonly coupled: UnionFind;
}

function partsOf(layout: Layout, nets: Nets, conduction: Conduction, direct: Uint8Array | undefined): Parts {
  const { netOf } = nets;
  const { a, b, fedA, fedB } = layout;
  const galvanic = new UnionFind(nets.count);
  for (let e = 0; e < a.length; e++) {
    if (!conducts(layout, e, conduction, direct)) continue;
    galvanic.join(netOf[a[e]!]!, netOf[b[e]!]!);
    if (fedA[e]! >= 0) galvanic.join(netOf[fedA[e]!]!, netOf[fedB[e]!]!);
  }
  if (!layout.hasFed) return { galvanic, coupled: galvanic };
  const coupled = new UnionFind(nets.count);
  for (let net = 0; net < nets.count; net++) coupled.join(net, galvanic.find(net));
  for (const e of layout.sources) if (fedA[e]! >= 0) coupled.join(netOf[a[e]!]!, netOf[fedA[e]!]!);
  return { galvanic, coupled };
}

/** Per element, whether it is in a DC part; a problem where one part has two systems. */
function directParts(layout: Layout, nets: Nets, conduction: Conduction): Uint8Array | SolveProblem {
  const { coupled } = partsOf(layout, nets, conduction, undefined);
  const systemOf = new Map<number, 'AC' | 'DC'>();
  const frequencyOf = new Map<number, number>();
  const clashing = new Set<number>();
  for (const e of layout.sources) {
    const { system, frequency } = layout.elements[e] as Source;
    const root = coupled.find(nets.netOf[layout.a[e]!]!);
    if ((systemOf.get(root) ?? system) !== system) clashing.add(root);
    systemOf.set(root, system);
    if (system === 'DC' || frequency === 0) continue;
    if ((frequencyOf.get(root) ?? frequency) !== frequency) clashing.add(root);
    frequencyOf.set(root, frequency);
  }
  const [worst] = [...clashing].sort((x, y) => x - y);
  if (worst !== undefined) {
    const mixed = layout.sources.filter((e) => coupled.find(nets.netOf[layout.a[e]!]!) === worst);
    return { kind: 'mixed-systems', sources: mixed.map((e) => layout.elements[e]!.id) };
  }
  return Uint8Array.from(layout.elements, (_, e) =>
    systemOf.get(coupled.find(nets.netOf[layout.a[e]!]!)) === 'DC' ? 1 : 0,
  );
}

function isIdealSource(layout: Layout, e: number): boolean {
  return layout.ohms[e] === 0 && layout.reactance[e] === 0;
}

/** Ideal sources that leave no answer: shorted, or in a loop of their own. */
function idealConflict(layout: Layout, nets: Nets, live: Uint8Array): SolveProblem | undefined {
  const sets = new UnionFind(nets.count);
  const placed: number[] = [];
  for (const e of layout.sources) {
    if (!isIdealSource(layout, e)) continue;
    const a = nets.netOf[layout.a[e]!]!;
    const b = nets.netOf[layout.b[e]!]!;
    if (live[a] !== 1) continue;
    if (a === b) return { kind: 'ideal-source-shorted', source: layout.elements[e]!.id };
    if (!sets.join(a, b)) {
      const loop = [...chainBetween(layout, nets, placed, a, b), e].sort((x, y) => x - y);
      return { kind: 'ideal-sources-parallel', sources: loop.map((other) => layout.elements[other]!.id) };
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

export function buildEquations(layout: Layout, nets: Nets, conduction: Conduction): Equations | SolveProblem {
  const direct = layout.circuit.system === 'mixed' ? directParts(layout, nets, conduction) : undefined;
  if (direct !== undefined && 'kind' in direct) return direct;
  const isDirect = layout.circuit.system === 'DC';
  const dc = direct ?? (isDirect ? new Uint8Array(layout.elements.length).fill(1) : undefined);
  const { overCycle = false } = conduction;
  const { galvanic, coupled } = partsOf(layout, nets, conduction, dc);
  const live = liveNets(layout, nets, coupled);
  const conflict = idealConflict(layout, nets, live);
  if (conflict !== undefined) return conflict;

  const part = new Int32Array(nets.count);
  for (let net = 0; net < nets.count; net++) part[net] = galvanic.find(net);
  const system = new NodalSystem(
    nets.count,
    references(layout, nets, part, live),
    layout.eliminations,
    layout.elements.length,
  );
  const branchOf = new Int32Array(layout.elements.length).fill(-1);
  const emfRe: number[] = [];
  const emfIm: number[] = [];
  const steadyEmf: number[] = [];
  const steady = overCycle ? new Float64Array(nets.count) : NOTHING;
  const { tiny, fewCapacitors } = layout.pivoting;
  const conducting = new Uint8Array(layout.elements.length);
  const reactance = new Float64Array(layout.elements.length);
  const injectedRe = new Float64Array(nets.count);
  const injectedIm = new Float64Array(nets.count);

  const { kind, ohms } = layout;
  const { netOf } = nets;
  for (let e = 0; e < kind.length; e++) {
    const a = netOf[layout.a[e]!]!;
    const b = netOf[layout.b[e]!]!;
    if (live[a] !== 1 || !conducts(layout, e, conduction, dc)) continue;
    conducting[e] = 1;
    const reactive = dc?.[e] === 1 ? 0 : layout.reactance[e]!;
    const zRe = overCycle ? Math.sqrt(ohms[e]! * ohms[e]! + reactive * reactive) : ohms[e]!;
    const zIm = overCycle ? 0 : reactive;
    reactance[e] = zIm;
    const size = zRe + Math.abs(zIm);
    if (kind[e] === POWER || kind[e] === CURRENT) {
      if (a === b) continue;
      system.connect(a, b, conduction.siemens[e]!, 0);
      if (layout.loads.length > MANY_PORTS && !overCycle) {
        system.putOff(a);
        system.putOff(b);
      }
    } else if (kind[e] === DIODE) {
      if (a === b) continue;
      const conductsNow = conduction.on[e] === 1;
      system.connect(a, b, DIODE_LEAK_SIEMENS + (conductsNow ? 1 / DIODE_OHMS : 0), 0);
      const through = conductsNow ? DIODE_VOLTS / DIODE_OHMS : 0;
      (overCycle ? steady : injectedRe)[a]! += through;
      (overCycle ? steady : injectedRe)[b]! -= through;
    } else if (kind[e] !== SOURCE) {
      if (a === b) continue;
      if (size < tiny) {
        branchOf[e] = system.addBranch(plainBranch(a, b, zRe, zIm));
        emfRe.push(0);
        emfIm.push(0);
        steadyEmf.push(0);
      } else connectImpedance(system, a, b, zRe, zIm, fewCapacitors);
    }
    if (kind[e] !== SOURCE) continue;
    const element = layout.elements[e] as Source;
    if (element.fedBy !== undefined) {
      const turn = polar(element.fedBy.ratio, element.phase);
      const fa = nets.netOf[layout.fedA[e]!]!;
      const fb = nets.netOf[layout.fedB[e]!]!;
      branchOf[e] = system.addBranch(fedBranch(a, b, fa, fb, turn.re, turn.im, zRe, zIm));
      emfRe.push(0);
      emfIm.push(0);
      steadyEmf.push(0);
    } else {
      const isSteady = overCycle && element.system === 'DC';
      const emf = polar(element.volts, element.system === 'DC' ? 0 : element.phase);
      if (a === b) continue;
      if (size < TINY_OHMS) {
        branchOf[e] = system.addBranch(plainBranch(a, b, zRe, zIm));
        emfRe.push(isSteady ? 0 : emf.re);
        emfIm.push(isSteady ? 0 : emf.im);
        steadyEmf.push(isSteady ? emf.re : 0);
      } else {
        connectImpedance(system, a, b, zRe, zIm, fewCapacitors);
        const square = zRe * zRe + zIm * zIm;
        const re = (emf.re * zRe + emf.im * zIm) / square;
        const im = (emf.im * zRe - emf.re * zIm) / square;
        (isSteady ? steady : injectedRe)[a]! += re;
        injectedIm[a]! += im;
        (isSteady ? steady : injectedRe)[b]! -= re;
        injectedIm[b]! -= im;
      }
    }
  }
  for (const e of deadPrimaries(layout, nets, (other) => conducts(layout, other, conduction, dc))) {
    if (live[nets.netOf[layout.a[e]!]!] !== 1) continue;
    system.connect(nets.netOf[layout.fedA[e]!]!, nets.netOf[layout.fedB[e]!]!, ANY_SIEMENS, 0);
  }
  const stuck = system.factor();
  if (stuck >= 0) {
    const points = layout.points.filter((_, point) => part[nets.netOf[point]!] === part[stuck]);
    return { kind: 'singular', points: points.sort(byName) };
  }
  return {
    part,
    live,
    system,
    branchOf,
    branches: emfRe.length,
    injectedRe,
    injectedIm,
    emfRe: columnOf(emfRe),
    emfIm: columnOf(emfIm),
    steady,
    steadyEmf: columnOf(steadyEmf),
    conducting,
    reactance,
  };
}

function liveNets(layout: Layout, nets: Nets, coupled: UnionFind): Uint8Array {
  const fed = new Uint8Array(nets.count);
  for (const e of layout.sources) if (layout.fedA[e]! < 0) fed[coupled.find(nets.netOf[layout.a[e]!]!)] = 1;
  const live = new Uint8Array(nets.count);
  for (let net = 0; net < nets.count; net++) live[net] = fed[coupled.find(net)]!;
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

function connectImpedance(
  system: NodalSystem,
  a: number,
  b: number,
  zRe: number,
  zIm: number,
  pinCapacitors: boolean,
): void {
  const square = zRe * zRe + zIm * zIm;
  system.connect(a, b, zRe / square, -zIm / square);
  if (zIm < 0 && pinCapacitors) {
    system.pin(a);
    system.pin(b);
  }
}

function plainBranch(a: number, b: number, zRe: number, zIm: number): Branch {
  const ends = [1, -1];
  return { nets: [a, b], rowRe: ends, rowIm: [0, 0], columnRe: ends, columnIm: [0, 0], zRe, zIm };
}

/** V(a,b) - ratio x V(fa,fb) - z i = 0; the primary carries -conj(ratio) x i, so that it takes in what the winding gives. */
function fedBranch(
  a: number,
  b: number,
  fa: number,
  fb: number,
  ratioRe: number,
  ratioIm: number,
  zRe: number,
  zIm: number,
): Branch {
  return {
    nets: [a, b, fa, fb],
    rowRe: [1, -1, -ratioRe, ratioRe],
    rowIm: [0, 0, -ratioIm, ratioIm],
    columnRe: [1, -1, -ratioRe, ratioRe],
    columnIm: [0, 0, ratioIm, -ratioIm],
    zRe,
    zIm,
  };
}
