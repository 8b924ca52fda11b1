/** The elements of a circuit as columns of numbers. */

import type { CircuitElement } from './network.js';
import { faultOf, isPlain, SMALLEST_OHMS } from './validate.js';

/** Kinds of elements as whole numbers. */
export const SHORT = 0;
export const SOURCE = 1;
export const IMPEDANCE = 2;
export const CONTACT = 3;
export const POWER = 4;
export const CURRENT = 5;
export const BYPASS = 6;
export const DIODE = 7;

const CODES: Readonly<Record<CircuitElement['kind'], number>> = {
  short: SHORT,
  source: SOURCE,
  impedance: IMPEDANCE,
  contact: CONTACT,
  power: POWER,
  current: CURRENT,
  bypass: BYPASS,
  diode: DIODE,
};

/** What sets sources and impedances apart from others of their kind, as bits. */
export const WIRE = 1;
/** It has no ohms. */
export const ZERO_OHMS = 2;
/** It has fewer than `TINY_OHMS`, but some. */
export const TINY = 4;
export const CAPACITIVE = 8;

/** What has fewer ohms gets a current unknown: its current would drown in the rounding of its ends' volts. */
export const TINY_OHMS = 1e-5;

/** A bypass or inductor with fewer ohms still counts as this many, so that its current has one answer. */
const LEAST_BRANCH_OHMS = 1e-6;

/** Beside the kind of an impedance that is a conductor. */
const WIRE_BIT = 128;

/** Stands for a column of what there is none of. */
const NOTHING = new Float64Array(0);

/** Figures in the order in which elements are given: what lies one after another in memory is read one after another. */
export class GivenColumns {
  /** What each is, and `WIRE_BIT` with it. */
  readonly kind: Uint8Array;
  readonly ohms: Float64Array;
  /** Empty where no element has any. */
  reactance = NOTHING;
  /** Elements whose figures can't be used, and what is wrong with them. */
  readonly faults: { readonly element: string; readonly what: string }[] = [];

  constructor(readonly given: readonly CircuitElement[]) {
    const count = given.length;
    this.kind = new Uint8Array(count);
    this.ohms = new Float64Array(count);
  }

  /** Reads every element; false where one is not `like` that at its place in another network. */
  readAll(like?: readonly CircuitElement[]): boolean {
    const { given, kind, ohms } = this;
    for (let place = 0; place < given.length; place++) {
      const element = given[place]!;
      if (like !== undefined && !isLike(element, like[place]!)) return false;
      if (element.kind === 'impedance') {
        // Nearly all there are.
        const r = element.ohms;
        const x = element.reactance;
        if (isPlain(r) && isPlain(x)) {
          kind[place] = element.wire ? IMPEDANCE | WIRE_BIT : IMPEDANCE;
          ohms[place] = r;
          if (x > 0) this.readReactance(place, x);
          continue;
        }
      }
      this.read(place, element);
    }
    return true;
  }

  private read(place: number, element: CircuitElement): void {
    const fault = faultOf(element);
    if (fault !== undefined) this.faults.push({ element: element.id, what: fault });
    if (element.kind === 'impedance') {
      this.kind[place] = element.wire ? IMPEDANCE | WIRE_BIT : IMPEDANCE;
      this.ohms[place] = element.ohms;
      if (element.reactance !== 0) this.readReactance(place, element.reactance);
      return;
    }
    this.kind[place] = CODES[element.kind];
    if (element.kind === 'bypass') this.ohms[place] = Math.max(element.ohms, LEAST_BRANCH_OHMS);
    if (element.kind !== 'source') return;
    const x = element.system === 'DC' ? 0 : element.reactance;
    if (Math.abs(element.ohms) + Math.abs(x) < SMALLEST_OHMS) return;
    this.ohms[place] = element.ohms;
    if (x !== 0) this.readReactance(place, x);
  }

  private readReactance(place: number, reactance: number): void {
    if (this.reactance.length === 0) this.reactance = new Float64Array(this.ohms.length);
    this.reactance[place] = reactance;
  }
}

export function readGiven(given: readonly CircuitElement[]): GivenColumns {
  const columns = new GivenColumns(given);
  columns.readAll();
  return columns;
}

/** The columns of a network with the names and kinds of another; `undefined` where it has others, or windings fed by one another. */
export function readLike(given: readonly CircuitElement[], before: GivenColumns): GivenColumns | undefined {
  if (given.length !== before.given.length) return undefined;
  const columns = new GivenColumns(given);
  return columns.readAll(before.given) ? columns : undefined;
}

function isLike(one: CircuitElement, other: CircuitElement): boolean {
  if (one === other) return true;
  if (one.id !== other.id || one.a !== other.a || one.b !== other.b || one.kind !== other.kind) return false;
  return one.kind !== 'source' || one.fedBy === undefined;
}

/** The figures of a circuit, per element. */
export interface Columns {
  readonly kind: Uint8Array;
  /** What sets it apart from others of its kind. */
  readonly traits: Uint8Array;
  /** Ohms and reactance as the circuit's system sees them. */
  readonly ohms: Float64Array;
  readonly reactance: Float64Array;
  /** Whether no reactance was given; and none that counts, in this system. */
  readonly hasNoReactance: boolean;
  readonly isReal: boolean;
}

/**
 * The figures of the elements at these places, in a circuit that is DC alone or not. What columns of other figures of the same elements hold the
 * same is taken from these.
 */
export function columnsAt(places: Int32Array, given: GivenColumns, isDirect: boolean, like?: Columns): Columns {
  const count = places.length;
  const kind = like?.kind ?? new Uint8Array(count);
  const traits = new Uint8Array(count);
  const ohms = new Float64Array(count);
  const hasReactance = given.reactance.length > 0;
  const reactance = !hasReactance && like?.hasNoReactance ? like.reactance : new Float64Array(count);
  let isReal = true;
  for (let e = 0; e < count; e++) {
    const place = places[e]!;
    const code = given.kind[place]!;
    if (like === undefined) kind[e] = code & ~WIRE_BIT;
    const r = given.ohms[place]!;
    let x = 0;
    if (hasReactance) {
      x = given.reactance[place]!;
      if (isDirect && x > 0) x = 0;
      reactance[e] = x;
      if (x !== 0 && !isDirect) isReal = false;
    }
    ohms[e] = r;
    let trait = (code & WIRE_BIT) === 0 ? 0 : WIRE;
    if (!(r + x >= TINY_OHMS && x >= 0)) trait |= traitOf(r, x);
    traits[e] = trait;
  }
  return { kind, traits, ohms, reactance, isReal, hasNoReactance: !hasReactance };
}

function traitOf(r: number, x: number): number {
  const size = Math.abs(r) + Math.abs(x);
  if (size < SMALLEST_OHMS) return ZERO_OHMS;
  return (size < TINY_OHMS ? TINY : 0) | (x < 0 ? CAPACITIVE : 0);
}
