/** Figures of every element in a settled state, and the check that they obey the laws of circuits. */

import { BYPASS, CURRENT, DIODE, IMPEDANCE, POWER, SOURCE } from './columns.js';
import { cycleFigures } from './cycle-figures.js';
import { DIODE_OHMS, diodeAmps } from './diodes.js';
import { joinAmps } from './joined-amps.js';
import { emfOf, type Layout, type Nets } from './layout.js';
import type { CurrentLoad, ElementFigures, LoadCondition, Phasor, PowerLoad, Source } from './network.js';
import { conjugate, magnitude, multiply, negate, polar, power, scale, ZERO } from './phasor.js';
import { drawOf, leakWhileOff } from './operate.js';
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
  if (zIm === 0) return { re: re / zRe, im: im / zRe };
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
  const flows = new Flows(layout, nets, settled, condition);
  let joined: readonly (Phasor | null | undefined)[] | undefined;
  return {
    residual: new Balance(layout, nets, settled, flows).residual(),
    between: (from, to) => ({ re: netRe[from]! - netRe[to]!, im: netIm[from]! - netIm[to]! }),
    figuresOf(e) {
      const flow = flows.of(e);
      if (flow === undefined) return { volts: ZERO, amps: ZERO, on: false };
      const { volts, on } = flow;
      if (nets.joined[e] !== 1) return { volts, amps: flow.amps, on };
      joined ??= joinedAmps(layout, nets, flows);
      return { volts, amps: joined[e]!, on };
    },
  };
}

/** Amps of ideal connections, from what leaves each point through everything else. */
function joinedAmps(layout: Layout, nets: Nets, flows: Flows): readonly (Phasor | null | undefined)[] {
  const re = new Float64Array(layout.points.length);
  const im = new Float64Array(layout.points.length);
  const pass = (from: number, to: number, amps: Phasor): void => {
    re[from]! += amps.re;
    im[from]! += amps.im;
    re[to]! -= amps.re;
    im[to]! -= amps.im;
  };
  for (let e = 0; e < layout.kind.length; e++) {
    if (nets.joined[e] === 1) continue;
    const flow = flows.of(e);
    if (flow === undefined) continue;
    pass(layout.a[e]!, layout.b[e]!, flow.amps);
    if (flow.primary !== undefined) pass(layout.fedA[e]!, layout.fedB[e]!, flow.primary);
  }
  return joinAmps(layout, nets, re, im);
}

interface Flow {
  readonly volts: Phasor;
  readonly amps: Phasor;
  readonly on: boolean;
  /** Amps into the primary of a fed winding. */
  readonly primary?: Phasor;
  /** How far rounding alone may put the amps off. */
  readonly rounding: number;
  /** Power that its EMF gives. */
  readonly given: Phasor;
  /** Power that it takes in. */
  readonly taken: Phasor;
}

/** What flows through elements, worked out from the volts of nets for each that is asked for. */
class Flows {
  constructor(
    private readonly layout: Layout,
    private readonly nets: Nets,
    private readonly settled: Settled,
    private readonly condition: LoadCondition,
  ) {}

  /** `undefined` for an element in a part without a source, or between two parts. */
  of(e: number): Flow | undefined {
    const { layout, nets, settled } = this;
    const { equations, netRe, netIm } = settled.operating;
    const a = nets.netOf[layout.a[e]!]!;
    const b = nets.netOf[layout.b[e]!]!;
    if (equations.live[a] !== 1 || equations.part[a] !== equations.part[b]) return undefined;
    const volts = { re: netRe[a]! - netRe[b]!, im: netIm[a]! - netIm[b]! };
    if (nets.joined[e] === 1) return still(volts, true);
    const height = Math.abs(netRe[a]!) + Math.abs(netIm[a]!) + Math.abs(netRe[b]!) + Math.abs(netIm[b]!);
    switch (layout.kind[e]) {
      case IMPEDANCE:
      case BYPASS:
        return equations.conducting[e] === 1 ? this.throughOhms(e, volts, ZERO, height) : still(volts, false);
      case SOURCE:
        return this.source(e, volts, height);
      case DIODE:
        return this.diode(e, volts, height);
      case POWER:
      case CURRENT:
        return this.load(e, volts);
      default:
        return still(volts, false);
    }
  }

