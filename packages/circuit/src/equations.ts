/** The equations of one state with a given set of loads on: figures entered where its wiring says. */

import { BYPASS, CURRENT, DIODE, IMPEDANCE, POWER, SOURCE } from './columns.js';
import { DIODE_LEAK_SIEMENS, DIODE_OHMS, DIODE_VOLTS } from './diodes.js';
import { NOWHERE } from './elimination.js';
import { emfOf, type Layout, type Nets } from './layout.js';
import { byName } from './names.js';
import type { SolveProblem, Source } from './network.js';
import { type Branch, NodalSystem } from './nodal.js';
import { polar } from './phasor.js';
import { isEqual } from './same.js';
import { MANY_PORTS } from './ports.js';
import { ANY, FED, IDEAL, IDEAL_FED, LATE, OPEN, PLAIN, partsOf, type Wiring, wiringOf } from './wiring.js';

/** Across a primary in which nothing flows any admittance says that it has no volts, and carries nothing itself. */
const ANY_SIEMENS = 1;

/** Stands for columns without figures: to make one takes longer than to solve for one net. */
const NOTHING = new Float64Array(0);

/** Which loads and bypasses conduct, and with how many siemens each load enters the linear part. */
export interface Conduction {
  /** Per element; loads, bypasses and diodes only. */
  readonly on: Uint8Array;
  /** Per element: siemens standing in for a load; empty where there is none. */
  readonly siemens: Float64Array;
  /** Every impedance as its size in ohms, and what is steady kept apart from what alternates. */
  readonly overCycle?: boolean;
}

export interface Equations extends Pick<Wiring, 'part' | 'live' | 'conducting' | 'branchOf' | 'admittances' | 'apart'> {
  readonly system: NodalSystem;
  readonly branches: number;
  /** Whether no figure has an imaginary part: columns of such parts hold nothing then, and are not to be written to. */
  readonly isReal: boolean;
  /** Right-hand side with the sources alone. */
  readonly injectedRe: Float64Array;
  readonly injectedIm: Float64Array;
  readonly emfRe: Float64Array;
  readonly emfIm: Float64Array;
  /** What is steady over a cycle, where that is kept apart; else none of it. */
  readonly steady: Float64Array;
  readonly steadyEmf: Float64Array;
  /** Per element: the reactance it has here (none in a DC part). */
  readonly reactance: Float64Array;
}

/** Per element, whether it is in a DC part; a problem where one part has two systems. */
function directParts(layout: Layout, nets: Nets, conduction: Conduction): Uint8Array | SolveProblem {
  const { coupled } = partsOf(layout, nets, rolesOf(layout, conduction, layout.ohms, layout.reactance, undefined));
  const systemOf = new Map<number, 'AC' | 'DC'>();
  const frequencyOf = new Map<number, number>();
  const clashing = new Set<number>();
  for (const e of layout.sources) {
    const { system, frequency } = layout.elementAt(e) as Source;
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
    return { kind: 'mixed-systems', sources: mixed.map((e) => layout.elementAt(e).id) };
  }
  return layout.kind.map((_, e) => (systemOf.get(coupled.find(nets.netOf[layout.a[e]!]!)) === 'DC' ? 1 : 0));
}

