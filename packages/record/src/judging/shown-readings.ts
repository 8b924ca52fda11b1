/** The readings of a record beside what was expected of each, in words: what every surface lists. */

import type { Analysis } from '../analysis-types.js';
import { badReading } from './bad-readings.js';
import { judgedReadings } from '../readings/judge.js';
import { predictedWords, readingPlaceWords, readingShownWords, readingStateWords } from './reading-words.js';
import { quote } from './words.js';

export interface ShownReading {
  /** Position of its block among the record's `readings`, and its own within the block. */
  readonly block: number;
  readonly index: number;
  /** As written: `2026-11-20`. */
  readonly on: string;
  /** Names between backticks, as in findings: "across `bell-tx.a` and `bell-tx.b`". */
  readonly place: string;
  /** "at rest"; empty for the mains. */
  readonly state: string;
  /** "18.7 V". */
  readonly read: string;
  /** "17.9 V to 21.4 V"; null where nothing can be expected. */
  readonly expected: string | null;
  /** Null where there is nothing to agree with. */
  readonly agrees: boolean | null;
  /** Why it can't be right, whatever the house; a sentence without a full stop. */
  readonly bad: string | null;
}

/** In the record's order. */
export function shownReadings(analysis: Analysis): readonly ShownReading[] {
  const blocks = analysis.installation.readings ?? [];
  return judgedReadings(analysis).map(({ block, index, reading, predicted, agrees, bad }) => {
    const { of } = reading;
    const why = badReading(analysis, reading)?.why ?? bad ?? null;
    return {
      block,
      index,
      on: blocks[block]?.on ?? '',
      place: of.kind === 'mains' ? 'the mains' : of.kind === 'sign' ? quote(of.part) : readingPlaceWords(of),
      state: of.kind === 'mains' ? '' : readingStateWords(analysis, reading),
      read: readingShownWords(of),
      expected: predictedWords(predicted) ?? null,
      agrees: why === null ? (agrees ?? null) : null,
      bad: why,
    };
  });
}
