/** What a meter would show in an operating house, and what that figure leans on. */

import type { Island } from './islands.js';
import { type Condition, IDLE, type Live, type Operation, type Variant } from './operate.js';
import type { Operating } from './operating.js';
import { meter, ohmLimits, sound } from './practice.js';

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
  /** `live`: contacts held, the supplies isolated. */
  | { readonly kind: 'ohms'; readonly a: number; readonly b: number; readonly live?: Live };

export interface Gauged {
  readonly id: number;
  readonly value: number;
  /** Change for a whole half-width of each of what `axes` numbers; last the hypothesis's own spread. */
  readonly gradient: Float64Array;
  /** Numbers of the gradient's entries: a nuisance's own; after all of them one per block but the first, its mains; last the own spread. */
  readonly axes: Int32Array;
  /** Half the width of the meter's own band at this figure. */
  readonly meter: number;
  readonly floating: boolean;
  /** How far off it may be besides, because a load may as well hold as let go. */
  readonly doubt?: number;
  /** Of ohms. */
  readonly tells?: 'open' | 'some' | 'ohms';
}

/** A spot within its island; none where it is between two islands. */
interface Place {
  readonly condition: Condition;
  readonly axes: Int32Array;
  readonly a: number;
  readonly b: number;
}

/** Figures of gradients that are allotted at once. */
const PIECE = 8192;

export class Gauge {
  /** Numbers of axes. */
  readonly width: number;
  readonly #blocks: number;
  readonly #places = new Map<Spot, Place | 'apart'>();
  readonly #ohms = new Map<Variant, Map<Spot, Gauged>>();
  readonly #axes = new Map<string, Int32Array>();
  readonly #acrossBranches = new WeakMap<Live, Spot[]>();
  readonly #spots = new Map<string, Spot>();
  readonly #apart: Gauged;
  readonly #apartOhms: Gauged;
  #count = 2;
  #piece = new Float64Array(0);
  #used = 0;

  constructor(
    readonly operation: Operation,
    blocks: number,
  ) {
    this.#blocks = Math.max(blocks - 1, 0);
    this.width = operation.nuisances.length + this.#blocks + 1;
    const nothing = { gradient: new Float64Array(1), axes: this.#ownAxes() };
    this.#apart = { id: 0, value: 0, ...nothing, meter: meter.volts, floating: true };
    this.#apartOhms = { id: 1, value: sound.never, ...nothing, meter: 0, floating: true, tells: 'open' };
  }

  gauge(variant: Variant, spot: Spot): Gauged {
    const place = this.#placeOf(spot);
    if (place === 'apart') return spot.kind === 'ohms' ? this.#apartOhms : this.#apart;
    if (spot.kind === 'ohms') return this.#gaugeOhms(variant, spot, place);
    const operating = this.operation.at(variant, place.condition);
    let known = operating.gauged.get(spot);
    if (known === undefined) {
      known = spot.kind === 'volts' ? this.#volts(operating, spot, place) : this.#amps(operating, place);
      operating.gauged.set(spot, known);
    }
    return known;
  }

  /** How the island of a spot or branch works; what is between two islands is in none. */
  operating(variant: Variant, live: Live, branch: number): Operating {
    return this.operation.of(variant, live, branch).operating;
  }

  /** The spot for a meter right across a branch, the same object each time. */
  acrossBranch(branch: number, live: Live, block: number): Spot {
    let spots = this.#acrossBranches.get(live);
    if (spots === undefined) {
      spots = [];
      this.#acrossBranches.set(live, spots);
    }
    const at = branch * (this.#blocks + 1) + block;
    let spot = spots[at];
    if (spot === undefined) {
      const { a, b } = this.operation.house.branches[branch]!;
      spot = this.known({ kind: 'volts', a, b, live, block, meterOhms: meter.ohmsInput, signed: false });
      spots[at] = spot;
    }
    return spot;
  }

  /** The same object for spots that are the same: what has been gauged at one is known at the other. */
  known(spot: Spot): Spot {
    const { live, ...rest } = spot;
    const key = JSON.stringify([rest, live?.key]);
    const known = this.#spots.get(key) ?? spot;
    this.#spots.set(key, known);
    return known;
  }

  /** Room for a gradient: cut from a large piece, which is much cheaper than so many small ones. */
  #room(length: number): Float64Array {
    if (this.#used + length > this.#piece.length) {
      this.#piece = new Float64Array(Math.max(PIECE, length));
      this.#used = 0;
    }
    this.#used += length;
    return this.#piece.subarray(this.#used - length, this.#used);
  }

  #placeOf(spot: Spot): Place | 'apart' {
    let place = this.#places.get(spot);
    if (place === undefined) {
      place = this.#findPlace(spot);
      this.#places.set(spot, place);
    }
    return place;
  }

