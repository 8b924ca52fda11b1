/** What a meter would show in an operating house, and what that figure leans on. */

import type { Island } from './islands.js';
import type { Condition, Operation } from './operate.js';
import { IDLE, type Live, type Variant } from './variants.js';
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
  readonly gradient: readonly number[];
  /** Numbers of the gradient's entries: a nuisance's own; after all of them one per block but the first, its mains; last the own spread. */
  readonly axes: readonly number[];
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
  readonly index: number;
  readonly condition: Condition;
  readonly axes: readonly number[];
  readonly a: number;
  readonly b: number;
}

export class Gauge {
  /** Numbers of axes. */
  readonly width: number;
  readonly #blocks: number;
  readonly #places = new Map<Spot, Place | 'apart'>();
  readonly #ohms = new Map<Variant, (Gauged | undefined)[]>();
  readonly #axes = new Map<string, readonly number[]>();
  readonly #acrossBranches = new WeakMap<Live, Spot[]>();
  readonly #spots = new Map<string, Spot>();
  readonly #apart: Gauged;
  readonly #apartOhms: Gauged;
  #count = 2;

  constructor(
    readonly operation: Operation,
    blocks: number,
  ) {
    this.#blocks = Math.max(blocks - 1, 0);
    this.width = operation.nuisances.length + this.#blocks + 1;
    const nothing = { gradient: [0], axes: this.#ownAxes() };
    this.#apart = { id: 0, value: 0, ...nothing, meter: meter.volts, floating: true };
    this.#apartOhms = { id: 1, value: sound.never, ...nothing, meter: 0, floating: true, tells: 'open' };
  }

  gauge(of: Variant, spot: Spot): Gauged {
    const place = this.#placeOf(spot);
    const variant = of.alike === undefined || tellsApart(of.alike.between, spot) ? of : of.alike.variant;
    if (place === 'apart') return spot.kind === 'ohms' ? this.#apartOhms : this.#apart;
    if (spot.kind === 'ohms') return this.#gaugeOhms(variant, spot, place);
    const operating = this.operation.at(variant, place.condition);
    let known = operating.gauged[place.index];
    if (known === undefined) {
      known = spot.kind === 'volts' ? this.#volts(operating, spot, place) : this.#amps(operating, place);
      operating.gauged[place.index] = known;
    }
    return known;
  }

  /** How many figures it has worked out; all of them are kept. */
  get size(): number {
    return this.#count;
  }

  /** How the island of a branch works, and the branch's number there. */
  operating(of: Variant, live: Live, branch: number): { readonly operating: Operating; readonly own: number } {
    return this.operation.of(of.alike === undefined || live.bridged.length > 0 ? of : of.alike.variant, live, branch);
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
    const { kind, live = IDLE } = spot;
    const where = kind === 'amps' ? `${spot.branch} ${spot.block}` : `${spot.a} ${spot.b}`;
    const how = kind === 'volts' ? `${spot.block} ${spot.meterOhms} ${spot.signed}` : '';
    const key = `${kind} ${where} ${how} ${live.key}`;
    const known = this.#spots.get(key) ?? spot;
    this.#spots.set(key, known);
    return known;
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
    const index = this.#places.size;
    const axes = spot.kind === 'ohms' ? this.#ownAxes() : this.#axesOf(island, spot.block);
    if (spot.kind === 'amps') return { index, condition, axes, a: islands.localBranch[spot.branch]!, b: -1 };
    return { index, condition, axes, a: islands.localNode[a]!, b: islands.localNode[b]! };
  }

  #ownAxes(): readonly number[] {
    return [this.width - 1];
  }

  #axesOf(island: Island, block: number): readonly number[] {
    const key = `${island.index}\t${block}`;
    let axes = this.#axes.get(key);
    if (axes === undefined) {
      const { nuisances } = this.operation;
      const own = this.operation
        .nuisancesOf(island)
        .map((nuisance) =>
          block > 0 && nuisances[nuisance]!.perBlock === true ? nuisances.length + block - 1 : nuisance,
        );
      axes = [...own, this.width - 1];
      this.#axes.set(key, axes);
    }
    return axes;
  }

  #volts(operating: Operating, { meterOhms, signed }: Spot & { kind: 'volts' }, { a, b, axes }: Place): Gauged {
    const behind = operating.behind(a, b);
    const loading = meterOhms / (meterOhms + behind);
    const across = operating.across(a, b);
    const size = across.size * loading;
    const gradient: number[] = [];
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
    const gradient: number[] = [];
    operating.ampSlopes(branch, gradient);
    return { id: this.#count++, value, gradient, axes, meter: meter.share * value + meter.amps, floating: false };
  }

  #gaugeOhms(variant: Variant, spot: Spot, place: Place): Gauged {
    let spots = this.#ohms.get(variant);
    if (spots === undefined) {
      spots = [];
      this.#ohms.set(variant, spots);
    }
    let known = spots[place.index];
    if (known === undefined) {
      const same = this.operation.asForOhms(variant, place.condition);
      known = same === variant ? this.#makeOhms(variant, place) : this.#gaugeOhms(same, spot, place);
      spots[place.index] = known;
    }
    return known;
  }

  #makeOhms(variant: Variant, { condition, a, b, axes }: Place): Gauged {
    const { most, least, own } = this.operation.ohms(variant, condition, a, b);
    const isAlike = most - least <= meter.ohms + 0.1 * least;
    return {
      id: this.#count++,
      value: most,
      gradient: [own],
      axes,
      meter: meter.share * most + meter.ohms + 0.15 * most,
      floating: false,
      tells: least > ohmLimits.overRange ? 'open' : isAlike ? 'ohms' : 'some',
    };
  }
}

/** Wires held together by hand are held at their bare ends. */
function tellsApart(between: readonly number[], spot: Spot): boolean {
  if ((spot.live?.bridged.length ?? 0) > 0) return true;
  return spot.kind !== 'amps' && (between.includes(spot.a) || between.includes(spot.b));
}

/** What a straight line leaves out where a figure leans far on something: half the square of its share. `sum`: of the slopes' squares. */
function bendOf(sum: number, size: number): number {
  return sum === 0 ? 0 : Math.min((0.5 * sum) / Math.max(size, 1e-9), 0.25 * Math.sqrt(sum));
}
