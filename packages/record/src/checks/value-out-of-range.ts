import { quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface ValueOutOfRangeFacts {
  /** The figure as written. */
  readonly written: string;
  /** What the figure is for: "a power factor", "a size in AWG". */
  readonly of: string;
  /** The bound in words with its unit: "above 0 and up to 1", "from 10 to 30 AWG", "from low to high". */
  readonly takes: string;
}

const LOW_FIRST = 'from low to high';

export const valueOutOfRange = defineReaderCheck<ValueOutOfRangeFacts>({
  code: 'value-out-of-range',
  severity: 'error',
  title: 'A figure is outside what can be',
  sentence: ({ written, of, takes }) =>
    `${quote(written)} cannot be ${of}: ${takes === LOW_FIRST ? 'the lower figure stands first' : `it goes ${takes}`}.`,
});
