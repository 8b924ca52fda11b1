/** Figures of every element over a cycle, as RMS, and the check that currents balance while each set of diodes conducts. */

import { type Cycle, netWave, rmsAcross, type Span } from './cycle.js';
import { meanProduct, rms, type Wave } from './instants.js';
import { DIODE_LEAK_SIEMENS, DIODE_OHMS, DIODE_VOLTS } from './diodes.js';
import type { Figures } from './figures.js';
import { joinAmps } from './joined-amps.js';
import { emfOf, type Layout, type Nets } from './layout.js';
import type { ElementFigures, LoadCondition, Phasor } from './network.js';
import { drawOf } from './operate.js';
import { polar, ZERO } from './phasor.js';

/** Rounding of a current taken from the volts of its ends, as a share of volts times siemens. */
const ROUNDING = 2e-12;
const LEAST_AMPS = 1e-3;
const NO_WAVE: Wave = { re: 0, im: 0, steady: 0 };

export function cycleFigures(
  layout: Layout,
  nets: Nets,
  cycle: Cycle,
  on: Uint8Array,
  condition: LoadCondition,
): Figures {
  let joined: readonly (Phasor | null | undefined)[] | undefined;
  return {
    residual: Math.max(0, ...cycle.spans.map((span) => residualOf(layout, nets, cycle, span))),
    between: (from, to) => ({ re: rms(cycle.spans, (span) => netWave(span, from, to)), im: 0 }),
    figuresOf(e): ElementFigures {
      const volts = { re: rmsAcross(layout, nets, cycle, e), im: 0 };
      if (nets.joined[e] === 1) {
        if (!isLive(layout, nets, cycle, e)) return { volts, amps: ZERO, on: false };
        joined ??= joinedAmps(layout, nets, cycle);
        return { volts, amps: joined[e]!, on: true };
      }
      const ampsOf = (span: Span): Wave => throughElement(layout, nets, cycle, span, e);
      const size = rms(cycle.spans, ampsOf);
      const taken = meanProduct(cycle.spans, (span) => acrossElement(layout, nets, span, e), ampsOf);
      return { volts, amps: { re: taken < 0 ? -size : size, im: 0 }, on: isOn(layout, nets, cycle, e, on, condition) };
    },
  };
}

function isLive(layout: Layout, nets: Nets, cycle: Cycle, e: number): boolean {
  return cycle.spans[0]!.equations.live[nets.netOf[layout.a[e]!]!] === 1;
}

function isOn(layout: Layout, nets: Nets, cycle: Cycle, e: number, on: Uint8Array, condition: LoadCondition): boolean {
  const element = layout.elementAt(e);
  switch (element.kind) {
    case 'power':
    case 'current': {
      if (drawOf(layout, e, condition) > 0) return on[e] === 1;
      const volts = rmsAcross(layout, nets, cycle, e);
      return volts > 0 && volts >= element.staysOnFrom;
    }
    case 'diode':
      return cycle.spans.some(({ conducts }) => conducts[e] === 1);
    default:
      return cycle.spans.some(({ equations }) => equations.conducting[e] === 1);
  }
}

function acrossElement(layout: Layout, nets: Nets, span: Span, e: number): Wave {
  const a = nets.netOf[layout.a[e]!]!;
  return span.equations.live[a] === 1 ? netWave(span, a, nets.netOf[layout.b[e]!]!) : NO_WAVE;
}

function times({ re, im, steady }: Wave, factor: number): Wave {
  return { re: re * factor, im: im * factor, steady: steady * factor };
}

/** Amperes from a to b in one span. */
function throughElement(layout: Layout, nets: Nets, cycle: Cycle, span: Span, e: number): Wave {
  const { equations } = span;
  const element = layout.elementAt(e);
  if (equations.conducting[e] !== 1) return NO_WAVE;
  const branch = equations.branchOf[e]!;
  if (branch >= 0) {
    return { re: span.branchRe[branch]!, im: span.branchIm[branch]!, steady: span.branchSteady[branch]! };
  }
  if (nets.netOf[layout.a[e]!] === nets.netOf[layout.b[e]!] && element.kind !== 'source') return NO_WAVE;
  const across = acrossElement(layout, nets, span, e);
  switch (element.kind) {
    case 'diode': {
      if (span.conducts[e] !== 1) return times(across, DIODE_LEAK_SIEMENS);
      const beyond = times({ ...across, steady: across.steady - DIODE_VOLTS }, 1 / DIODE_OHMS);
      const leak = times(across, DIODE_LEAK_SIEMENS);
      return { re: beyond.re + leak.re, im: beyond.im + leak.im, steady: beyond.steady + leak.steady };
    }
    case 'power':
    case 'current':
      return times(across, cycle.siemens[e]!);
    case 'source': {
      const emf = emfOf(layout, e);
      const own = element.system === 'DC' ? { re: 0, im: 0, steady: emf.re } : { re: emf.re, im: emf.im, steady: 0 };
      const lost = { re: across.re - own.re, im: across.im - own.im, steady: across.steady - own.steady };
      return times(lost, 1 / sizeOf(layout, e));
    }
    default:
      return times(across, 1 / sizeOf(layout, e));
  }
}

