/** What a check concludes: one sentence, where it belongs, what explains it and how it may be mended. */

import type { ConductorSize, End, Installation } from './model.js';
import type { RecordPath } from './place-in-record.js';

export type Severity = 'error' | 'warning' | 'info' | 'hint';

export interface RelatedPlace {
  readonly path: RecordPath;
  readonly message: string;
}

/** One change to the record, as data; the reader of the text turns it into an edit of the text. */
export type RecordChange =
  /** Another supply in its place: what was measured on the old one, and its no-load volts, no longer hold. */
  | {
      readonly kind: 'set-output';
      readonly part: string;
      readonly volts: number;
      readonly voltAmperes: number;
      /** Of a supply that is sold by its amps: the same, as its label says it. */
      readonly amps?: number;
    }
  | { readonly kind: 'set-cable'; readonly run: string; readonly size: ConductorSize }
  | { readonly kind: 'add-jumper'; readonly name: string; readonly from: End; readonly to: End }
  | { readonly kind: 'remove-jumper'; readonly jumper: string }
  | {
      readonly kind: 'land';
      readonly run: string;
      readonly conductor: number;
      readonly end: 'from' | 'to';
      readonly on: End;
    }
  | { readonly kind: 'cap'; readonly run: string; readonly conductor: number; readonly end: 'from' | 'to' }
  | { readonly kind: 'set-colour'; readonly run: string; readonly conductor: number; readonly colour: string }
  | { readonly kind: 'remove-conductor'; readonly run: string; readonly conductor: number }
  /** A conductor of a colour that the run does not name yet. */
  | {
      readonly kind: 'add-conductor';
      readonly run: string;
      readonly colour: string;
      readonly from: End;
      readonly to: End;
    }
  | { readonly kind: 'set-breaker'; readonly part: string; readonly amps: number }
  | { readonly kind: 'set-battery'; readonly part: string; readonly ampereHours: number }
  /** A box bonded to a terminal or splice. */
  | { readonly kind: 'add-ground'; readonly from: End; readonly box: string }
  /** A part's own lead on another terminal or in a splice, in place of where it was. */
  | { readonly kind: 'set-lead'; readonly part: string; readonly terminal: string; readonly on: End }
  | { readonly kind: 'set-place'; readonly splice: string; readonly place: string };

export interface Fix {
  /** In the imperative: "Put `bell-tx` up to 16 V 30 VA". */
  readonly title: string;
  readonly changes: readonly RecordChange[];
  /** Of what may have been left out: no measure of what else is wrong. */
  readonly isGuess?: true;
}

export interface Finding {
  readonly code: string;
  readonly severity: Severity;
  readonly path: RecordPath;
  readonly message: string;
  readonly related: readonly RelatedPlace[];
  /** Parts it is about; `accept CODE on NAME` compares with these. */
  readonly parts: readonly string[];
  /** Empty as `runChecks` gives it: `fixesFor` works fixes out when they are asked for, and re-checks each: the finding gone, nothing new. */
  readonly fixes: readonly Fix[];
  readonly accepted?: { readonly because: string };
}

/** Carries out a fix's changes on the data, so that it can be re-checked. Unknown names leave the record as it is. */
export type ApplyChanges = (installation: Installation, changes: readonly RecordChange[]) => Installation;
