/** Steps that would short a supply. */

import type { Gauge } from './gauge.js';
import { liveAs, SOUND, type Variant } from './variants.js';

/** From these shares of a dead short's amps, and of what a supply is rated for, nothing but wire is taken to be in the loop. */
const OF_SHORT = 0.6;
const OF_RATED = 1.5;

/** The supply that is left with nothing but wire across it when the two wires at a push are held together; undefined where none is. */
export function shortedBy(gauge: Gauge, contact: string, variant: Variant = SOUND): string | undefined {
  const { operation } = gauge;
  const { house } = operation;
  for (const [branch, { kind, emf, ohms, reactance, element }] of house.branches.entries()) {
    if (kind !== 'winding' || element === undefined) continue;
    const { operating, own } = operation.of(variant, liveAs([], [contact]), branch);
    const amps = operating.amps(own);
    const short = Math.hypot(emf.re, emf.im) / Math.hypot(ohms, reactance);
    const isBeyond = amps > OF_RATED * (element.ratedAmps ?? Number.POSITIVE_INFINITY);
    if (amps > OF_SHORT * short && isBeyond) return element.part;
  }
  return undefined;
}
