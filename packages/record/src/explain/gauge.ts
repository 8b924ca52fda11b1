/** What a meter would show in an operating house, and what that figure leans on. */

import { magnitude } from '@ohmstead/circuit';
import { meter, ohmLimits } from './practice.js';
import type { Live, Operating, Operation, Push, Variant } from './operate.js';

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
  /** Of ohms. */
  readonly tells?: 'open' | 'some' | 'ohms';
}

export class Gauge {
  /** Entries of a gradient. */
  readonly width: number;

  constructor(
    readonly operation: Operation,
    blocks: number,
  ) {
    this.width = operation.nuisances.length + Math.max(blocks - 1, 0) + 1;
  }

  gauge(variant: Variant, spot: Spot): Gauged {
    if (spot.kind === 'ohms') return this.#ohms(variant, spot.a, spot.b);
    const operating = this.operation.live(variant, spot.live);
    return spot.kind === 'volts' ? this.#volts(operating, spot) : this.#amps(operating, spot);
  }

  #volts(operating: Operating, spot: Spot & { kind: 'volts' }): Gauged {
    const { a, b, block, meterOhms, signed } = spot;
    const { network } = operating;
    const seen = network.seenFrom(a, b);
    const behind = seen(a, b);
    const loading = meterOhms / (meterOhms + magnitude(behind));
    const open = network.volts(a, b);
    const volts = { re: open.re * loading, im: open.im * loading };
    const size = magnitude(volts);
    const gradient = this.#gradient(
      operating,
      block,
      (branch) => {
        const { a: x, b: y } = this.operation.house.branches[branch]!;
        return seen(x, y);
      },
      volts,
      signed,
      loading,
    );
    return {
      value: signed ? volts.re : size,
      gradient,
      meter: meter.share * size + meter.volts,
      floating: magnitude(behind) > ohmLimits.floating,
    };
  }

  #amps(operating: Operating, { branch, block }: Spot & { kind: 'amps' }): Gauged {
    const { network } = operating;
    const { a, b } = this.operation.house.branches[branch]!;
    const { re, im } = network.figures(branch);
    const seen = network.seenFrom(a, b);
    const amps = network.amps(branch);
    const size = magnitude(amps);
    const gradient = this.#gradient(
      operating,
      block,
      (other) => {
        const { a: x, b: y } = this.operation.house.branches[other]!;
        const z = seen(x, y);
        const through = { re: z.re * re - z.im * im, im: z.re * im + z.im * re };
        return other === branch ? { re: through.re - 1, im: through.im } : through;
      },
      amps,
      false,
      1,
    );
    return { value: size, gradient, meter: meter.share * size + meter.amps, floating: false };
  }

  #gradient(
    { pushes, ownPushes }: Operating,
    block: number,
    transfer: (branch: number) => { re: number; im: number },
    at: { re: number; im: number },
    signed: boolean,
    factor: number,
  ): Float64Array {
    const gradient = new Float64Array(this.width);
    const moved = new Map<number, { re: number; im: number }>();
    const add = (index: number, { branch, re, im }: Push): void => {
      const z = transfer(branch);
      const sum = moved.get(index) ?? { re: 0, im: 0 };
      moved.set(index, { re: sum.re + z.re * re - z.im * im, im: sum.im + z.re * im + z.im * re });
    };
    const { nuisances } = this.operation;
    for (const push of pushes) {
      const isLaterMains = nuisances[push.nuisance]!.perBlock === true && block > 0;
      add(isLaterMains ? nuisances.length + block - 1 : push.nuisance, push);
    }
    for (const push of ownPushes) add(this.width - 1, push);
    const size = magnitude(at);
    for (const [index, { re, im }] of moved) {
      const along = signed ? re : size > 1e-6 ? (re * at.re + im * at.im) / size : magnitude({ re, im });
      gradient[index] = along * factor;
    }
    return gradient;
  }

  #ohms(variant: Variant, a: number, b: number): Gauged {
    const { most, least, own } = this.operation.ohms(variant, a, b);
    const gradient = new Float64Array(this.width);
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
