/** The load budget as `ohmstead budget --format json` prints it (all SI, RMS, unrounded). Views render it; nothing else is needed to. */

import type { LoadCondition } from '@ohmstead/circuit';
import type { Finding } from './finding.js';
import type { Rating } from './model.js';

export interface StateKey {
  readonly closed: readonly string[];
  /** Those of `closed` that stay as they are set, such as a thermostat's; absent where there are none. */
  readonly maintained?: readonly string[];
  readonly loads: LoadCondition;
}

/** `volts` is null where there is no operating point; `reason` then says why. */
export interface SolvedFigures extends StateKey {
  readonly volts: number | null;
  readonly amps: number | null;
  readonly va: number | null;
  readonly watts: number | null;
  readonly reason?: string;
}

export interface BudgetWinding {
  readonly from: string;
  readonly to: string;
  readonly ratedVolts: number | null;
  readonly ratedVA: number | null;
  readonly noLoadVolts: number | null;
  readonly ohms: number | null;
  readonly assumed: readonly string[];
  readonly solved: readonly SolvedFigures[];
  /** `share` of the rated VA (by amps), 1 = the rating. */
  readonly worst: (StateKey & { readonly va: number; readonly share: number | null }) | null;
  /** The greatest share over states that last (no momentary contact pressed). */
  readonly lasting: (StateKey & { readonly va: number; readonly share: number | null }) | null;
}

export interface BudgetSupply {
  readonly name: string;
  readonly type: string | null;
  readonly place: string | null;
  readonly windings: readonly BudgetWinding[];
  /** Names of the devices on the same circuits. */
  readonly feeds: readonly string[];
}

export interface Extreme extends StateKey {
  readonly corner: 'nominal' | 'low' | 'high';
  readonly volts: number;
}

export interface BudgetElement {
  readonly kind: string;
  readonly from: string;
  readonly to: string;
  readonly solved: readonly (SolvedFigures & { readonly on: boolean })[];
  readonly least: Extreme | null;
  readonly most: Extreme | null;
  /** The least while it works: a coil while it is driven, a load while it is on. */
  readonly leastWorking: Extreme | null;
}

export interface BudgetDevice {
  readonly name: string;
  readonly type: string | null;
  readonly place: string | null;
  readonly role: string | null;
  readonly rating: Rating | null;
  /** Volts judged too little and too much for it at nominal (null where nothing is judged), for the band that is drawn. */
  readonly band: { readonly least: number | null; readonly most: number | null };
  readonly needsVA: number | null;
  readonly elements: readonly BudgetElement[];
}

export interface BudgetConductor {
  readonly colour: string;
  readonly from: string;
  readonly to: string;
  readonly ohms: number | null;
  readonly solved: readonly (StateKey & { readonly amps: number | null; readonly dropVolts: number | null })[];
}

export interface BudgetRun {
  readonly name: string;
  readonly cable: string;
  readonly lengthMetres: number | null;
  readonly conductors: readonly BudgetConductor[];
}

/** A branch circuit and what the record puts on it. */
export interface BudgetBranch {
  readonly name: string;
  readonly place: string | null;
  /** Its number in the panel. */
  readonly circuit: string | null;
  readonly volts: number;
  readonly breakerAmps: number | null;
  /** Stated to be fed already; null where nothing is stated. */
  readonly existingAmps: number | null;
  /** What of all it carries counts as continuous. */
  readonly continuousAmps: number;
  /** Times that a continuous load counts, and by which rule. */
  readonly continuousFactor: number;
  readonly rule: string;
  readonly feeds: readonly { readonly name: string; readonly va: number; readonly amps: number }[];
  readonly totalAmps: number;
  /** With what is continuous counted by its factor: what is held against the breaker. */
  readonly countedAmps: number;
  /** Of the breaker, 1 = all of it; null where no breaker is stated. */
  readonly share: number | null;
}

export interface Budget {
  readonly version: 1;
  readonly title: string;
  readonly profile: string;
  /** The states of each circuit, for the state selector: the contacts of that circuit that are closed. */
  readonly circuits: readonly {
    readonly supplies: readonly string[];
    readonly devices: readonly string[];
    readonly states: readonly StateKey[];
  }[];
  readonly supplies: readonly BudgetSupply[];
  readonly devices: readonly BudgetDevice[];
  readonly runs: readonly BudgetRun[];
  /** Absent where the record has no branch circuit. */
  readonly branches?: readonly BudgetBranch[];
  /** "bell-tx: a no-load voltage of 20 V (25 % regulation, common practice for 10 VA)". */
  readonly assumptions: readonly string[];
  readonly findings: readonly Finding[];
}
