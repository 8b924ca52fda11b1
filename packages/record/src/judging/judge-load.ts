/** Whether a load gets the volts its label asks for, in every state in which it must work. */

import type { CircuitState } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, Condition, ResolvedElement, Solved } from '../analysis-types.js';
import type { Severity } from '../finding.js';
import { limits } from './limits.js';
import { studyOf, voltsAcross } from './study.js';

export interface TooLittle {
  readonly severity: Extract<Severity, 'error' | 'warning'>;
  readonly condition: Condition;
  readonly state: CircuitState;
  readonly solved: Solved;
  readonly volts: number;
  /** Volts that it is judged by, and the label's least. */
  readonly limit: number;
  readonly label: number;
  /** Held exactly, as a data sheet's limits are. */
  readonly exact: boolean;
}

export interface Collapse {
  readonly severity: Extract<Severity, 'error' | 'warning'>;
  readonly condition: Condition;
  readonly state: CircuitState;
  readonly solved: Solved;
  /** VA or amps asked for in that state. */
  readonly asked: { readonly unit: 'VA' | 'A'; readonly value: number };
  /** Share of it that could be had, where that is known. */
  readonly available: number | undefined;
  readonly staysOnFrom: number;
}

/** One of the two at most: what is worst. */
export interface LoadVerdict {
  readonly collapse?: Collapse;
  readonly tooLittle?: TooLittle;
  /** The least volts at nominal, in lasting states where it works in some, and the margin of those to the limit as a share of it. */
  readonly least?: number;
  readonly margin?: number;
}

export function judgeLoad(analysis: Analysis, circuit: CircuitAnalysis, load: ResolvedElement): LoadVerdict {
  return studyOf(analysis).once(`load ${load.id}`, () => judge(analysis, circuit, load));
}

function judge(analysis: Analysis, circuit: CircuitAnalysis, load: ResolvedElement): LoadVerdict {
  const collapse = findCollapse(analysis, circuit, load);
  if (collapse?.severity === 'error') return { collapse };
  const asks = asksFor(analysis, load);
  if (asks === undefined) return { collapse };
  const found: TooLittle[] = [];
  let least = Number.POSITIVE_INFINITY;
  let leastPressed = Number.POSITIVE_INFINITY;
  for (const condition of ['nominal', 'low'] as const) {
    for (const solved of workingStates(analysis, circuit, load, condition)) {
      const volts = voltsAcross(solved, load);
      if (volts === undefined || !mustWork(analysis, load, solved, volts)) continue;
      const lasts = studyOf(analysis).lasts(solved.state);
      if (condition === 'nominal' && lasts) least = Math.min(least, volts);
      if (condition === 'nominal' && !lasts) leastPressed = Math.min(leastPressed, volts);
      const verdict = tooLittle(asks, load, condition, lasts, volts);
      if (verdict !== undefined) found.push({ ...verdict, condition, state: solved.state, solved, volts });
    }
  }
  const nominalLimit = asks.exact ? asks.least : asks.least * limits.tooLittleNominal;
  const margin = Number.isFinite(least) ? least / nominalLimit - 1 : undefined;
  const seen = { margin, least: [least, leastPressed].find(Number.isFinite) };
  const shortfall = worst(found);
  if (shortfall?.severity === 'error') return { tooLittle: shortfall, ...seen };
  return collapse === undefined ? { tooLittle: shortfall, ...seen } : { collapse, ...seen };
}

/** The least volts that a load works on by its data sheet or label, and what it stays on from. */
export function neededBy(analysis: Analysis, load: ResolvedElement): number {
  const asks = asksFor(analysis, load);
  const least = asks === undefined ? 0 : asks.exact ? asks.least : asks.least * limits.tooLittleNominal;
  return Math.max(least, load.staysOnFrom ?? 0);
}

function asksFor(analysis: Analysis, load: ResolvedElement): { least: number; exact: boolean } | undefined {
  const part = analysis.parts.get(load.part);
  const stated = part?.facts.limits;
  if (stated !== undefined) return { least: stated.least, exact: true };
  const volts = part?.rating?.volts;
  return volts === undefined ? undefined : { least: volts.least, exact: false };
}

