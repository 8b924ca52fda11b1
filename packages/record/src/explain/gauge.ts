/** What a meter would show in an operating house, and what that figure leans on. */

import { magnitude } from '@ohmstead/circuit';
import { meter, ohmLimits } from './practice.js';
import type { Live, Operating, Operation, Variant } from './operate.js';

/** Where a meter is held, by node and branch numbers; `block` tells which mains they were. */
export type Spot =
  | {
      readonly kind: 'volts';
      readonly a: number;
      readonly b: number;
      readonly live: Live;
      readonly block: number;
      readonly meterOhms: number;
      /** Set for DC: the figure keeps its sign. */
      readonly signed: boolean;
    }
  | { readonly kind: 'amps'; readonly branch: number; readonly live: Live; readonly block: number }
  | { readonly kind: 'ohms'; readonly a: number; readonly b: number };

export interface Gauged {
  readonly value: number;
  /** Per nuisance, then per block but the first its mains, and last the hypothesis's own spread: change for a whole half-width. */
  readonly gradient: Float64Array;
  /** Half the width of the meter's own band at this figure. */
  readonly meter: number;
  readonly floating: boolean;
  /** How far off it may be besides, because a load may as well hold as let go. */
  readonly doubt?: number;
  /** Of ohms. */
  readonly tells?: 'open' | 'some' | 'ohms';
}

/** Volts without a direction. */
const NOTHING = 1e-6;
/** Gradients cut from one piece. */
const PIECE = 512;

export class Gauge {
  /** Entries of a gradient. */
  readonly width: number;
  #piece = new Float64Array(0);
  #used = 0;
  #zRe = new Float64Array(64);
  #zIm = new Float64Array(64);
  readonly #sumRe: Float64Array;
  readonly #sumIm: Float64Array;

  constructor(
    readonly operation: Operation,
    blocks: number,
  ) {
    this.width = operation.nuisances.length + Math.max(blocks - 1, 0) + 1;
    this.#sumRe = new Float64Array(this.width);
    this.#sumIm = new Float64Array(this.width);
  }

  readonly #kept = new Map<Operating, Map<Spot, Gauged>>();
  readonly #keptOhms = new Map<Variant, Map<Spot, Gauged>>();
  readonly #acrossBranches = new Map<string, Spot>();

  gauge(variant: Variant, spot: Spot): Gauged {
    if (spot.kind === 'ohms') {
      return kept(this.#keptOhms, variant, spot, () => this.#ohms(variant, spot.a, spot.b));
    }
    const operating = this.operation.live(variant, spot.live);
    return kept(this.#kept, operating, spot, () =>
      spot.kind === 'volts' ? this.#volts(operating, spot) : this.#amps(operating, spot),
    );
  }

  /** The spot for a meter right across a branch, the same object each time. */
  acrossBranch(branch: number, live: Live, block: number): Spot {
    const key = `${branch}\t${block}\t${live.key}`;
    let spot = this.#acrossBranches.get(key);
    if (spot === undefined) {
      const { a, b } = this.operation.house.branches[branch]!;
      spot = { kind: 'volts', a, b, live, block, meterOhms: meter.ohmsInput, signed: false };
      this.#acrossBranches.set(key, spot);
    }
    return spot;
  }

  /** A gradient of nothing: cut from a large piece, which is much cheaper than so many small ones. */
  #room(): Float64Array {
    if (this.#used + this.width > this.#piece.length) {
      this.#piece = new Float64Array(PIECE * this.width);
      this.#used = 0;
    }
    this.#used += this.width;
    return this.#piece.subarray(this.#used - this.width, this.#used);
  }

