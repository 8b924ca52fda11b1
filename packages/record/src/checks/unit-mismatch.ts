import { quotedList, quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface UnitMismatchFacts {
  /** The figure as written: `10 m`, or `16` where the unit is missing. */
  readonly written: string;
  /** What the figure is for: "an output", "a run's length". */
  readonly of: string;
  readonly missing: boolean;
  /** Units that fit, the likeliest first. */
  readonly fits: readonly string[];
  /** The same figure with the unit that was meant, or those that may have been. */
  readonly write?: readonly string[];
}

export const unitMismatch = defineReaderCheck<UnitMismatchFacts>({
  code: 'unit-mismatch',
  severity: 'error',
  title: 'A figure has no unit, or one that does not fit',
  sentence: ({ written, of, missing, fits, write }) =>
    `${quote(written)} ${missing ? 'has no unit' : 'has a unit that does not fit'}: ${of} takes ${quotedList(fits, 'or')}.${write === undefined ? '' : ` Write ${quotedList(write, 'or')}.`}`,
});
