/**
 * A circuit whose diodes cut the waves, followed over one cycle. At each instant it is a network of resistances (an impedance counts as its
 * size) in which every diode conducts or blocks; as long as the same ones conduct, volts are a sine and something steady.
 */

import { contradictedDiode, diodesAtWork, mostTurns } from './diodes.js';
import { buildEquations, type Equations } from './equations.js';
import { addInstant, INSTANTS, type Instants, noInstants, rms, type Wave, waveAt } from './instants.js';
import type { Layout, Nets } from './layout.js';
import type { LoadCondition, SolveProblem } from './network.js';
import { drawOf, leakOf, leakWhileOff, NO_VOLTS, type Operating, standIn } from './operate.js';

const MOST_ROUNDS = 60;
const ROUND_ENOUGH = 1e-9;
const SHARES_TRIED = 8;

/** Every so many rounds the volts are taken to where they are heading, but by no more than this share of themselves. */
const LEAP_EVERY = 4;
const LONGEST_LEAP = 0.2;

/** The instants at which the same diodes conduct, as sums over them. */
export interface Span extends Instants {
  readonly conducts: Uint8Array;
  readonly equations: Equations;
  readonly netRe: Float64Array;
  readonly netIm: Float64Array;
  readonly netSteady: Float64Array;
  readonly branchRe: Float64Array;
  readonly branchIm: Float64Array;
  readonly branchSteady: Float64Array;
}

export interface Cycle {
  readonly spans: readonly Span[];
  /** Per element: siemens of the loads that draw. */
  readonly siemens: Float64Array;
}

export function netWave(span: Span, a: number, b: number): Wave {
  return {
    re: span.netRe[a]! - span.netRe[b]!,
    im: span.netIm[a]! - span.netIm[b]!,
    steady: span.netSteady[a]! - span.netSteady[b]!,
  };
}

/** RMS volts across an element; none in a part that nothing feeds. */
export function rmsAcross(layout: Layout, nets: Nets, cycle: Cycle, e: number): number {
  const a = nets.netOf[layout.a[e]!]!;
  const b = nets.netOf[layout.b[e]!]!;
  const { part, live } = cycle.spans[0]!.equations;
  return live[a] !== 1 || part[a] !== part[b] ? 0 : rms(cycle.spans, (span) => netWave(span, a, b));
}

/** Solves one cycle with loads as so many siemens. */
function follow(layout: Layout, nets: Nets, on: Uint8Array, siemens: Float64Array): Cycle | SolveProblem {
  const diodes = diodesAtWork(layout, nets);
  const spans = new Map<string, Span>();
  const conducts = on.slice();
  for (let k = 0; k < INSTANTS; k++) {
    for (let turns = 0; ; turns++) {
      const key = diodes.map((e) => conducts[e]).join('');
      const span = spans.get(key) ?? solveSpan(layout, nets, conducts, siemens);
      if ('kind' in span) return span;
      spans.set(key, span);
      const wrong = contradictedDiode(layout, diodes, conducts, (e) =>
        waveAt(netWave(span, nets.netOf[layout.a[e]!]!, nets.netOf[layout.b[e]!]!), k),
      );
      if (wrong < 0) {
        addInstant(span, k);
        break;
      }
      if (turns > mostTurns(diodes)) return { kind: 'singular', points: endsOf(layout, diodes) };
      conducts[wrong] = conducts[wrong] === 1 ? 0 : 1;
    }
  }
  return { spans: [...spans.values()].filter(({ count }) => count > 0), siemens };
}

export function endsOf(layout: Layout, elements: readonly number[]): readonly string[] {
  return [...new Set(elements.flatMap((e) => [layout.points[layout.a[e]!]!, layout.points[layout.b[e]!]!]))].sort();
}

function solveSpan(layout: Layout, nets: Nets, conducts: Uint8Array, siemens: Float64Array): Span | SolveProblem {
  const equations = buildEquations(layout, nets, { on: conducts, siemens, overCycle: true });
  if ('kind' in equations) return equations;
  const netRe = equations.injectedRe.slice();
  const netIm = equations.injectedIm.slice();
  const branchRe = equations.emfRe.slice();
  const branchIm = equations.emfIm.slice();
  equations.system.solve(netRe, netIm, branchRe, branchIm);
  const netSteady = equations.steady.slice();
  const branchSteady = equations.steadyEmf.slice();
  equations.system.solve(netSteady, new Float64Array(nets.count), branchSteady, new Float64Array(equations.branches));
  return {
    conducts: conducts.slice(),
    equations,
    netRe,
    netIm,
    netSteady,
    branchRe,
    branchIm,
    branchSteady,
    ...noInstants(),
  };
}