  private source(e: number, volts: Phasor, height: number): Flow {
    const { fedBy, phase } = this.layout.elementAt(e) as Source;
    if (fedBy === undefined) {
      const emf = emfOf(this.layout, e);
      const flow = this.throughOhms(e, volts, emf, height + Math.abs(emf.re) + Math.abs(emf.im));
      // E x (-I)*, since current a to b runs into the EMF.
      return { ...flow, given: negate(power(emf, flow.amps)) };
    }
    const flow = this.throughOhms(e, volts, ZERO, height);
    const turn = polar(fedBy.ratio, phase);
    return { ...flow, primary: negate(multiply(conjugate(turn), flow.amps)) };
  }

  private diode(e: number, volts: Phasor, height: number): Flow {
    const on = this.settled.on[e] === 1;
    const amps = diodeAmps(volts.re, on);
    return {
      volts,
      amps: { re: amps, im: 0 },
      on,
      rounding: on ? (ROUNDING * height) / DIODE_OHMS : 0,
      given: ZERO,
      taken: { re: volts.re * amps, im: 0 },
    };
  }

  private load(e: number, volts: Phasor): Flow {
    const size = magnitude(volts);
    if (drawOf(this.layout, e, this.condition) === 0) {
      const { staysOnFrom } = this.layout.elementAt(e) as PowerLoad | CurrentLoad;
      return still(volts, size > 0 && size >= staysOnFrom);
    }
    const on = this.settled.on[e] === 1;
    const leak = on ? 0 : leakWhileOff(this.layout, e, this.condition);
    if (!on && leak === 0) return still(volts, false);
    const amps = on ? loadAmps(this.layout, e, this.condition, volts) : scale(volts, leak);
    const through = magnitude(amps);
    return { volts, amps, on, rounding: ROUNDING * through, given: ZERO, taken: { re: through * size, im: 0 } };
  }

  /** Current through the ohms of an element whose ends differ by its volts, of which the EMF is its own. */
  private throughOhms(e: number, volts: Phasor, emf: Phasor, height: number): Flow {
    const { equations, branchRe, branchIm } = this.settled.operating;
    const zRe = this.layout.ohms[e]!;
    const zIm = equations.reactance[e]!;
    const branch = equations.branchOf[e]!;
    const amps =
      branch >= 0
        ? { re: branchRe[branch]!, im: branchIm[branch]! }
        : ampsThrough(volts.re - emf.re, volts.im - emf.im, zRe, zIm, height);
    const rounding =
      branch >= 0 ? ROUNDING * (Math.abs(amps.re) + Math.abs(amps.im)) : (ROUNDING * height) / sizeOf(zRe, zIm);
    const square = amps.re * amps.re + amps.im * amps.im;
    return { volts, amps, on: true, rounding, given: ZERO, taken: { re: square * zRe, im: square * zIm } };
  }
}

function still(volts: Phasor, on: boolean): Flow {
  return { volts, amps: ZERO, on, rounding: 0, given: ZERO, taken: ZERO };
}

function sizeOf(re: number, im: number): number {
  return im === 0 ? Math.abs(re) : Math.sqrt(re * re + im * im);
}