  #volts(operating: Operating, { a, b, block, meterOhms, signed }: Spot & { kind: 'volts' }): Gauged {
    const { network } = operating;
    const behind = magnitude(network.ohms(a, b));
    const loading = meterOhms / (meterOhms + behind);
    const open = network.volts(a, b);
    const volts = { re: open.re * loading, im: open.im * loading };
    const size = magnitude(volts);
    const gradient = this.#gradient(operating, a, b, block, volts, signed, loading);
    return {
      value: signed ? volts.re : size,
      gradient,
      meter: meter.share * size + meter.volts + bendOf(gradient, size),
      doubt: operating.doubt,
      floating: behind > ohmLimits.floating,
    };
  }

  /** Amps are read as the volts across the branch's own ohms. */
  #amps(operating: Operating, { branch, block }: Spot & { kind: 'amps' }): Gauged {
    const { network } = operating;
    const { a, b } = this.operation.house.branches[branch]!;
    const { re, im, emfRe, emfIm } = network.figures(branch);
    const volts = network.volts(a, b);
    const siemens = Math.sqrt(re * re + im * im);
    const driving = { re: volts.re - emfRe, im: volts.im - emfIm };
    const size = magnitude(driving) * siemens;
    const own = this.operation.nuisances.findIndex(({ effects }) => effects.some((effect) => effect.branch === branch));
    const gradient = this.#gradient(operating, a, b, block, driving, false, siemens);
    // More ohms in the branch itself raise its volts, and lower its amps by as much as they are more.
    const share =
      own < 0 ? 0 : (this.operation.nuisances[own]!.effects.find((effect) => effect.branch === branch)!.ohms ?? 0);
    if (own >= 0) gradient[own]! -= size * share;
    return { value: size, gradient, meter: meter.share * size + meter.amps, floating: false };
  }

  #gradient(
    { network, pushes }: Operating,
    a: number,
    b: number,
    block: number,
    at: { readonly re: number; readonly im: number },
    signed: boolean,
    factor: number,
  ): Float64Array {
    const { nuisances: indices, branches, re, im } = pushes;
    const gradient = this.#room();
    const count = branches.length;
    if (this.#zRe.length < count) {
      this.#zRe = new Float64Array(2 * count);
      this.#zIm = new Float64Array(2 * count);
    }
    const [zRe, zIm, sumRe, sumIm] = [this.#zRe, this.#zIm, this.#sumRe.fill(0), this.#sumIm.fill(0)];
    network.across(a, b, branches, zRe, zIm);
    const { nuisances } = this.operation;
    for (let k = 0; k < count; k++) {
      const nuisance = indices[k]!;
      let index = nuisance < 0 ? this.width - 1 : nuisance;
      if (block > 0 && nuisance >= 0 && nuisances[nuisance]!.perBlock === true) index = nuisances.length + block - 1;
      sumRe[index]! += zRe[k]! * re[k]! - zIm[k]! * im[k]!;
      sumIm[index]! += zRe[k]! * im[k]! + zIm[k]! * re[k]!;
    }
    const size = Math.sqrt(at.re * at.re + at.im * at.im);
    for (let index = 0; index < this.width; index++) {
      const [x, y] = [sumRe[index]!, sumIm[index]!];
      if (x === 0 && y === 0) continue;
      const along = signed ? x : size > NOTHING ? (x * at.re + y * at.im) / size : Math.sqrt(x * x + y * y);
      gradient[index] = along * factor;
    }
    return gradient;
  }

  #ohms(variant: Variant, a: number, b: number): Gauged {
    const { most, least, own } = this.operation.ohms(variant, a, b);
    const gradient = this.#room();
    const isAlike = most - least <= meter.ohms + 0.1 * least;
    gradient[this.width - 1] = own;
    return {
      value: most,
      gradient,
      meter: meter.share * most + meter.ohms + 0.15 * most,
      floating: false,
      tells: least > ohmLimits.overRange ? 'open' : isAlike ? 'ohms' : 'some',
    };
  }
}

/** What a straight line leaves out where a figure leans far on something: half the square of its share. */
function bendOf(gradient: Float64Array, size: number): number {
  let sum = 0;
  for (let k = 0; k < gradient.length; k++) sum += gradient[k]! * gradient[k]!;
  return sum === 0 ? 0 : Math.min((0.5 * sum) / Math.max(size, 1e-9), 0.25 * Math.sqrt(sum));
}

function kept<K extends object>(of: Map<K, Map<Spot, Gauged>>, key: K, spot: Spot, make: () => Gauged): Gauged {
  let spots = of.get(key);
  if (spots === undefined) {
    spots = new Map();
    of.set(key, spots);
  }
  let known = spots.get(spot);
  if (known === undefined) {
    known = make();
    spots.set(spot, known);
  }
  return known;
}
