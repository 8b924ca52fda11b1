/** What is said of one reading: what the record makes one expect, and whether the reading agrees with it. */

import type { Reading, Sign } from '../readings-types.js';

export type Predicted =
  /** A meter's figure, SI: the likeliest, and the band a sound house may show. `leansOn` says in words what the band owes its width to. */
  | {
      readonly kind: 'figure';
      readonly unit: 'V' | 'A' | 'ohm';
      readonly value: number;
      readonly least: number;
      readonly most: number;
      readonly leansOn: readonly string[];
    }
  /** One point hangs free of the other: the meter's own load pulls the reading to what `value` says, about none. */
  | {
      readonly kind: 'floating';
      readonly value: number;
      readonly least: number;
      readonly most: number;
      readonly meterOhms: number;
    }
  /** Of ohms: no loop, next to none, or something whose ohms a meter can't tell beforehand (electronics, filaments, coils without a `dc` figure). */
  | { readonly kind: 'ohms'; readonly tells: 'open' | 'short' | 'some' }
  /** Of what is seen and heard. `note` names the coil's end where a chime has several. `sure` is false near a limit: either would be no surprise. */
  | { readonly kind: 'sign'; readonly shows: Sign; readonly note?: string; readonly sure: boolean }
  | { readonly kind: 'unknown'; readonly reason: string };

export interface JudgedReading {
  /** Position of its block in the record's `readings`, and its own within the block. */
  readonly block: number;
  readonly index: number;
  readonly reading: Reading;
  readonly predicted: Predicted;
  /** Undefined where nothing can be expected, or the reading itself can't be. */
  readonly agrees: boolean | undefined;
  /** The supplies whose EMF this reading sets for its block. */
  readonly sets: readonly string[];
  /** Why the reading itself can't be right, whatever the house: a sentence without a full stop. */
  readonly bad?: string;
}