  #findPlace(spot: Spot): Place | 'apart' {
    const { islands, house } = this.operation;
    const { a, b } = spot.kind === 'amps' ? house.branches[spot.branch]! : spot;
    const island = islands.list[islands.ofNode[a]!]!;
    if (islands.ofNode[b] !== island.index) return 'apart';
    const condition = this.operation.condition(spot.live ?? IDLE, island);
    const axes = spot.kind === 'ohms' ? this.#ownAxes() : this.#axesOf(island, spot.block);
    if (spot.kind === 'amps') return { condition, axes, a: islands.localBranch[spot.branch]!, b: -1 };
    return { condition, axes, a: islands.localNode[a]!, b: islands.localNode[b]! };
  }

  #ownAxes(): Int32Array {
    return Int32Array.of(this.width - 1);
  }

  #axesOf(island: Island, block: number): Int32Array {
    const key = `${island.index}\t${block}`;
    let axes = this.#axes.get(key);
    if (axes === undefined) {
      const { nuisances } = this.operation;
      const own = this.operation
        .nuisancesOf(island)
        .map((nuisance) =>
          block > 0 && nuisances[nuisance]!.perBlock === true ? nuisances.length + block - 1 : nuisance,
        );
      axes = Int32Array.from([...own, this.width - 1]);
      this.#axes.set(key, axes);
    }
    return axes;
  }

  #volts(operating: Operating, { meterOhms, signed }: Spot & { kind: 'volts' }, { a, b, axes }: Place): Gauged {
    const behind = operating.behind(a, b);
    const loading = meterOhms / (meterOhms + behind);
    const across = operating.across(a, b);
    const size = across.size * loading;
    const gradient = this.#room(axes.length);
    operating.slopes(a, b, signed, gradient);
    let sum = 0;
    for (let k = 0; k < gradient.length; k++) {
      gradient[k]! *= loading;
      sum += gradient[k]! * gradient[k]!;
    }
    return {
      id: this.#count++,
      value: signed ? across.direct * loading : size,
      gradient,
      axes,
      meter: meter.share * size + meter.volts + bendOf(sum, size) + across.cut * loading,
      doubt: operating.doubt,
      floating: behind > ohmLimits.floating,
    };
  }

  #amps(operating: Operating, { a: branch, axes }: Place): Gauged {
    const value = operating.amps(branch);
    const gradient = this.#room(axes.length);
    operating.ampSlopes(branch, gradient);
    return { id: this.#count++, value, gradient, axes, meter: meter.share * value + meter.amps, floating: false };
  }

  #gaugeOhms(variant: Variant, spot: Spot, place: Place): Gauged {
    let spots = this.#ohms.get(variant);
    if (spots === undefined) {
      spots = new Map();
      this.#ohms.set(variant, spots);
    }
    let known = spots.get(spot);
    if (known === undefined) {
      const same = this.operation.asForOhms(variant, place.condition);
      known = same === variant ? this.#makeOhms(variant, place) : this.#gaugeOhms(same, spot, place);
      spots.set(spot, known);
    }
    return known;
  }

  #makeOhms(variant: Variant, { condition, a, b, axes }: Place): Gauged {
    const { most, least, own } = this.operation.ohms(variant, condition, a, b);
    const isAlike = most - least <= meter.ohms + 0.1 * least;
    return {
      id: this.#count++,
      value: most,
      gradient: Float64Array.of(own),
      axes,
      meter: meter.share * most + meter.ohms + 0.15 * most,
      floating: false,
      tells: least > ohmLimits.overRange ? 'open' : isAlike ? 'ohms' : 'some',
    };
  }
}

/** What a straight line leaves out where a figure leans far on something: half the square of its share. `sum`: of the slopes' squares. */
function bendOf(sum: number, size: number): number {
  return sum === 0 ? 0 : Math.min((0.5 * sum) / Math.max(size, 1e-9), 0.25 * Math.sqrt(sum));
}
