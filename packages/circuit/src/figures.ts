/** Figures of every element in a settled state, and the check that they obey the laws of circuits. */

import { BYPASS, CURRENT, DIODE, IMPEDANCE, POWER, SOURCE } from './columns.js';
import { cycleFigures } from './cycle-figures.js';
import { DIODE_OHMS, diodeAmps } from './diodes.js';
import { joinAmps } from './joined-amps.js';
import type { Layout, Nets } from './layout.js';
import type { CurrentLoad, ElementFigures, LoadCondition, Phasor, PowerLoad, Source } from './network.js';
import { polar, ZERO } from './phasor.js';
import { leakWhileOff } from './operate.js';
import { loadAmps, type Settled } from './settle.js';

/** Share of the largest current or of all power that may be missing from a balance. */
export const BALANCE_WITHIN = 1e-9;

/** Rounding of a current taken from the volts of its ends, as a share of volts times siemens. */
const ROUNDING = 2e-12;

/**
 * No balance is held closer than to this share of a milliampere (1e-12 A): where nothing flows, the largest current is itself rounding, and
 * everything else is a large share of it.
 */
const LEAST_AMPS = 1e-3;

/** A current that is no more than the last bits of its ends' volts is none. */
const LAST_BITS = 8e-16;

/** Amps that volts drive through ohms; `height` is how far the ends are from zero volts, all told. */
export function ampsThrough(re: number, im: number, zRe: number, zIm: number, height: number): Phasor {
  if (Math.abs(re) + Math.abs(im) <= LAST_BITS * height) return ZERO;
  const square = zRe * zRe + zIm * zIm;
  return { re: (re * zRe + im * zIm) / square, im: (im * zRe - re * zIm) / square };
}

export interface Figures {
  figuresOf(e: number): ElementFigures;
  /** Volts from one net to another of the same part. */
  between(from: number, to: number): Phasor;
  /** By how much the worst balance fails beyond rounding: a share of the largest current, or of all power. */
  readonly residual: number;
}

export function figuresOf(layout: Layout, nets: Nets, settled: Settled, condition: LoadCondition): Figures {
  const { cycle } = settled.operating;
  if (cycle !== undefined) return cycleFigures(layout, nets, cycle, settled.on, condition);
  const { netRe, netIm } = settled.operating;
  const sheet = new Sheet(layout, nets, settled, condition);
  let joined: readonly (Phasor | null | undefined)[] | undefined;
  return {
    residual: sheet.residual(),
    between: (from, to) => ({ re: netRe[from]! - netRe[to]!, im: netIm[from]! - netIm[to]! }),
    figuresOf(e) {
      const on = sheet.on[e] === 1;
      const volts = { re: sheet.voltsRe[e]!, im: sheet.voltsIm[e]! };
      if (nets.joined[e] !== 1) return { volts, amps: { re: sheet.ampsRe[e]!, im: sheet.ampsIm[e]! }, on };
      joined ??= joinAmps(layout, nets, sheet.leavingRe, sheet.leavingIm);
      return { volts, amps: on ? joined[e]! : ZERO, on };
    },
  };
}

/** Volts and amps of all elements as plain columns, filled once, with the balances kept on the way. */
class Sheet {
  readonly voltsRe: Float64Array;
  readonly voltsIm: Float64Array;
  readonly ampsRe: Float64Array;
  readonly ampsIm: Float64Array;
  readonly on: Uint8Array;
  /** Current that leaves each point through what is not an ideal connection. */
  readonly leavingRe: Float64Array;
  readonly leavingIm: Float64Array;
  /** Per net: how far rounding alone may put the balance off. */
  private readonly rounding: Float64Array;
  /** Per net: whether a current unknown ends at it. */
  private readonly meetsUnknown: Uint8Array;
  private largestAmps = 0;
  /** How far rounding may put the current unknowns off: they are solved together with the largest of volts times siemens. */
  private solvedTogether = 0;
  private highestVolts: number;
  private givenRe = 0;
  private givenIm = 0;
  private takenRe = 0;
  private takenIm = 0;
  private allPower = 0;

  constructor(
    private readonly layout: Layout,
    private readonly nets: Nets,
    private readonly settled: Settled,
    private readonly condition: LoadCondition,
  ) {
    const count = layout.elements.length;
    this.voltsRe = new Float64Array(count);
    this.voltsIm = new Float64Array(count);
    this.ampsRe = new Float64Array(count);
    this.ampsIm = new Float64Array(count);
    this.on = new Uint8Array(count);
    this.leavingRe = new Float64Array(layout.points.length);
    this.leavingIm = new Float64Array(layout.points.length);
    this.rounding = new Float64Array(nets.count);
    this.meetsUnknown = new Uint8Array(nets.count);
    this.highestVolts = layout.scaleVolts;
    for (let e = 0; e < count; e++) this.enter(e);
  }

