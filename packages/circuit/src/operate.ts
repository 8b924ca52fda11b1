/** One operating point: a network with a given set of loads and bypasses on, solved for volts and currents. */

import type { Cycle } from './cycle.js';
import { buildEquations, type Equations } from './equations.js';
import type { Layout, Nets } from './layout.js';
import { LoadedBlocks } from './loaded-blocks.js';
import type { LoadedNetwork, PortEnds } from './loaded-network.js';
import { LoadedReals } from './loaded-reals.js';
import type { LoadCondition, SolveProblem } from './network.js';
import { MANY_PORTS, operatingVolts, type PortVolts, type Ports, portAmps, traceLoading } from './ports.js';

/** Volts below this share of the circuit's scale are none. */
export const NO_VOLTS = 1e-9;

/** An unpowered load leaks this share of its draw's siemens, to settle how loads in series divide before any of them is on. */
const LEAK = 1e-9;

/** Where there are diodes it leaks this share, which is much more than a diode that blocks lets through. */
const LEAK_BEHIND_DIODES = 1e-2;

/** Siemens of a load that is off. */
export function leakOf(layout: Layout, e: number, condition: LoadCondition): number {
  return standIn(layout, e, condition) * (layout.diodes.length > 0 ? LEAK_BEHIND_DIODES : LEAK);
}

export interface Operating {
  readonly equations: Equations;
  readonly netRe: Float64Array;
  readonly netIm: Float64Array;
  readonly branchRe: Float64Array;
  readonly branchIm: Float64Array;
  /** Share of the draw for which the figures hold: 1, or less when there is no operating point with all of it. */
  readonly share: number;
  /** Set where diodes cut the waves: the figures are in it, and not in the columns above. */
  readonly cycle?: Cycle;
}

/** The siemens with which a load that is off enters an operating point: without them it would seem to get full volts through a diode that blocks. */
export function leakWhileOff(layout: Layout, e: number, condition: LoadCondition): number {
  return layout.diodes.length > 0 ? leakOf(layout, e, condition) : 0;
}

export function drawOf(layout: Layout, e: number, condition: LoadCondition): number {
  const element = layout.elementAt(e);
  if (element.kind === 'power') return element.voltAmperes[condition];
  return element.kind === 'current' ? element.amps[condition] : 0;
}

/** Siemens that draw no more than the load anywhere between no volts and the circuit's scale. */
export function standIn(layout: Layout, e: number, condition: LoadCondition): number {
  const scale = layout.scaleVolts;
  if (!(scale > 0)) return 0;
  const draw = drawOf(layout, e, condition);
  return layout.elementAt(e).kind === 'power' ? draw / (scale * scale) : draw / scale;
}

/**
 * Solves with these loads on; a load whose ends see no volts takes no part. Where there is no operating point, the figures are those of the
 * largest share of the draw that has one, or of none when `trace` is false.
 */
export function operate(
  layout: Layout,
  nets: Nets,
  on: Uint8Array,
  condition: LoadCondition,
  trace = true,
): Operating | SolveProblem {
  const siemens = siemensColumn(layout);
  for (const e of layout.loads) {
    siemens[e] = on[e] === 1 ? standIn(layout, e, condition) : leakWhileOff(layout, e, condition);
  }
  const equations = buildEquations(layout, nets, { on, siemens });
  if ('kind' in equations) return equations;
  if (layout.loads.length === 0) return solveOnce(equations);
  const plain = solveWith(layout, equations, [], undefined, 1);
  if (!layout.loads.some((e) => on[e] === 1 && siemens[e] !== 0)) return plain;
  const found = findPorts(layout, nets, equations, on, condition, siemens, plain);
  if (found.ends.length === 0) return plain;
  const { ends, ports } = found;
  const volts = operatingVolts(ports, 1, { re: ports.startRe, im: ports.startIm });
  if (volts !== undefined) return solveWith(layout, equations, ends, { ports, volts }, 1);
  if (!trace) return { ...plain, share: 0 };
  const traced = traceLoading(ports);
  return solveWith(layout, equations, ends, { ports, volts: traced.volts }, traced.share);
}

const NO_SIEMENS = new Float64Array(0);

/** Per element, where there are loads. */
function siemensColumn(layout: Layout): Float64Array {
  return layout.loads.length > 0 ? new Float64Array(layout.kind.length) : NO_SIEMENS;
}

