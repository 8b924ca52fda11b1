/** Names like another name, for a slip of the pen. */

import { compare } from '../resolve/parts.js';

const MOST_OFFERED = 3;

/** Up to three known names within a third of the name's letters, nearest first; case does not count. */
export function nearestNames(name: string, known: Iterable<string>): readonly string[] {
  const sought = name.toLowerCase();
  const allowed = Math.max(2, Math.floor(sought.length / 3));
  return [...new Set(known)]
    .map((candidate) => ({ candidate, edits: editsBetween(sought, candidate.toLowerCase()) }))
    .filter(({ edits }) => edits <= allowed)
    .sort((x, y) => x.edits - y.edits || compare(x.candidate, y.candidate))
    .slice(0, MOST_OFFERED)
    .map(({ candidate }) => candidate);
}

/** Letters put in, left out or exchanged to get from one word to the other (Levenshtein, 1966). */
function editsBetween(from: string, to: string): number {
  let above = Array.from({ length: to.length + 1 }, (_, i) => i);
  for (let i = 1; i <= from.length; i++) {
    const row = [i];
    for (let j = 1; j <= to.length; j++) {
      const exchanged = above[j - 1]! + (from[i - 1] === to[j - 1] ? 0 : 1);
      row.push(Math.min(exchanged, above[j]! + 1, row[j - 1]! + 1));
    }
    above = row;
  }
  return above[to.length]!;
}
