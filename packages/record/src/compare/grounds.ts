/** Equipment grounding that is made or taken off. */

import { pointOf } from '../analysis-types.js';
import type { Ground } from '../model.js';
import { compare } from '../resolve/parts.js';
import type { ComparedRecords } from './context.js';
import type { JumperDifference } from './types.js';

export interface HandledGrounds {
  readonly removed: readonly Ground[];
  readonly made: readonly Ground[];
}

/** By their ends and boxes, old names taken to new ones. */
export function handledGrounds({ before, after, carried, match }: ComparedRecords): HandledGrounds {
  const made = new Map((after.installation.grounds ?? []).map((one) => [`${pointOf(one.end)} ${one.box}`, one]));
  const removed = (before.installation.grounds ?? []).filter(
    ({ end, box }) => !made.delete(`${carried(end)} ${match.places.get(box) ?? box}`),
  );
  return { removed, made: [...made.values()] };
}

export function groundDifferences(records: ComparedRecords): readonly JumperDifference[] {
  const { removed, made } = handledGrounds(records);
  const ends = ({ end, box }: Ground) => ({ name: null, from: pointOf(end), to: box });
  const all: JumperDifference[] = [
    ...removed.map((one) => ({ kind: 'ground', change: 'removed', before: ends(one), after: null }) as const),
    ...made.map((one) => ({ kind: 'ground', change: 'added', before: null, after: ends(one) }) as const),
  ];
  const key = ({ before, after }: JumperDifference): string => JSON.stringify(before ?? after);
  return all.sort((one, other) => compare(key(one), key(other)));
}
