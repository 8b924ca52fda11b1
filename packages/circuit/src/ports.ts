/**
 * Constant-power and constant-current loads against a linear network reduced to its ports: v = v0 + Z x(v), where x is what the loads draw
 * beyond the siemens that stand in for them. Newton comes down from the lightly loaded side; beyond the nose of the curve the determinant of
 * its matrix is no longer positive.
 */

import { solveReal } from './dense.js';
import type { LoadedNetwork } from './loaded-network.js';

export interface Ports {
  readonly count: number;
  /** Per port: volt-amperes asked, amperes asked, and siemens standing in for both. */
  readonly voltAmperes: Float64Array;
  readonly amperes: Float64Array;
  readonly siemens: Float64Array;
  /** Volts with the stand-ins alone. */
  readonly startRe: Float64Array;
  readonly startIm: Float64Array;
  /** Volts at port p for one ampere drawn at port q, row-major; worked out when it is first asked for. */
  readonly impedances: () => { readonly re: Float64Array; readonly im: Float64Array };
  /** Volts with these currents drawn beyond the stand-ins. */
  readonly respond: (drawnRe: Float64Array, drawnIm: Float64Array) => PortVolts;
  /** Newton with the sparsity of the network, where there are many ports and it can be had. */
  readonly network: LoadedNetwork | undefined;
  readonly scaleVolts: number;
}