  residual(): number {
    return Math.max(this.currentResidual(), this.powerResidual());
  }

  private enter(e: number): void {
    const { layout, nets, settled } = this;
    const { equations, netRe, netIm } = settled.operating;
    const a = nets.netOf[layout.a[e]!]!;
    const b = nets.netOf[layout.b[e]!]!;
    if (equations.live[a] !== 1 || equations.part[a] !== equations.part[b]) return;
    const re = netRe[a]! - netRe[b]!;
    const im = netIm[a]! - netIm[b]!;
    this.voltsRe[e] = re;
    this.voltsIm[e] = im;
    if (nets.joined[e] === 1) {
      this.on[e] = 1;
      return;
    }
    const size = im === 0 ? Math.abs(re) : Math.sqrt(re * re + im * im);
    if (size > this.highestVolts) this.highestVolts = size;
    const height = Math.abs(netRe[a]!) + Math.abs(netIm[a]!) + Math.abs(netRe[b]!) + Math.abs(netIm[b]!);
    switch (layout.kind[e]) {
      case IMPEDANCE:
      case BYPASS:
        if (equations.conducting[e] === 1) this.throughOhms(e, 0, 0, height);
        return;
      case SOURCE:
        this.source(e, layout.elements[e] as Source, height);
        return;
      case DIODE:
        this.diode(e, re, height);
        return;
      case POWER:
      case CURRENT:
        this.load(e, size, (layout.elements[e] as PowerLoad | CurrentLoad).staysOnFrom);
    }
  }

  private source(e: number, element: Source, height: number): void {
    if (element.fedBy !== undefined) {
      this.fedWinding(e, element.fedBy.ratio, element.phase, height);
      return;
    }
    const emf = polar(element.volts, element.system === 'DC' ? 0 : element.phase);
    this.throughOhms(e, emf.re, emf.im, height + Math.abs(emf.re) + Math.abs(emf.im));
    this.give(e, emf.re, emf.im);
  }

  private diode(e: number, volts: number, height: number): void {
    const conducts = this.settled.on[e] === 1;
    const amps = diodeAmps(volts, conducts);
    this.carry(e, amps, 0, conducts ? (ROUNDING * height) / DIODE_OHMS : 0);
    this.take(volts * amps, 0);
    this.on[e] = conducts ? 1 : 0;
  }

  private load(e: number, size: number, staysOnFrom: number): void {
    const element = this.layout.elements[e]!;
    const asks =
      element.kind === 'power'
        ? element.voltAmperes[this.condition]
        : element.kind === 'current'
          ? element.amps[this.condition]
          : 0;
    if (asks === 0) {
      this.on[e] = size > 0 && size >= staysOnFrom ? 1 : 0;
      return;
    }
    const volts = { re: this.voltsRe[e]!, im: this.voltsIm[e]! };
    if (this.settled.on[e] !== 1) {
      const leak = leakWhileOff(this.layout, e, this.condition);
      if (leak === 0) return;
      this.carry(e, leak * volts.re, leak * volts.im, ROUNDING * leak * size);
      this.take(leak * size * size, 0);
      this.on[e] = 0;
      return;
    }
    const amps = loadAmps(this.layout, e, this.condition, volts);
    const through = Math.sqrt(amps.re * amps.re + amps.im * amps.im);
    this.carry(e, amps.re, amps.im, ROUNDING * through);
    this.take(through * size, 0);
  }

  /** Current through the ohms of an element, whose ends differ by its volts, of which the EMF is its own; and the power lost in them. */
  private throughOhms(e: number, emfRe: number, emfIm: number, height: number): number {
    const { equations, branchRe, branchIm } = this.settled.operating;
    const zRe = this.layout.ohms[e]!;
    const zIm = equations.reactance[e]!;
    const square = zRe * zRe + zIm * zIm;
    const branch = equations.branchOf[e]!;
    let re = 0;
    let im = 0;
    let rounding = 0;
    if (branch >= 0) {
      re = branchRe[branch]!;
      im = branchIm[branch]!;
      rounding = ROUNDING * (Math.abs(re) + Math.abs(im));
      this.meetUnknown(this.layout.a[e]!, this.layout.b[e]!);
    } else {
      const acrossRe = this.voltsRe[e]! - emfRe;
      const acrossIm = this.voltsIm[e]! - emfIm;
      rounding = (ROUNDING * height) / (zIm === 0 ? zRe : Math.sqrt(square));
      if (rounding > this.solvedTogether) this.solvedTogether = rounding;
      const through = ampsThrough(acrossRe, acrossIm, zRe, zIm, height);
      re = through.re;
      im = through.im;
    }
    this.carry(e, re, im, rounding);
    this.take((re * re + im * im) * zRe, (re * re + im * im) * zIm);
    return rounding;
  }

