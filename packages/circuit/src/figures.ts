/** Figures of every element in a settled state, and the check that they obey the laws of circuits. */

import { joinAmps } from './joined-amps.js';
import type { Layout, Nets } from './layout.js';
import type { ElementFigures, LoadCondition, Phasor } from './network.js';
import { add, conjugate, magnitude, multiply, negate, polar, power, scale, subtract, ZERO } from './phasor.js';
import { loadAmps, type Settled } from './settle.js';

/** Share of the largest current or of all power that may be missing from a balance. */
export const BALANCE_WITHIN = 1e-9;

/** Rounding of a current taken from the volts of its ends, as a share of volts times siemens. */
const ROUNDING = 2e-12;

/** A current that is no more than the last bits of its ends' volts is none. */
const LAST_BITS = 8e-16;

export interface Figures {
  /** Per element. */
  readonly elements: readonly ElementFigures[];
  /** By how much the worst balance fails beyond rounding: a share of the largest current, or of all power given. */
  readonly residual: number;
}

interface Draft {
  readonly volts: Phasor;
  readonly amps: Phasor;
  readonly on: boolean;
  /** Complex power given by an EMF, and taken in by ohms, reactance or a load. */
  readonly given: Phasor;
  readonly taken: Phasor;
  /** How far rounding alone may put the current off. */
  readonly rounding: number;
}

const DEAD: Draft = { volts: ZERO, amps: ZERO, on: false, given: ZERO, taken: ZERO, rounding: 0 };

export function figuresOf(layout: Layout, nets: Nets, settled: Settled, condition: LoadCondition): Figures {
  const { operating } = settled;
  const { part, live } = operating.equations;
  const voltsAt = (point: number): Phasor => {
    const net = nets.netOf[point]!;
    return { re: operating.netRe[net]!, im: operating.netIm[net]! };
  };
  const balance = new Balance(layout, nets);
  const drafts = layout.elements.map((element, e): Draft => {
    const a = layout.a[e]!;
    const b = layout.b[e]!;
    const net = nets.netOf[a]!;
    if (live[net] !== 1 || part[net] !== part[nets.netOf[b]!]) return DEAD;
    const va = voltsAt(a);
    const vb = voltsAt(b);
    const volts = subtract(va, vb);
    if (nets.joined[e] === 1) return { ...DEAD, volts, on: true };
    const draft = draftOf(layout, settled, condition, e, volts, magnitude(va) + magnitude(vb));
    balance.pass(a, b, draft.amps, draft.rounding);
    if (element.kind === 'source' && element.fedBy !== undefined) {
      const ratio = polar(element.fedBy.ratio, element.phase);
      const primary = negate(multiply(conjugate(ratio), draft.amps));
      balance.pass(layout.fedA[e]!, layout.fedB[e]!, primary, draft.rounding * magnitude(ratio));
    }
    return draft;
  });
  const residual = Math.max(balance.currentResidual(), balance.powerResidual(drafts, layout.scaleVolts));
  const joined = joinAmps(layout, nets, balance.leavingRe, balance.leavingIm);
  const elements = drafts.map(({ volts, amps, on }, e): ElementFigures => {
    return { volts, amps: nets.joined[e] === 1 && on ? joined[e]! : amps, on };
  });
  return { elements, residual };
}

/** Currents summed at points and nets. */
class Balance {
  /** Current that leaves each point through what is not an ideal connection. */
  readonly leavingRe: Float64Array;
  readonly leavingIm: Float64Array;
  private readonly rounding: Float64Array;
  private largest = 0;

  constructor(
    layout: Layout,
    private readonly nets: Nets,
  ) {
    this.leavingRe = new Float64Array(layout.points.length);
    this.leavingIm = new Float64Array(layout.points.length);
    this.rounding = new Float64Array(nets.count);
  }

  pass(from: number, to: number, amps: Phasor, rounding: number): void {
    this.leavingRe[from]! += amps.re;
    this.leavingIm[from]! += amps.im;
    this.leavingRe[to]! -= amps.re;
    this.leavingIm[to]! -= amps.im;
    this.rounding[this.nets.netOf[from]!]! += rounding;
    this.rounding[this.nets.netOf[to]!]! += rounding;
    const size = magnitude(amps);
    if (!(size <= this.largest)) this.largest = size;
  }