export interface PortVolts {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

const MOST_STEPS = 80;
const STEP_ENOUGH = 1e-13;
const STEP_TOLERABLE = 1e-9;
const RESIDUAL_ENOUGH = 1e-11;
const SMALLEST_SHARE_STEP = 1e-9;

/** With more ports than this Newton's matrix is dear: plain substitution comes first, and a share is found less finely. */
export const MANY_PORTS = 24;
const MOST_SUBSTITUTIONS = 400;

/** Of more ports Newton's matrix would take minutes. */
const MOST_PORTS_AT_ONCE = 200;
const SMALLEST_SHARE_STEP_OF_MANY = 1e-6;

/** Amperes of a port's loads at these volts, with `share` of the draw asked. */
export function portAmps(ports: Ports, p: number, re: number, im: number, share: number): { re: number; im: number } {
  const size = Math.sqrt(re * re + im * im);
  if (size === 0) return { re: 0, im: 0 };
  const factor = (share * (ports.voltAmperes[p]! / size + ports.amperes[p]!)) / size;
  return { re: factor * re, im: factor * im };
}

/** The operating point for a share of the draw, coming from `from`; `undefined` when Newton finds none. */
export function operatingVolts(ports: Ports, share: number, from: PortVolts): PortVolts | undefined {
  const m = ports.count;
  if (ports.network !== undefined) return ports.network.operatingVolts(ports, share);
  if (m > MANY_PORTS) {
    const substituted = substitute(ports, share, from);
    if (substituted !== 'undecided') return substituted;
    if (m > MOST_PORTS_AT_ONCE) return undefined;
  }
  const re = Float64Array.from(from.re);
  const im = Float64Array.from(from.im);
  const matrix = new Float64Array(4 * m * m);
  const rhs = new Float64Array(2 * m);
  let last = Number.POSITIVE_INFINITY;
  for (let step = 0; step < MOST_STEPS; step++) {
    const residual = linearise(ports, share, re, im, matrix, rhs);
    if (solveReal(matrix, rhs) <= 0) return undefined;
    let largest = 0;
    for (let p = 0; p < m; p++) {
      const dr = rhs[2 * p]!;
      const di = rhs[2 * p + 1]!;
      const nr = re[p]! - dr;
      const ni = im[p]! - di;
      if (!Number.isFinite(nr + ni)) return undefined;
      const turnedOver = nr * re[p]! + ni * im[p]! <= 0;
      if (turnedOver) return undefined;
      re[p] = nr;
      im[p] = ni;
      largest = Math.max(largest, Math.abs(dr), Math.abs(di));
    }
    const close = largest <= STEP_TOLERABLE * ports.scaleVolts && residual <= RESIDUAL_ENOUGH * ports.scaleVolts;
    if (largest <= STEP_ENOUGH * ports.scaleVolts || (close && largest > last / 2)) return { re, im };
    last = largest;
  }
  return undefined;
}

/** Puts the loads' currents back into the network until the volts stand still; `undefined` when they fall over, 'undecided' when they creep. */
function substitute(ports: Ports, share: number, from: PortVolts): PortVolts | undefined | 'undecided' {
  const m = ports.count;
  const re = Float64Array.from(from.re);
  const im = Float64Array.from(from.im);
  const xr = new Float64Array(m);
  const xi = new Float64Array(m);
  for (let step = 0; step < MOST_SUBSTITUTIONS; step++) {
    for (let q = 0; q < m; q++) {
      const through = portAmps(ports, q, re[q]!, im[q]!, share);
      xr[q] = through.re - ports.siemens[q]! * re[q]!;
      xi[q] = through.im - ports.siemens[q]! * im[q]!;
    }
    const next = ports.respond(xr, xi);
    let largest = 0;
    for (let p = 0; p < m; p++) {
      const nr = next.re[p]!;
      const ni = next.im[p]!;
      if (!(nr * re[p]! + ni * im[p]! > 0)) return undefined;
      largest = Math.max(largest, Math.abs(nr - re[p]!), Math.abs(ni - im[p]!));
      re[p] = nr;
      im[p] = ni;
    }
    if (largest <= STEP_ENOUGH * ports.scaleVolts) return { re, im };
  }
  return 'undecided';
}

/** Fills Newton's matrix and right-hand side; the largest residual in volts. */
function linearise(
  ports: Ports,
  share: number,
  re: Float64Array,
  im: Float64Array,
  matrix: Float64Array,
  rhs: Float64Array,
): number {
  const m = ports.count;
  const width = 2 * m;
  const { re: zRe, im: zIm } = ports.impedances();
  matrix.fill(0);
  for (let p = 0; p < m; p++) {
    rhs[2 * p] = re[p]! - ports.startRe[p]!;
    rhs[2 * p + 1] = im[p]! - ports.startIm[p]!;
    matrix[2 * p * width + 2 * p] = 1;
    matrix[(2 * p + 1) * width + 2 * p + 1] = 1;
  }
  for (let q = 0; q < m; q++) {
    const vr = re[q]!;
    const vi = im[q]!;
    const size = Math.sqrt(vr * vr + vi * vi);
    const ur = vr / size;
    const ui = vi / size;
    const g = ports.siemens[q]!;
    const constantPower = (share * ports.voltAmperes[q]!) / (size * size);
    const constantCurrent = (share * ports.amperes[q]!) / size;
    const along = constantPower + constantCurrent - g;
    const twist = 2 * constantPower + constantCurrent;
    const xr = (constantPower + constantCurrent - g) * vr;
    const xi = (constantPower + constantCurrent - g) * vi;
    const d11 = along - twist * ur * ur;
    const d12 = -twist * ur * ui;
    const d22 = along - twist * ui * ui;
    for (let p = 0; p < m; p++) {
      const zr = zRe[p * m + q]!;
      const zi = zIm[p * m + q]!;
      rhs[2 * p]! -= zr * xr - zi * xi;
      rhs[2 * p + 1]! -= zr * xi + zi * xr;
      const at = 2 * p * width + 2 * q;
      matrix[at]! -= zr * d11 - zi * d12;
      matrix[at + 1]! -= zr * d12 - zi * d22;
      matrix[at + width]! -= zi * d11 + zr * d12;
      matrix[at + width + 1]! -= zi * d12 + zr * d22;
    }
  }
  let residual = 0;
  for (let k = 0; k < width; k++) residual = Math.max(residual, Math.abs(rhs[k]!));
  return residual;
}

export interface Traced {
  /** The largest share of the draw for which an operating point was found; 1 when all of it. */
  readonly share: number;
  readonly volts: PortVolts;
}

/** Follows the operating point as the loads are scaled up from nothing, halfway to the least share that was too much. */
export function traceLoading(ports: Ports): Traced {
  let volts: PortVolts = { re: ports.startRe, im: ports.startIm };
  let share = 0;
  const finest = ports.count > MANY_PORTS ? SMALLEST_SHARE_STEP_OF_MANY : SMALLEST_SHARE_STEP;
  const tooMuch: number[] = [];
  for (let isLast = false; share < 1 && !isLast; ) {
    const least = tooMuch.at(-1) ?? 1;
    // Once nothing lies between, what was too much from afar is tried from close by.
    isLast = least - share < 2 * finest;
    const next = tooMuch.length === 0 && share > 0 ? 1 : isLast ? least : (share + least) / 2;
    const found = operatingVolts(ports, next, volts);
    if (found === undefined) {
      if (!isLast) tooMuch.push(next);
      continue;
    }
    volts = found;
    share = next;
    if (!isLast) continue;
    tooMuch.pop();
    isLast = false;
  }
  return { share, volts };
}
