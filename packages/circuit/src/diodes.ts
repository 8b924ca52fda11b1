/** A diode as two straight lines: next to nothing up to its forward volts, then few ohms. */

import type { Layout, Nets } from './layout.js';

/** Forward volts of a silicon rectifier. Source: common practice, no source. */
export const DIODE_VOLTS = 0.7;

/** Ohms of it beyond its forward volts. Source: common practice, no source. */
export const DIODE_OHMS = 0.1;

/** What it lets through either way below its forward volts: some microamperes at small volts. Source: common practice, no source. */
export const DIODE_LEAK_SIEMENS = 1e-7;

/** Within this share of the circuit's scale of its forward volts it is as much the one as the other. */
const AT_FORWARD_VOLTS = 1e-10;

/** The diodes whose ends are not one point in this state. */
export function diodesAtWork(layout: Layout, nets: Nets): readonly number[] {
  return layout.diodes.filter((e) => nets.netOf[layout.a[e]!] !== nets.netOf[layout.b[e]!]);
}

/** Amperes from a to b at these volts of a against b. */
export function diodeAmps(volts: number, conducts: boolean): number {
  return DIODE_LEAK_SIEMENS * volts + (conducts ? (volts - DIODE_VOLTS) / DIODE_OHMS : 0);
}

/**
 * The first diode whose volts contradict what it is taken for, or -1. Turning over the first one, again and again, comes to an end for every
 * network of resistances (Murty's least-index rule).
 */
export function contradictedDiode(
  layout: Layout,
  diodes: readonly number[],
  conducts: Uint8Array,
  voltsOf: (e: number) => number,
): number {
  const slack = AT_FORWARD_VOLTS * Math.max(layout.scaleVolts, DIODE_VOLTS);
  for (const e of diodes) {
    const beyond = voltsOf(e) - DIODE_VOLTS;
    if (conducts[e] === 1 ? beyond < -slack : beyond > slack) return e;
  }
  return -1;
}

/** The rule above takes few steps in practice, and could take very many. */
export function mostTurns(diodes: readonly number[]): number {
  return 100 + 8 * diodes.length;
}
