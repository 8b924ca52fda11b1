/** What an ohm-meter should show, with the supplies' leads lifted. */

import { type CircuitElement, ohmsBetween } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { buildNetwork } from '../analyse/build-network.js';

/** `ohms` is null for an open reading (`known`) and where something is in the way whose ohms are not known (not `known`). */
export interface OhmsRow {
  readonly closed: readonly string[];
  readonly ohms: number | null;
  readonly known: boolean;
  readonly tells: 'open' | 'some' | 'short' | 'ohms';
}

/** Below this a meter on its lowest range is read as a short: common practice, no source. */
const SHORT_BELOW = 2;
/** Readings nearer than this are one reading on a meter (0.1 ohm and 2 %): common practice, no source. */
const METER_STEP = 0.1;
const METER_SHARE = 0.02;

/** Each set of closed contacts once, in the order of the circuits' states. */
export function ohmsInEveryState(
  analysis: Analysis,
  circuits: readonly CircuitAnalysis[],
  a: string,
  b: string,
): readonly OhmsRow[] {
  const inThem = new Set(circuits.flatMap(({ circuit }) => circuit.elements));
  const { installation, elements } = analysis;
  const all = buildNetwork(installation, analysis, 'nominal').elements.filter(({ id }) => inThem.has(id));
  const unmeasured = unmeasuredConductors(analysis);
  const isUnmeasured = ({ id }: CircuitElement): boolean => unmeasured.has(id);
  const known = all.flatMap((element) => asMetered(element, elements.get(element.id)));
  const unknown = all.filter((element) => isUnknownToMeter(element, elements.get(element.id)));
  const most = { elements: known.map((element) => (isUnmeasured(element) ? asLongWire(element) : element)) };
  const least = { elements: [...known, ...unknown.map(asShort)] };
  const isOf = (closed: readonly string[]): OhmsRow =>
    rowOf(closed, ohmsBetween(most, a, b, closed), ohmsBetween(least, a, b, closed));
  const closedSets = new Map(circuits.flatMap(({ states }) => states.map((s) => [s.closed.join('\n'), s.closed])));
  if (closedSets.size === 0) closedSets.set('', []);
  return [...closedSets.values()].map(isOf);
}

/** The ohms hold when they are the same whether what is not known to a meter lets nothing or everything through. */
function rowOf(closed: readonly string[], most: number | null, least: number | null): OhmsRow {
  if (least === null) return { closed, ohms: null, known: true, tells: 'open' };
  const isAlike = most !== null && most - least <= METER_STEP + METER_SHARE * least;
  if (!isAlike) return { closed, ohms: null, known: false, tells: 'some' };
  return { closed, ohms: most, known: true, tells: most < SHORT_BELOW ? 'short' : 'ohms' };
}

/** A stated DC resistance stands for the impedance; what a meter cannot tell the ohms of is left out. */
function asMetered(element: CircuitElement, resolved: ResolvedElement | undefined): readonly CircuitElement[] {
  if (isUnknownToMeter(element, resolved)) return [];
  if (element.kind !== 'impedance' || resolved?.element.kind !== 'coil') return [element];
  return [{ ...element, ohms: resolved.element.dcOhms ?? element.ohms, reactance: 0 }];
}

/** Electronics, diodes, filaments (cold ones have a fraction of their ohms) and coils whose DC ohms are not stated. */
function isUnknownToMeter(element: CircuitElement, resolved: ResolvedElement | undefined): boolean {
  if (element.kind === 'power' || element.kind === 'current') return true;
  if (resolved === undefined) return false;
  if (resolved.missing !== undefined) return true;
  const { element: stated } = resolved;
  return stated.kind === 'diode' || stated.kind === 'lamp' || (stated.kind === 'coil' && stated.dcOhms === undefined);
}

function asShort({ id, a, b }: CircuitElement): CircuitElement {
  return { kind: 'short', id, a, b };
}

function unmeasuredConductors({ runs }: Analysis): ReadonlySet<string> {
  const conductors = [...runs.values()].flatMap((run) => run.conductors);
  return new Set(conductors.flatMap(({ id, ohms }) => (id !== undefined && ohms === undefined ? [id] : [])));
}

/** More ohms than any run in a house has: what depends on a run's length then shows itself. */
const LONG_WIRE_OHMS = 1000;

function asLongWire({ id, a, b }: CircuitElement): CircuitElement {
  return { kind: 'impedance', id, a, b, ohms: LONG_WIRE_OHMS, reactance: 0, wire: true };
}