function tooLittle(
  asks: { readonly least: number; readonly exact: boolean },
  load: ResolvedElement,
  condition: Condition,
  lasts: boolean,
  volts: number,
): Pick<TooLittle, 'severity' | 'limit' | 'label' | 'exact'> | undefined {
  const { least: label, exact } = asks;
  const share = condition === 'low' ? limits.tooLittleLow : limits.tooLittleNominal;
  const limit = exact ? label : label * share;
  const { staysOnFrom = 0 } = load;
  if (lasts && volts < staysOnFrom && staysOnFrom > limit) {
    return { severity: condition === 'nominal' ? 'error' : 'warning', limit: staysOnFrom, label, exact: false };
  }
  if (volts >= limit - 1e-9) return undefined;
  if (!lasts) {
    if (condition === 'low') return undefined;
    const cutsOut = volts < (load.staysOnFrom ?? 0);
    return { severity: cutsOut ? 'error' : 'warning', limit: cutsOut ? load.staysOnFrom! : limit, label, exact };
  }
  return { severity: exact || condition === 'nominal' ? 'error' : 'warning', limit, label, exact };
}

function worst(found: readonly TooLittle[]): TooLittle | undefined {
  const errors = found.filter(({ severity }) => severity === 'error');
  const among = errors.length > 0 ? errors : found;
  return among.reduce<TooLittle | undefined>(
    (least, one) => (least === undefined || one.volts < least.volts - 1e-9 ? one : least),
    undefined,
  );
}

/** States in which the load is not itself ringing a chime and no supply is shorted. */
function workingStates(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
  condition: Condition,
): readonly Solved[] {
  return studyOf(analysis)
    .figures(circuit, condition)
    .filter(({ state }) => !ringsItself(analysis, load, state) && !waitsForAPush(analysis, circuit, load, state));
}

/** A load that a push alone puts on the supply need not work before, whatever trickles through the push's lamp. */
function waitsForAPush(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
  { closed }: CircuitState,
): boolean {
  const study = studyOf(analysis);
  if (study.isFullyFed(load, closed)) return false;
  const own = analysis.parts.get(load.part)?.elements ?? [];
  if (own.some(({ element }) => element.kind === 'contact')) return false;
  return circuit.circuit.contacts.some((contact) => study.isFullyFed(load, [contact]));
}

function ringsItself(analysis: Analysis, load: ResolvedElement, state: CircuitState): boolean {
  const own = analysis.parts.get(load.part)?.elements ?? [];
  return own.some(({ contact }) => contact !== undefined && state.closed.includes(contact));
}

/** A load behind an open switch need not work; one that sees any volts, or stands across the supply, must. */
function mustWork(analysis: Analysis, load: ResolvedElement, solved: Solved, volts: number): boolean {
  return volts > 0.01 * (load.ratedVolts ?? 1) || studyOf(analysis).isFullyFed(load, solved.state.closed);
}

function findCollapse(analysis: Analysis, circuit: CircuitAnalysis, load: ResolvedElement): Collapse | undefined {
  let low: Collapse | undefined;
  for (const condition of ['nominal', 'low'] as const) {
    for (const solved of studyOf(analysis).solved(circuit, condition)) {
      const { solution, state } = solved;
      if (solution.shorted.length > 0 || ringsItself(analysis, load, state)) continue;
      if (waitsForAPush(analysis, circuit, load, state)) continue;
      const available = collapsesIn(solved, load);
      if (available === undefined) continue;
      if (condition === 'low' && !studyOf(analysis).lasts(state)) continue;
      const draws = load.draws;
      const asked = { unit: draws?.unit ?? 'VA', value: draws?.[state.loads] ?? 0 } as const;
      const known = Number.isFinite(available) ? available : undefined;
      const staysOnFrom = load.staysOnFrom ?? 0;
      const found = { condition, state, solved, asked, available: known, staysOnFrom };
      if (condition === 'nominal') return { ...found, severity: 'error' };
      low ??= { ...found, severity: 'warning' };
    }
  }
  return low;
}

/** The share that could be had; NaN where it is not known; undefined where the load works. */
function collapsesIn({ solution }: Solved, load: ResolvedElement): number | undefined {
  const { problem, droppedOut, cycling } = solution;
  if (problem?.kind === 'collapses' && problem.loads.includes(load.id)) return problem.available;
  return droppedOut.includes(load.id) || cycling.includes(load.id) ? Number.NaN : undefined;
}