function siemensAt(layout: Layout, e: number, condition: LoadCondition, volts: number, share: number): number {
  const draw = share * drawOf(layout, e, condition);
  return layout.elementAt(e).kind === 'power' ? draw / (volts * volts) : draw / volts;
}

/** Where steps that shrink by the same share each time lead to (Aitken). */
function leap(volts: number, step: number, before: number): number {
  const shrinks = before === 0 ? 0 : step / before;
  if (!(shrinks > 0 && shrinks < 1)) return volts;
  const whole = (step * shrinks) / (1 - shrinks);
  const most = LONGEST_LEAP * volts;
  return volts + Math.max(-most, Math.min(most, whole));
}

/** The cycle with loads drawing a share of what they ask, from the lightly loaded side; undefined where they pull their own volts away. */
function operatingCycle(
  layout: Layout,
  nets: Nets,
  on: Uint8Array,
  condition: LoadCondition,
  share: number,
): Cycle | SolveProblem | undefined {
  const none = NO_VOLTS * layout.scaleVolts;
  const siemens = new Float64Array(layout.kind.length);
  for (const e of layout.loads) {
    siemens[e] = on[e] === 1 ? share * standIn(layout, e, condition) : leakWhileOff(layout, e, condition);
  }
  const leaking = siemens.map((value, e) => (on[e] === 1 ? 0 : value));
  let cycle = follow(layout, nets, on, siemens);
  if ('kind' in cycle) return cycle;
  const drawn = new Map<number, number>();
  for (const e of layout.loads) {
    if (on[e] !== 1 || !(siemens[e]! > 0)) continue;
    const volts = rmsAcross(layout, nets, cycle, e);
    if (volts > none) drawn.set(e, volts);
  }
  const steps = new Map<number, number>();
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const next = leaking.slice();
    for (const [e, volts] of drawn) next[e] = siemensAt(layout, e, condition, volts, share);
    const found = follow(layout, nets, on, next);
    if ('kind' in found) return found;
    cycle = found;
    let largest = 0;
    for (const [e, before] of drawn) {
      const volts = rmsAcross(layout, nets, cycle, e);
      if (!(volts > none)) return undefined;
      const step = volts - before;
      largest = Math.max(largest, Math.abs(step));
      drawn.set(e, round % LEAP_EVERY === LEAP_EVERY - 1 ? leap(volts, step, steps.get(e) ?? 0) : volts);
      steps.set(e, step);
    }
    if (largest <= ROUND_ENOUGH * layout.scaleVolts) return cycle;
  }
  return undefined;
}

function asOperating(cycle: Cycle, share: number): Operating {
  const { equations, netRe, netIm, branchRe, branchIm } = cycle.spans[0]!;
  return { equations, netRe, netIm, branchRe, branchIm, share, cycle };
}

/** As `operate`, over a cycle. */
export function operateOverCycle(
  layout: Layout,
  nets: Nets,
  on: Uint8Array,
  condition: LoadCondition,
  trace = true,
): Operating | SolveProblem {
  const all = operatingCycle(layout, nets, on, condition, 1);
  if (all !== undefined) return 'kind' in all ? all : asOperating(all, 1);
  const unloaded = operatingCycle(layout, nets, on, condition, 0);
  if (unloaded === undefined) return { kind: 'singular', points: endsOf(layout, diodesAtWork(layout, nets)) };
  if ('kind' in unloaded) return unloaded;
  let best = asOperating(unloaded, 0);
  if (!trace) return best;
  let had = 0;
  let tooMuch = 1;
  for (let step = 0; step < SHARES_TRIED; step++) {
    const middle = (had + tooMuch) / 2;
    const found = operatingCycle(layout, nets, on, condition, middle);
    if (found !== undefined && 'kind' in found) return found;
    if (found === undefined) tooMuch = middle;
    else {
      had = middle;
      best = asOperating(found, middle);
    }
  }
  return best;
}

/** As `leakingVolts`, over a cycle: the loads that run keep the siemens they have. */
export function leakingOverCycle(
  layout: Layout,
  nets: Nets,
  running: Uint8Array,
  kept: Cycle | undefined,
  condition: LoadCondition,
): Operating | SolveProblem {
  const siemens = new Float64Array(layout.kind.length);
  for (const e of layout.loads) {
    const drawing = running[e] === 1 ? kept?.siemens[e] : undefined;
    siemens[e] = drawing ?? leakOf(layout, e, condition);
  }
  const cycle = follow(layout, nets, running, siemens);
  return 'kind' in cycle ? cycle : asOperating(cycle, 1);
}
