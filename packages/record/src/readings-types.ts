/** What a meter showed and what a person heard and saw, as the record states it; figures in SI. */

import type { SystemKind } from '@ohmstead/circuit';
import type { End } from './model.js';

/** How the house stood while the reading was taken: contacts held (none: idle), or the supplies isolated. */
export type ReadingState =
  | {
      readonly kind: 'live';
      readonly pressed: readonly string[];
      /** Contacts whose two wires were held together by hand instead of pressing them. */
      readonly bridged?: readonly string[];
    }
  /** `pressed`: contacts held meanwhile, as one does to read the ohms of a contact. */
  | { readonly kind: 'off'; readonly pressed?: readonly string[] };

/** Where a probe was held: on a terminal or splice, or on one conductor's bare end. */
export type MeterPoint =
  | { readonly kind: 'end'; readonly end: End }
  | { readonly kind: 'conductor'; readonly run: string; readonly colour: string; readonly at?: string };

/** How far the meter may be off, as stated after `within`: a share of the reading, or a figure in the reading's unit. */
export type Tolerance = { readonly share: number } | { readonly figure: number };

/** What is seen or heard at a part without a meter. */
export type Sign = 'silent' | 'rings' | 'hums' | 'dark' | 'lit';

export type ReadingOf =
  | { readonly kind: 'mains'; readonly volts: number }
  | {
      readonly kind: 'volts';
      readonly between: readonly [MeterPoint, MeterPoint];
      readonly volts: number;
      readonly system?: SystemKind;
    }
  /** `ohms` is null for `OL`: no loop that the meter can tell. */
  | { readonly kind: 'ohms'; readonly between: readonly [MeterPoint, MeterPoint]; readonly ohms: number | null }
  | { readonly kind: 'amps'; readonly through: MeterPoint; readonly amps: number }
  /** `note` is the coil's words or name where the record says which note rang. */
  | { readonly kind: 'sign'; readonly part: string; readonly shows: Sign; readonly note?: string };

export interface Reading {
  readonly state: ReadingState;
  readonly of: ReadingOf;
  readonly within?: Tolerance;
}

/** One `readings` statement. The first idle reading across a supply sets that supply's EMF for its block. */
export interface ReadingBlock {
  readonly words?: string;
  /** As written: `2026-11-20`. */
  readonly on: string;
  /** The meter's input resistance where stated, ohms; 10 Mohm otherwise. */
  readonly meterOhms?: number;
  readonly notes: readonly string[];
  readonly readings: readonly Reading[];
}