/** Volts of the network with some loads on as they are and all others leaking: what an idle load would see. */
export function leakingVolts(
  layout: Layout,
  nets: Nets,
  running: Uint8Array,
  amps: (e: number) => { re: number; im: number } | null,
  condition: LoadCondition,
): Operating | SolveProblem {
  const siemens = siemensColumn(layout);
  for (const e of layout.loads) siemens[e] = leakOf(layout, e, condition);
  const equations = buildEquations(layout, nets, { on: running, siemens });
  if ('kind' in equations) return equations;
  const ends: PortEnds[] = [];
  const drawn: { re: number; im: number }[] = [];
  for (const e of layout.loads) {
    const through = running[e] === 1 ? amps(e) : null;
    if (through === null) continue;
    ends.push({ a: nets.netOf[layout.a[e]!]!, b: nets.netOf[layout.b[e]!]! });
    drawn.push(through);
  }
  return inject(equations, ends, drawn, 1);
}

function findPorts(
  layout: Layout,
  nets: Nets,
  equations: Equations,
  on: Uint8Array,
  condition: LoadCondition,
  siemens: Float64Array,
  plain: Operating,
): { readonly ends: readonly PortEnds[]; readonly ports: Ports } {
  const numberOf = new Map<number, number>();
  const ends: PortEnds[] = [];
  const voltAmperes: number[] = [];
  const amperes: number[] = [];
  const standIns: number[] = [];
  for (const e of layout.loads) {
    if (on[e] !== 1 || siemens[e] === 0) continue;
    const na = nets.netOf[layout.a[e]!]!;
    const nb = nets.netOf[layout.b[e]!]!;
    const a = Math.min(na, nb);
    const b = Math.max(na, nb);
    if (a === b || equations.live[a] !== 1) continue;
    const re = plain.netRe[a]! - plain.netRe[b]!;
    const im = plain.netIm[a]! - plain.netIm[b]!;
    if (!(Math.sqrt(re * re + im * im) > NO_VOLTS * layout.scaleVolts)) continue;
    const key = a * nets.count + b;
    const port = numberOf.get(key) ?? ends.length;
    if (port === ends.length) {
      numberOf.set(key, port);
      ends.push({ a, b });
      voltAmperes.push(0);
      amperes.push(0);
      standIns.push(0);
    }
    if (layout.elementAt(e).kind === 'power') voltAmperes[port]! += drawOf(layout, e, condition);
    else amperes[port]! += drawOf(layout, e, condition);
    standIns[port]! += siemens[e]!;
  }
  const work = new PortWork(equations, ends);
  let impedances: ReturnType<PortWork['impedances']> | undefined;
  return {
    ends,
    ports: {
      count: ends.length,
      voltAmperes: Float64Array.from(voltAmperes),
      amperes: Float64Array.from(amperes),
      siemens: Float64Array.from(standIns),
      startRe: Float64Array.from(ends, ({ a, b }) => plain.netRe[a]! - plain.netRe[b]!),
      startIm: Float64Array.from(ends, ({ a, b }) => plain.netIm[a]! - plain.netIm[b]!),
      impedances: () => {
        impedances ??= work.impedances();
        return impedances;
      },
      respond: (drawnRe, drawnIm) => work.respond(drawnRe, drawnIm),
      network: ends.length > MANY_PORTS ? networkOf(layout, equations, ends, plain) : undefined,
      scaleVolts: layout.scaleVolts,
    },
  };
}

/** What is solved with pivoting is dense: with more unknowns than this there, each of Newton's steps would take long. */
const MOST_WITH_PIVOTING = 100;

function networkOf(
  layout: Layout,
  equations: Equations,
  ends: readonly PortEnds[],
  plain: Operating,
): LoadedNetwork | undefined {
  const { system, injectedRe, injectedIm, emfRe, emfIm, isReal } = equations;
  if (system.unknowns > MOST_WITH_PIVOTING) return undefined;
  const unloaded = system.unloaded(injectedRe, injectedIm, emfRe, emfIm);
  if (unloaded === undefined) return undefined;
  return new (isReal ? LoadedReals : LoadedBlocks)(unloaded, ends, plain, layout.scaleVolts);
}

