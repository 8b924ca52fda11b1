/** What differs between two records, as `ohmstead compare --format json` prints it. Names are each record's own; figures are in SI. */

import type { StateKey } from '../budget-types.js';
import type { Severity } from '../finding.js';

/** One thing before and after; null where there was or is none. */
export interface Pair<T> {
  readonly before: T | null;
  readonly after: T | null;
}

/** `restated`: the same thing, of which the record says something else. */
export type Change = 'added' | 'removed' | 'replaced' | 'moved' | 'renamed' | 'restated';

/** A fact in the notation's words: `output`, "16 V AC, 10 VA". */
export interface FactDifference extends Pair<string> {
  readonly fact: string;
}

export interface PartDifference {
  readonly kind: 'supply' | 'device' | 'splice';
  readonly name: Pair<string>;
  readonly changes: readonly Change[];
  readonly type: Pair<string>;
  readonly place: Pair<string>;
  /** Of a part that is in both records. */
  readonly facts: readonly FactDifference[];
}

export interface RunDifference {
  readonly name: Pair<string>;
  readonly changes: readonly Change[];
  readonly cable: Pair<string>;
  readonly from: Pair<string>;
  readonly to: Pair<string>;
  readonly lengthMetres: Pair<number>;
  readonly facts: readonly FactDifference[];
}

/** One end of a conductor. `before` and `after` are a terminal or a splice, `capped`, `unknown`, or null where the end is spare. */
export interface ConductorDifference extends Pair<string> {
  readonly run: Pair<string>;
  readonly colour: string;
  readonly change: 'landed' | 'lifted' | 'moved' | 'restated';
}

export interface JumperEnds {
  readonly name: string | null;
  readonly from: string;
  readonly to: string;
}

export interface JumperDifference extends Pair<JumperEnds> {
  /** A ground leads from an end to a box. */
  readonly kind: 'jumper' | 'pigtail' | 'ground';
  readonly change: 'added' | 'removed' | 'renamed';
}

/** A part's own lead. */
export interface LeadDifference extends Pair<string> {
  readonly part: Pair<string>;
  readonly terminal: string;
  readonly change: 'landed' | 'lifted' | 'moved';
}

export interface PlaceDifference {
  readonly name: Pair<string>;
  readonly changes: readonly Change[];
  readonly facts: readonly FactDifference[];
}

export interface AcceptDifference {
  readonly code: string;
  readonly on: string | null;
  readonly because: string;
  readonly change: 'added' | 'removed';
}

/** `share` is of the rated amps, 1 = the rating. */
export interface FigureDifference extends Pair<number> {
  readonly of: 'supply' | 'device' | 'run';
  readonly name: Pair<string>;
  /** "winding a to b", "coil trans to front", "conductor red". */
  readonly element: string;
  readonly figure:
    | 'no-load volts'
    | 'share at worst'
    | 'share that lasts'
    | 'least volts'
    | 'most volts'
    | 'volts lost';
  readonly unit: 'V' | 'share';
  readonly when: Pair<StateKey>;
}

export interface ComparedFinding {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly parts: readonly string[];
  readonly accepted: boolean;
}

export interface Comparison {
  readonly version: 1;
  readonly title: Pair<string>;
  readonly profile: Pair<string>;
  /** Nothing that stands in the lists below, and one profile. */
  readonly same: boolean;
  readonly parts: readonly PartDifference[];
  readonly runs: readonly RunDifference[];
  readonly conductors: readonly ConductorDifference[];
  readonly jumpers: readonly JumperDifference[];
  readonly leads: readonly LeadDifference[];
  readonly places: readonly PlaceDifference[];
  readonly accepts: readonly AcceptDifference[];
  readonly figures: readonly FigureDifference[];
  readonly findings: {
    readonly gone: readonly ComparedFinding[];
    readonly new: readonly ComparedFinding[];
    /** How many are in both, of those that are about a circuit that something changed on. */
    readonly kept: number;
  };
}