/** Ohms of an element over a cycle: the size of its impedance. */
function sizeOf(layout: Layout, e: number): number {
  const ohms = layout.ohms[e]!;
  const reactance = layout.reactance[e]!;
  return Math.sqrt(ohms * ohms + reactance * reactance);
}

interface Leaving {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly steady: Float64Array;
  /** Per point: how far rounding alone may put it off. */
  readonly rounding: Float64Array;
  largest: number;
}

/** Current that leaves each point in one span through what is not an ideal connection. */
function leavingPoints(layout: Layout, nets: Nets, cycle: Cycle, span: Span): Leaving {
  const count = layout.points.length;
  const leaving: Leaving = {
    re: new Float64Array(count),
    im: new Float64Array(count),
    steady: new Float64Array(count),
    rounding: new Float64Array(count),
    largest: 0,
  };
  const pass = (from: number, to: number, { re, im, steady }: Wave, rounding: number): void => {
    leaving.re[from]! += re;
    leaving.im[from]! += im;
    leaving.steady[from]! += steady;
    leaving.re[to]! -= re;
    leaving.im[to]! -= im;
    leaving.steady[to]! -= steady;
    leaving.rounding[from]! += rounding;
    leaving.rounding[to]! += rounding;
    leaving.largest = Math.max(leaving.largest, Math.abs(re) + Math.abs(im) + Math.abs(steady));
  };
  for (let e = 0; e < layout.kind.length; e++) {
    const element = layout.elementAt(e);
    if (nets.joined[e] === 1 || span.equations.conducting[e] !== 1) continue;
    const amps = throughElement(layout, nets, cycle, span, e);
    const rounding = roundingOf(layout, nets, cycle, span, e);
    pass(layout.a[e]!, layout.b[e]!, amps, rounding);
    if (element.kind !== 'source' || element.fedBy === undefined) continue;
    const turn = polar(element.fedBy.ratio, element.phase);
    const primary = {
      re: -(turn.re * amps.re + turn.im * amps.im),
      im: -(turn.re * amps.im - turn.im * amps.re),
      steady: -turn.re * amps.steady,
    };
    pass(layout.fedA[e]!, layout.fedB[e]!, primary, rounding * Math.abs(element.fedBy.ratio));
  }
  return leaving;
}

function roundingOf(layout: Layout, nets: Nets, cycle: Cycle, span: Span, e: number): number {
  const element = layout.elementAt(e);
  const height = [layout.a[e]!, layout.b[e]!]
    .map((point) => nets.netOf[point]!)
    .reduce((sum, net) => sum + heightOf(span, net), element.kind === 'source' ? Math.abs(element.volts) : 0);
  if (element.kind === 'diode') return (ROUNDING * height) / DIODE_OHMS;
  if (element.kind === 'power' || element.kind === 'current') return ROUNDING * height * cycle.siemens[e]!;
  const size = sizeOf(layout, e);
  return size > 0 ? (ROUNDING * height) / size : ROUNDING * LEAST_AMPS;
}

function heightOf(span: Span, net: number): number {
  return Math.abs(span.netRe[net]!) + Math.abs(span.netIm[net]!) + Math.abs(span.netSteady[net]!);
}

/** By how much the worst balance fails beyond rounding, as a share of the largest current. */
function residualOf(layout: Layout, nets: Nets, cycle: Cycle, span: Span): number {
  const leaving = leavingPoints(layout, nets, cycle, span);
  const sums = [leaving.re, leaving.im, leaving.steady].map((column) => perNet(nets, column));
  const rounding = perNet(nets, leaving.rounding);
  const together = Math.max(0, ...leaving.rounding);
  let worst = 0;
  for (let net = 0; net < nets.count; net++) {
    const missing = sums.reduce((sum, column) => sum + Math.abs(column[net]!), 0) - rounding[net]! - together;
    worst = Math.max(worst, missing / Math.max(leaving.largest, LEAST_AMPS));
  }
  return worst;
}

function perNet(nets: Nets, column: Float64Array): Float64Array {
  const sums = new Float64Array(nets.count);
  for (let point = 0; point < column.length; point++) sums[nets.netOf[point]!]! += column[point]!;
  return sums;
}

/** RMS amps of ideal connections. */
function joinedAmps(layout: Layout, nets: Nets, cycle: Cycle): readonly (Phasor | null | undefined)[] {
  const columns = new Map(
    cycle.spans.map((span) => {
      const leaving = leavingPoints(layout, nets, cycle, span);
      const alternating = joinAmps(layout, nets, leaving.re, leaving.im);
      return [
        span,
        { alternating, steady: joinAmps(layout, nets, leaving.steady, new Float64Array(layout.points.length)) },
      ];
    }),
  );
  const first = columns.get(cycle.spans[0]!)!.alternating;
  return first.map((known, e) => {
    if (known === undefined || known === null) return known;
    const waveOf = (span: Span): Wave => {
      const { alternating, steady } = columns.get(span)!;
      return { ...alternating[e]!, steady: steady[e]!.re };
    };
    return { re: rms(cycle.spans, waveOf), im: 0 };
  });
}
