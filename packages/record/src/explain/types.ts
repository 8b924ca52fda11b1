/** Which faults fit the readings, and what to do next to tell them apart. */

import type { Predicted } from '../readings/types.js';
import type { ReadingOf, ReadingState } from '../readings-types.js';

export type FaultKind =
  | 'contact-corroded'
  | 'contact-stuck-open'
  | 'contact-stuck-closed'
  | 'joint-loose'
  | 'conductor-open'
  | 'pair-shorted'
  | 'pair-leaking'
  | 'ends-swapped'
  | 'coil-open'
  | 'coil-turns-shorted'
  | 'plunger-stuck'
  | 'load-dead'
  | 'supply-dead'
  | 'supply-off'
  | 'supply-tired'
  | 'supply-other-volts'
  | 'supply-wrong-tap'
  | 'diode-missing'
  | 'diode-reversed'
  | 'bypass-left-in'
  | 'bypass-left-out'
  | 'bypass-failed-open'
  | 'bypass-failed-closed'
  | 'ring-setting'
  | 'run-longer-or-thinner';

export interface Prediction {
  /** The reading it is about. */
  readonly block: number;
  readonly index: number;
  /** "across `hall-chime.trans` and `hall-chime.front` while `porch-button` is held". */
  readonly at: string;
  readonly predicted: Predicted;
  /** "14.2 to 17.9 V", "silent", "open". */
  readonly words: string;
  readonly fits: boolean;
}

export interface ExplainedFault {
  /** A sentence without a full stop: "the contact of `porch-button` is stuck open". */
  readonly what: string;
  /** Stable: kind and what it is on, `contact-stuck-open porch-button`; two joined by ` + ` for a pair. */
  readonly id: string;
  readonly kinds: readonly FaultKind[];
  /** Names of parts, runs and jumpers it is on. */
  readonly parts: readonly string[];
  /** Share of belief, 0..1, its group's others not counted; all listed, the excluded and a sound house make 1. */
  readonly likelihood: number;
  /** What it makes one expect of each reading taken. */
  readonly predicts: readonly Prediction[];
  /** `what` of those that volts at the terminals, ohms and signs can't tell from it. */
  readonly sameAs: readonly string[];
}

export interface ExcludedFault {
  readonly what: string;
  readonly id: string;
  /** The reading that excludes it, in words with what it should have been. */
  readonly by: string;
  /** That reading's place in the record. */
  readonly block: number;
  readonly index: number;
}

type WithoutFigure<T> = T extends unknown ? Omit<T, 'volts' | 'ohms' | 'amps' | 'shows'> : never;

/** What would be read, seen or heard, without its figure: complete it to a `Reading`. */
export type Asked = { readonly state: ReadingState; readonly of: WithoutFigure<Exclude<ReadingOf, { kind: 'amps' }>> };

export interface NextStep {
  /** "at rest", "while `porch-button` is held", "with the two wires at `porch-button` held together", "with the supply's lead lifted". */
  readonly state: string;
  /** What to measure or watch: two points in words for a meter, one part's name to look at or listen to. */
  readonly between: readonly string[];
  /** What each outcome would mean. */
  readonly tells: string;
  /** The whole step as one would tell it a person: what to do, then what each outcome means. */
  readonly words: string;
  readonly asked: Asked;
  /** As in the effort table: 1 is a look at the same place. */
  readonly effort: number;
}

export interface BadReading {
  readonly block: number;
  readonly index: number;
  /** Why it can't be right: a sentence without a full stop. */
  readonly why: string;
}

export interface Explanation {
  readonly version: 1;
  /** No fault is needed to explain the readings, and none is likelier than a sound house. False too where nothing was read. */
  readonly healthy: boolean;
  /** Share of belief that the house is as recorded. */
  readonly healthyLikelihood: number;
  /** Best first; groups that can't be told apart stand together as one, its likeliest member first. */
  readonly faults: readonly ExplainedFault[];
  readonly excluded: readonly ExcludedFault[];
  /** Null where nothing more can be told, or nothing needs to be. */
  readonly next: NextStep | null;
  readonly bad: readonly BadReading[];
  /** Said where something keeps the finder from its work: no readings, a circuit without figures. */
  readonly notes: readonly string[];
}

export interface ExplainOptions {
  /** Something was worked on since the house was last right: swaps, jumpers and settings weigh as much as all else together. */
  readonly recentWork?: boolean;
  /** Which blocks to explain, by position; the ones of the latest date otherwise. */
  readonly blocks?: readonly number[];
  /** Most faults and excluded ones listed; 12 and 40 otherwise. */
  readonly mostFaults?: number;
  readonly mostExcluded?: number;
}