/** The equations as seen from ports. */
class PortWork {
  private readonly re: Float64Array;
  private readonly im: Float64Array;
  private readonly branchRe: Float64Array;
  private readonly branchIm: Float64Array;

  constructor(
    private readonly equations: Equations,
    private readonly ends: readonly PortEnds[],
  ) {
    this.re = new Float64Array(equations.injectedRe.length);
    this.im = new Float64Array(equations.injectedRe.length);
    this.branchRe = new Float64Array(equations.branches);
    this.branchIm = new Float64Array(equations.branches);
  }

  impedances(): { readonly re: Float64Array; readonly im: Float64Array } {
    const { re, im, branchRe, branchIm, ends } = this;
    const count = ends.length;
    const zRe = new Float64Array(count * count);
    const zIm = new Float64Array(count * count);
    for (let q = 0; q < count; q++) {
      for (const column of [re, im, branchRe, branchIm]) column.fill(0);
      re[ends[q]!.a] = -1;
      re[ends[q]!.b] = 1;
      this.equations.system.solve(re, im, branchRe, branchIm);
      for (let p = 0; p < count; p++) {
        zRe[p * count + q] = re[ends[p]!.a]! - re[ends[p]!.b]!;
        zIm[p * count + q] = im[ends[p]!.a]! - im[ends[p]!.b]!;
      }
    }
    return { re: zRe, im: zIm };
  }

  respond(drawnRe: Float64Array, drawnIm: Float64Array): PortVolts {
    const { re, im, branchRe, branchIm, ends, equations } = this;
    re.set(equations.injectedRe);
    im.set(equations.injectedIm);
    branchRe.set(equations.emfRe);
    branchIm.set(equations.emfIm);
    for (let q = 0; q < ends.length; q++) {
      const { a, b } = ends[q]!;
      re[a]! -= drawnRe[q]!;
      im[a]! -= drawnIm[q]!;
      re[b]! += drawnRe[q]!;
      im[b]! += drawnIm[q]!;
    }
    equations.system.solve(re, im, branchRe, branchIm);
    return {
      re: Float64Array.from(ends, ({ a, b }) => re[a]! - re[b]!),
      im: Float64Array.from(ends, ({ a, b }) => im[a]! - im[b]!),
    };
  }
}

function solveWith(
  layout: Layout,
  equations: Equations,
  ends: readonly PortEnds[],
  loading: { readonly ports: Ports; readonly volts: PortVolts } | undefined,
  share: number,
): Operating {
  if (loading === undefined || layout.scaleVolts === 0) return inject(equations, [], [], share);
  const { ports, volts } = loading;
  const beyond = ends.map((_, p) => {
    const re = volts.re[p]!;
    const im = volts.im[p]!;
    const through = portAmps(ports, p, re, im, share);
    return { re: through.re - ports.siemens[p]! * re, im: through.im - ports.siemens[p]! * im };
  });
  return inject(equations, ends, beyond, share);
}

/** Solves linear equations that nothing more is asked of: volts and currents take the place of what is injected. */
function solveOnce(equations: Equations): Operating {
  const { system, injectedRe, injectedIm, emfRe, emfIm, isReal } = equations;
  system.solve(injectedRe, injectedIm, emfRe, emfIm, !isReal);
  return { equations, netRe: injectedRe, netIm: injectedIm, branchRe: emfRe, branchIm: emfIm, share: 1 };
}

/** Solves the linear equations with currents drawn at some ends. */
function inject(
  equations: Equations,
  ends: readonly PortEnds[],
  drawn: readonly { readonly re: number; readonly im: number }[],
  share: number,
): Operating {
  const { isReal } = equations;
  const netRe = equations.injectedRe.slice();
  const netIm = isReal ? equations.injectedIm : equations.injectedIm.slice();
  const branchRe = equations.emfRe.slice();
  const branchIm = equations.emfIm.slice();
  ends.forEach(({ a, b }, k) => {
    const { re, im } = drawn[k]!;
    netRe[a]! -= re;
    netRe[b]! += re;
    if (isReal) return;
    netIm[a]! -= im;
    netIm[b]! += im;
  });
  equations.system.solve(netRe, netIm, branchRe, branchIm, !isReal);
  return { equations, netRe, netIm, branchRe, branchIm, share };
}