/** The balances of currents at every net and of power, element by element. */
class Balance {
  /** Per net: current that leaves it. */
  private readonly leavingRe: Float64Array;
  private readonly leavingIm: Float64Array;
  /** Per net: how far rounding alone may put the balance off. */
  private readonly rounding: Float64Array;
  /** Nets at which current unknowns end. */
  private readonly meetsUnknown = new Set<number>();
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
    flows: Flows,
  ) {
    const { equations } = settled.operating;
    this.leavingRe = new Float64Array(nets.count);
    this.leavingIm = equations.isReal ? this.leavingRe : new Float64Array(nets.count);
    this.rounding = new Float64Array(nets.count);
    this.highestVolts = layout.scaleVolts;
    if (equations.isReal) this.takeReal();
    else this.takeComplex();
    for (const e of equations.apart) {
      const flow = nets.joined[e] === 1 ? undefined : flows.of(e);
      if (flow !== undefined) this.take(e, flow);
    }
  }

  /** All admittances of impedances, where nothing has an imaginary part: nearly all there is. */
  private takeReal(): void {
    const { layout, nets, leavingRe, rounding } = this;
    const { equations, netRe } = this.settled.operating;
    const { kind, ohms, a: from, b: to } = layout;
    const { netOf } = nets;
    const { admittances } = equations;
    let { highestVolts, largestAmps, solvedTogether, takenRe } = this;
    for (let k = 0; k < admittances.length; k++) {
      const e = admittances[k]!;
      if (e < 0 || kind[e] !== IMPEDANCE) continue;
      const a = netOf[from[e]!]!;
      const b = netOf[to[e]!]!;
      const va = netRe[a]!;
      const vb = netRe[b]!;
      const siemens = 1 / ohms[e]!;
      const volts = va - vb;
      const size = Math.abs(volts);
      const height = Math.abs(va) + Math.abs(vb);
      const slack = ROUNDING * height * siemens;
      rounding[a]! += slack;
      rounding[b]! += slack;
      if (slack > solvedTogether) solvedTogether = slack;
      if (size > highestVolts) highestVolts = size;
      if (size <= LAST_BITS * height) continue;
      const amps = volts * siemens;
      leavingRe[a]! += amps;
      leavingRe[b]! -= amps;
      takenRe += amps * volts;
      if (size * siemens > largestAmps) largestAmps = size * siemens;
    }
    this.highestVolts = highestVolts;
    this.largestAmps = largestAmps;
    this.solvedTogether = solvedTogether;
    this.takenRe = takenRe;
    this.allPower = takenRe;
  }

  private takeComplex(): void {
    const { layout, nets, leavingRe, leavingIm, rounding } = this;
    const { equations, netRe, netIm } = this.settled.operating;
    const { kind, ohms, a: from, b: to } = layout;
    const { netOf } = nets;
    const { admittances, reactance } = equations;
    let { solvedTogether, takenRe, takenIm, allPower } = this;
    let highestSquare = this.highestVolts * this.highestVolts;
    let largestSquare = 0;
    for (let k = 0; k < admittances.length; k++) {
      const e = admittances[k]!;
      if (e < 0 || kind[e] !== IMPEDANCE) continue;
      const a = netOf[from[e]!]!;
      const b = netOf[to[e]!]!;
      const ar = netRe[a]!;
      const ai = netIm[a]!;
      const br = netRe[b]!;
      const bi = netIm[b]!;
      const re = ar - br;
      const im = ai - bi;
      const voltsSquare = re * re + im * im;
      if (voltsSquare > highestSquare) highestSquare = voltsSquare;
      const height = Math.abs(ar) + Math.abs(ai) + Math.abs(br) + Math.abs(bi);
      const zRe = ohms[e]!;
      const zIm = reactance[e]!;
      const square = zRe * zRe + zIm * zIm;
      const inverse = 1 / square;
      const siemens = zIm === 0 ? zRe * inverse : Math.sqrt(inverse);
      const slack = ROUNDING * height * siemens;
      rounding[a]! += slack;
      rounding[b]! += slack;
      if (slack > solvedTogether) solvedTogether = slack;
      if (Math.abs(re) + Math.abs(im) <= LAST_BITS * height) continue;
      const ir = (re * zRe + im * zIm) * inverse;
      const ii = (im * zRe - re * zIm) * inverse;
      leavingRe[a]! += ir;
      leavingIm[a]! += ii;
      leavingRe[b]! -= ir;
      leavingIm[b]! -= ii;
      const ampsSquare = ir * ir + ii * ii;
      if (ampsSquare > largestSquare) largestSquare = ampsSquare;
      takenRe += ampsSquare * zRe;
      takenIm += ampsSquare * zIm;
      allPower += ampsSquare * square * siemens;
    }
    this.highestVolts = Math.sqrt(highestSquare);
    this.largestAmps = Math.sqrt(largestSquare);
    this.solvedTogether = solvedTogether;
    this.takenRe = takenRe;
    this.takenIm = takenIm;
    this.allPower = allPower;
  }

  private take(e: number, { volts, amps, primary, rounding, given, taken }: Flow): void {
    const { layout, nets } = this;
    const { netOf } = nets;
    this.highestVolts = Math.max(this.highestVolts, magnitude(volts));
    const hasOhms = layout.kind[e] === IMPEDANCE || layout.kind[e] === BYPASS || layout.kind[e] === SOURCE;
    const isUnknown = this.settled.operating.equations.branchOf[e]! >= 0;
    if (hasOhms && !isUnknown) this.solvedTogether = Math.max(this.solvedTogether, rounding);
    this.pass(netOf[layout.a[e]!]!, netOf[layout.b[e]!]!, amps, rounding, isUnknown);
    if (primary !== undefined) {
      const { fedBy } = layout.elementAt(e) as Source;
      const slack = rounding * Math.abs(fedBy!.ratio);
      this.pass(netOf[layout.fedA[e]!]!, netOf[layout.fedB[e]!]!, primary, slack, isUnknown);
    }
    this.givenRe += given.re;
    this.givenIm += given.im;
    this.takenRe += taken.re;
    this.takenIm += taken.im;
    this.allPower += magnitude(given) + magnitude(taken);
  }

  private pass(from: number, to: number, amps: Phasor, rounding: number, isUnknown: boolean): void {
    const { leavingRe, leavingIm } = this;
    leavingRe[from]! += amps.re;
    leavingRe[to]! -= amps.re;
    if (leavingIm !== leavingRe) {
      leavingIm[from]! += amps.im;
      leavingIm[to]! -= amps.im;
    }
    this.rounding[from]! += rounding;
    this.rounding[to]! += rounding;
    this.largestAmps = Math.max(this.largestAmps, magnitude(amps));
    if (isUnknown) this.meetsUnknown.add(from).add(to);
  }

  /** By how much the worst balance of currents fails, or that of power. */
  residual(): number {
    const { leavingRe, leavingIm, rounding, meetsUnknown, solvedTogether } = this;
    const isReal = leavingRe === leavingIm;
    const hasUnknown = meetsUnknown.size > 0;
    let beyond = 0;
    let allSlack = 0;
    for (let net = 0; net < leavingRe.length; net++) {
      const re = leavingRe[net]!;
      const missing = isReal ? Math.abs(re) : Math.sqrt(re * re + leavingIm[net]! * leavingIm[net]!);
      const slack = hasUnknown && meetsUnknown.has(net) ? rounding[net]! + solvedTogether : rounding[net]!;
      allSlack += slack;
      if (!(missing - slack <= beyond)) beyond = missing - slack;
    }
    const { highestVolts, allPower } = this;
    const re = this.givenRe - this.takenRe;
    const im = this.givenIm - this.takenIm;
    const powerBeyond = Math.sqrt(re * re + im * im) - allSlack * highestVolts;
    return Math.max(
      shareBeyond(beyond, Math.max(this.largestAmps, LEAST_AMPS)),
      shareBeyond(powerBeyond, Math.max(allPower, LEAST_AMPS * highestVolts)),
    );
  }
}

function shareBeyond(beyond: number, whole: number): number {
  if (beyond <= 0) return 0;
  return whole > 0 ? beyond / whole : Number.POSITIVE_INFINITY;
}