/** What each element is to the equations on some nets; `direct` tells those in a DC part of a circuit of both systems. */
function rolesOf(
  layout: Layout,
  { on, siemens, overCycle = false }: Conduction,
  ohms: Float64Array,
  reactance: Float64Array,
  direct: Uint8Array | undefined,
  nets?: Nets,
): Uint8Array {
  const { kind, roles: plain, loads, bypasses, diodes } = layout;
  const isPlain = direct === undefined && !overCycle;
  if (isPlain && loads.length + bypasses.length + diodes.length === 0) return plain;
  const roles = plain.slice();
  if (!isPlain) {
    for (let e = 0; e < roles.length; e++) {
      if (kind[e] !== IMPEDANCE || layout.ideal[e] === 1) continue;
      const isBlocked = layout.reactance[e]! < 0 && direct?.[e] === 1;
      roles[e] = isBlocked ? OPEN : layout.roleOf(e, ohms[e]!, reactance[e]!);
    }
    for (const e of layout.sources) {
      if (layout.fedA[e]! < 0 && plain[e] !== IDEAL) roles[e] = layout.roleOf(e, ohms[e]!, reactance[e]!);
    }
  }
  const isLate = loads.length > MANY_PORTS && !overCycle;
  const without = isPlain && nets !== undefined && loads.length > 0 ? partsWithoutLoads(layout, nets) : undefined;
  for (const e of loads) {
    // A load whose ends are joined without it keeps its place while it is off: one order of elimination does for all rounds of drop-outs.
    const staysIn = siemens[e]! > 0 || (without !== undefined && isWithin(layout, nets!, without, e));
    roles[e] = staysIn ? (isLate ? LATE : PLAIN) : OPEN;
  }
  for (const e of bypasses) roles[e] = on[e] === 1 ? layout.roleOf(e, ohms[e]!, 0) : OPEN;
  for (const e of diodes) roles[e] = PLAIN;
  return roles;
}

/** Per net: its part where no load and no bypass carries anything. */
function partsWithoutLoads(layout: Layout, nets: Nets): Int32Array {
  const { roles } = layout;
  if (nets.withoutLoads === undefined || !isEqual(nets.withoutLoads.roles, roles))
    nets.withoutLoads = { roles, parts: partsOf(layout, nets, roles).galvanic.flatten() };
  return nets.withoutLoads.parts;
}

function isWithin({ a, b }: Layout, { netOf }: Nets, parts: Int32Array, e: number): boolean {
  return parts[netOf[a[e]!]!] === parts[netOf[b[e]!]!];
}

export function buildEquations(layout: Layout, nets: Nets, conduction: Conduction): Equations | SolveProblem {
  const direct = layout.circuit.system === 'mixed' ? directParts(layout, nets, conduction) : undefined;
  if (direct !== undefined && 'kind' in direct) return direct;
  const { overCycle = false } = conduction;
  const { ohms, reactance } = impedancesOf(layout, direct, overCycle);
  const wiring = wiringOf(layout, nets, rolesOf(layout, conduction, ohms, reactance, direct, nets));
  if (wiring.problem !== undefined) return wiring.problem;

  const { part, live, conducting, branchOf, admittances, apart } = wiring;
  const emfs = layout.sources.map((e) => emfOf(layout, e));
  const isReal = !overCycle && direct === undefined && layout.isReal && emfs.every(({ im }) => im === 0);
  const branches = wiring.branches.map((e) => branchOfElement(layout, nets, wiring, e, ohms[e]!, reactance[e]!));
  const system = new NodalSystem(wiring.plan, nets.count, branches, layout.isReal || overCycle);
  const injectedRe = new Float64Array(nets.count);
  if (isReal) wiring.zeros ??= new Float64Array(nets.count);
  const injectedIm = isReal ? wiring.zeros! : new Float64Array(nets.count);
  const steady = overCycle ? new Float64Array(nets.count) : NOTHING;
  enterAdmittances(layout, wiring, conduction, system, ohms, reactance);
  const emfRe = columnFor(branches.length);
  const emfIm = columnFor(branches.length);
  const steadyEmf = columnFor(branches.length);
  layout.sources.forEach((e, k) => {
    if (conducting[e] !== 1 || layout.fedA[e]! >= 0) return;
    const emf = emfs[k]!;
    const isSteady = overCycle && (layout.elementAt(e) as Source).system === 'DC';
    const branch = branchOf[e]!;
    if (branch >= 0) {
      (isSteady ? steadyEmf : emfRe)[branch] = emf.re;
      if (!isSteady) emfIm[branch] = emf.im;
      return;
    }
    const a = nets.netOf[layout.a[e]!]!;
    const b = nets.netOf[layout.b[e]!]!;
    if (a === b) return;
    const zRe = ohms[e]!;
    const zIm = reactance[e]!;
    const square = zRe * zRe + zIm * zIm;
    const re = (emf.re * zRe + emf.im * zIm) / square;
    const column = isSteady ? steady : injectedRe;
    column[a]! += re;
    column[b]! -= re;
    if (isReal) return;
    const im = (emf.im * zRe - emf.re * zIm) / square;
    injectedIm[a]! += im;
    injectedIm[b]! -= im;
  });
  for (const e of layout.diodes) {
    const a = nets.netOf[layout.a[e]!]!;
    const b = nets.netOf[layout.b[e]!]!;
    if (conducting[e] !== 1 || conduction.on[e] !== 1 || a === b) continue;
    const column = overCycle ? steady : injectedRe;
    column[a]! += DIODE_VOLTS / DIODE_OHMS;
    column[b]! -= DIODE_VOLTS / DIODE_OHMS;
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
    branches: branches.length,
    isReal,
    injectedRe,
    injectedIm,
    emfRe,
    emfIm,
    steady,
    steadyEmf,
    conducting,
    admittances,
    apart,
    reactance,
  };
}