  currentResidual(): number {
    const re = new Float64Array(this.nets.count);
    const im = new Float64Array(this.nets.count);
    this.nets.netOf.forEach((net, point) => {
      re[net]! += this.leavingRe[point]!;
      im[net]! += this.leavingIm[point]!;
    });
    let worst = 0;
    for (let net = 0; net < re.length; net++) {
      const missing = Math.sqrt(re[net]! * re[net]! + im[net]! * im[net]!);
      worst = Math.max(worst, shareBeyond(missing, this.rounding[net]!, this.largest));
    }
    return worst;
  }

  powerResidual(drafts: readonly Draft[], scaleVolts: number): number {
    let given = ZERO;
    let taken = ZERO;
    let all = 0;
    let highest = scaleVolts;
    for (const draft of drafts) {
      given = add(given, draft.given);
      taken = add(taken, draft.taken);
      all += magnitude(draft.given) + magnitude(draft.taken);
      highest = Math.max(highest, magnitude(draft.volts));
    }
    let slack = 0;
    for (const rounding of this.rounding) slack += rounding * highest;
    return shareBeyond(magnitude(subtract(given, taken)), slack, all);
  }
}

function shareBeyond(missing: number, slack: number, whole: number): number {
  const beyond = missing - slack;
  if (beyond <= 0) return 0;
  return whole > 0 ? beyond / whole : Number.POSITIVE_INFINITY;
}

function draftOf(
  layout: Layout,
  settled: Settled,
  condition: LoadCondition,
  e: number,
  volts: Phasor,
  height: number,
): Draft {
  const element = layout.elements[e]!;
  switch (element.kind) {
    case 'power':
    case 'current': {
      const asked = element.kind === 'power' ? element.voltAmperes[condition] : element.amps[condition];
      const enough = magnitude(volts) > 0 && magnitude(volts) >= element.staysOnFrom;
      if (asked === 0) return { ...DEAD, volts, on: enough };
      if (settled.on[e] !== 1) return { ...DEAD, volts };
      const amps = loadAmps(layout, e, condition, volts);
      return { volts, amps, on: true, given: ZERO, taken: power(volts, amps), rounding: ROUNDING * magnitude(amps) };
    }
    case 'source':
      return sourceDraft(layout, settled, e, volts, height);
    case 'impedance':
    case 'bypass': {
      if (settled.operating.equations.conducting[e] !== 1) return { ...DEAD, volts };
      return { ...throughOhms(layout, settled, e, volts, ZERO, height), on: true };
    }
    default:
      return { ...DEAD, volts };
  }
}

function sourceDraft(layout: Layout, settled: Settled, e: number, volts: Phasor, height: number): Draft {
  const element = layout.elements[e]!;
  if (element.kind !== 'source') return DEAD;
  const fed = element.fedBy !== undefined;
  const emf = fed ? ZERO : polar(element.volts, element.system === 'DC' ? 0 : element.phase);
  const through = throughOhms(layout, settled, e, volts, emf, height + magnitude(emf));
  return { ...through, given: fed ? ZERO : power(emf, negate(through.amps)), on: true };
}

/** Current through the ohms of an element whose ends differ by `volts`, of which `emf` is its own; the power lost in them. */
function throughOhms(
  layout: Layout,
  settled: Settled,
  e: number,
  volts: Phasor,
  emf: Phasor,
  height: number,
): Omit<Draft, 'on'> {
  const { equations, branchRe, branchIm } = settled.operating;
  const z = { re: layout.ohms[e]!, im: equations.reactance[e]! };
  const square = z.re * z.re + z.im * z.im;
  const branch = equations.branchOf[e]!;
  const across = subtract(volts, emf);
  const none = branch < 0 && (square === 0 || magnitude(across) <= LAST_BITS * height);
  const amps: Phasor = none
    ? ZERO
    : branch >= 0
      ? { re: branchRe[branch]!, im: branchIm[branch]! }
      : scale(multiply(across, conjugate(z)), 1 / square);
  const size = magnitude(amps);
  const rounding = branch >= 0 ? ROUNDING * size : (ROUNDING * height) / Math.sqrt(square);
  return { volts, amps, given: ZERO, taken: scale(z, size * size), rounding };
}