  private fedWinding(e: number, ratio: number, phase: number, height: number): void {
    const rounding = this.throughOhms(e, 0, 0, height);
    this.meetUnknown(this.layout.fedA[e]!, this.layout.fedB[e]!);
    const turn = polar(ratio, phase);
    const re = -(turn.re * this.ampsRe[e]! + turn.im * this.ampsIm[e]!);
    const im = -(turn.re * this.ampsIm[e]! - turn.im * this.ampsRe[e]!);
    this.pass(this.layout.fedA[e]!, this.layout.fedB[e]!, re, im, rounding * Math.abs(ratio));
  }

  private meetUnknown(a: number, b: number): void {
    this.meetsUnknown[this.nets.netOf[a]!] = 1;
    this.meetsUnknown[this.nets.netOf[b]!] = 1;
  }

  private carry(e: number, re: number, im: number, rounding: number): void {
    this.on[e] = 1;
    this.ampsRe[e] = re;
    this.ampsIm[e] = im;
    this.pass(this.layout.a[e]!, this.layout.b[e]!, re, im, rounding);
  }

  private pass(from: number, to: number, re: number, im: number, rounding: number): void {
    this.leavingRe[from]! += re;
    this.leavingIm[from]! += im;
    this.leavingRe[to]! -= re;
    this.leavingIm[to]! -= im;
    this.rounding[this.nets.netOf[from]!]! += rounding;
    this.rounding[this.nets.netOf[to]!]! += rounding;
    const size = im === 0 ? Math.abs(re) : Math.sqrt(re * re + im * im);
    if (size > this.largestAmps) this.largestAmps = size;
  }

  /** Power that an EMF gives: E x (-I)*, since current a to b runs into it. */
  private give(e: number, emfRe: number, emfIm: number): void {
    const re = -(emfRe * this.ampsRe[e]! + emfIm * this.ampsIm[e]!);
    const im = -(emfIm * this.ampsRe[e]! - emfRe * this.ampsIm[e]!);
    this.givenRe += re;
    this.givenIm += im;
    this.allPower += Math.sqrt(re * re + im * im);
  }

  private take(re: number, im: number): void {
    this.takenRe += re;
    this.takenIm += im;
    this.allPower += im === 0 ? Math.abs(re) : Math.sqrt(re * re + im * im);
  }

  private currentResidual(): number {
    const { netOf, count } = this.nets;
    const re = new Float64Array(count);
    const im = new Float64Array(count);
    for (let point = 0; point < netOf.length; point++) {
      re[netOf[point]!]! += this.leavingRe[point]!;
      im[netOf[point]!]! += this.leavingIm[point]!;
    }
    let worst = 0;
    for (let net = 0; net < count; net++) {
      const missing = Math.sqrt(re[net]! * re[net]! + im[net]! * im[net]!);
      const slack = this.rounding[net]! + (this.meetsUnknown[net] === 1 ? this.solvedTogether : 0);
      worst = Math.max(worst, shareBeyond(missing, slack, Math.max(this.largestAmps, LEAST_AMPS)));
    }
    return worst;
  }

  private powerResidual(): number {
    let slack = 0;
    for (let net = 0; net < this.rounding.length; net++) {
      slack += (this.rounding[net]! + (this.meetsUnknown[net] === 1 ? this.solvedTogether : 0)) * this.highestVolts;
    }
    const re = this.givenRe - this.takenRe;
    const im = this.givenIm - this.takenIm;
    return shareBeyond(Math.sqrt(re * re + im * im), slack, Math.max(this.allPower, LEAST_AMPS * this.highestVolts));
  }
}

function shareBeyond(missing: number, slack: number, whole: number): number {
  const beyond = missing - slack;
  if (beyond <= 0) return 0;
  return whole > 0 ? beyond / whole : Number.POSITIVE_INFINITY;
}