function columnFor(length: number): Float64Array {
  return length === 0 ? NOTHING : new Float64Array(length);
}

/** Per element its ohms and reactance, without reactance in DC parts; over a cycle the size of the impedance as ohms. */
function impedancesOf(
  layout: Layout,
  direct: Uint8Array | undefined,
  overCycle: boolean,
): { readonly ohms: Float64Array; readonly reactance: Float64Array } {
  if (direct === undefined && !overCycle) return layout;
  const ohms = layout.ohms.slice();
  const reactance = layout.reactance.map((x, e) => (direct?.[e] === 1 ? 0 : x));
  if (overCycle) {
    for (let e = 0; e < ohms.length; e++) ohms[e] = Math.sqrt(ohms[e]! * ohms[e]! + reactance[e]! * reactance[e]!);
    reactance.fill(0);
  }
  return { ohms, reactance };
}

function enterAdmittances(
  layout: Layout,
  { admittances, plan }: Wiring,
  { on, siemens }: Conduction,
  system: NodalSystem,
  ohms: Float64Array,
  reactance: Float64Array,
): void {
  const { kind } = layout;
  const { entryOf } = plan;
  const { isReal } = system;
  for (let k = 0; k < admittances.length; k++) {
    const entry = entryOf[k]!;
    if (entry === NOWHERE) continue;
    const e = admittances[k]!;
    const code = e === ANY ? ANY : kind[e]!;
    if (code === IMPEDANCE || code === SOURCE || code === BYPASS) {
      const zRe = ohms[e]!;
      const zIm = isReal ? 0 : reactance[e]!;
      if (zIm === 0) system.enter(entry, 1 / zRe, 0);
      else {
        const square = zRe * zRe + zIm * zIm;
        system.enter(entry, zRe / square, -zIm / square);
      }
    } else if (code === POWER || code === CURRENT) system.enter(entry, siemens[e]!, 0);
    else if (code === DIODE) system.enter(entry, DIODE_LEAK_SIEMENS + (on[e] === 1 ? 1 / DIODE_OHMS : 0), 0);
    else system.enter(entry, ANY_SIEMENS, 0);
  }
}

function branchOfElement(layout: Layout, nets: Nets, { roles }: Wiring, e: number, zRe: number, zIm: number): Branch {
  const a = nets.netOf[layout.a[e]!]!;
  const b = nets.netOf[layout.b[e]!]!;
  if (roles[e] !== FED && roles[e] !== IDEAL_FED) return plainBranch(a, b, zRe, zIm);
  const { fedBy, phase } = layout.elementAt(e) as Source;
  const turn = polar(fedBy!.ratio, phase);
  return fedBranch(a, b, nets.netOf[layout.fedA[e]!]!, nets.netOf[layout.fedB[e]!]!, turn.re, turn.im, zRe, zIm);
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
