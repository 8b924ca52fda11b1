/** The work that one record asks for when another is what stands: steps in the order a careful person does them. */

import type { StateKey } from '../budget-types.js';

export type WorkPhase =
  | 'isolate'
  | 'label'
  | 'lift'
  | 'remove'
  | 'mount'
  | 'pull'
  | 'land'
  | 'bypass'
  | 'set'
  | 'restore';

/** What a step does to the wiring, with the names of the record it belongs to: the old one up to `remove`, then the new one. */
export type WorkDone =
  | { readonly kind: 'lift'; readonly run: string; readonly colour: string; readonly from: string }
  | { readonly kind: 'lift-lead'; readonly part: string; readonly terminal: string; readonly from: string }
  | { readonly kind: 'remove-jumper'; readonly jumper: string }
  | { readonly kind: 'remove-part'; readonly part: string }
  | { readonly kind: 'remove-run'; readonly run: string }
  | { readonly kind: 'rename'; readonly before: string; readonly after: string }
  | { readonly kind: 'mount'; readonly part: string }
  | { readonly kind: 'pull'; readonly run: string }
  | { readonly kind: 'land'; readonly run: string; readonly colour: string; readonly on: string }
  | { readonly kind: 'land-lead'; readonly part: string; readonly terminal: string; readonly on: string }
  | { readonly kind: 'cap'; readonly run: string; readonly colour: string }
  | { readonly kind: 'fit-jumper'; readonly jumper: string };

export interface WorkStep {
  readonly phase: WorkPhase;
  /** One or more sentences, names between backticks. */
  readonly words: string;
  /** Where it is done, as far as the records say. */
  readonly place: string | null;
  /** A step that can hurt whoever does it carelessly. */
  readonly caution: boolean;
  readonly does?: WorkDone;
}

/** What a meter should show once all is done. */
export interface ExpectedReading extends StateKey {
  readonly between: readonly [string, string];
  readonly place: string | null;
  /** At nominal mains, and the band from low to high mains, warm to cold wire. */
  readonly volts: number;
  readonly least: number;
  readonly most: number;
}

export interface WorkOrder {
  readonly before: string | null;
  readonly after: string | null;
  /** Empty where nothing at the wiring is to be done. */
  readonly steps: readonly WorkStep[];
  readonly expected: readonly ExpectedReading[];
}

export interface WorkOrders {
  readonly version: 1;
  readonly there: WorkOrder;
  /** From the new record to the old one again. */
  readonly back: WorkOrder;
}
