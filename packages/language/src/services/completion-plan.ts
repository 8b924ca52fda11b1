/** What can come next in a statement that only a rewire plan has. */

import type { Installation, Run } from '@ohmstead/record';
import { pointOf } from '@ohmstead/record';
import { sameColour } from '../lower/cables.js';

/** What to offer: names of the record that is changed, or something that any statement has. */
export type PlanOffer =
  | { readonly kind: 'words' | 'names' | 'colours' | 'points'; readonly list: readonly string[] }
  | { readonly kind: 'types'; readonly of: 'supply' | 'device' }
  | { readonly kind: 'cables' }
  /** Terminals to land on, those of the circuit that results. */
  | { readonly kind: 'ends' }
  /** Places, those of the plan included. */
  | { readonly kind: 'places' };

export const PLAN_WORDS: readonly string[] = ['replace', 'remove', 'relocate', 'move', 'land', 'lift'];

/** `words` are those of the statement before the cursor, in lower case where they are not names. */
export function planOffers(words: readonly string[], base: Installation): readonly PlanOffer[] {
  const statement = words[0]?.toLowerCase();
  switch (statement) {
    case 'replace':
      return replaceOffers(words, base);
    case 'remove':
      return removeOffers(words, base);
    case 'relocate':
      return relocateOffers(words, base);
    case 'move':
    case 'land':
    case 'lift':
      return conductorOffers(statement, words, base);
    default:
      return [];
  }
}

function namesOf(list: readonly { readonly name: string }[]): readonly string[] {
  return list.map(({ name }) => name).sort();
}

function replaceOffers(words: readonly string[], { supplies, devices, runs }: Installation): readonly PlanOffer[] {
  const last = words.at(-1)?.toLowerCase();
  const of = words[1]?.toLowerCase();
  if (words.length === 1) return [{ kind: 'words', list: ['supply', 'device', 'run'] }];
  if (words.length === 2) {
    const list = of === 'supply' ? supplies : of === 'device' ? devices : of === 'run' ? runs : [];
    return [{ kind: 'names', list: namesOf(list) }];
  }
  if (last === ':') {
    return of === 'run' ? [{ kind: 'cables' }] : of === 'supply' || of === 'device' ? [{ kind: 'types', of }] : [];
  }
  return words.length === 3 ? [{ kind: 'words', list: ['with'] }] : [];
}

function removeOffers(words: readonly string[], base: Installation): readonly PlanOffer[] {
  const { supplies, devices, splices, runs, jumpers } = base;
  const last = words.at(-1)?.toLowerCase();
  if (words.length === 1) {
    const named = jumpers.filter(({ named }) => named);
    return [
      { kind: 'words', list: ['jumper'] },
      { kind: 'names', list: namesOf([...supplies, ...devices, ...splices, ...runs, ...named]) },
    ];
  }
  if (words[1]?.toLowerCase() !== 'jumper') return [];
  if (words.length === 2) return [{ kind: 'points', list: [...new Set(jumpers.map(({ from }) => pointOf(from)))] }];
  if (last !== 'to') return words.includes('to') ? [] : [{ kind: 'words', list: ['to'] }];
  const from = words.slice(2, -1).join('');
  const others = jumpers.flatMap((jumper) => {
    const ends = [pointOf(jumper.from), pointOf(jumper.to)];
    return ends.includes(from) ? ends.filter((end) => end !== from) : [];
  });
  return [{ kind: 'points', list: [...new Set(others)] }];
}

function relocateOffers(words: readonly string[], { supplies, devices, splices }: Installation): readonly PlanOffer[] {
  if (words.length === 1) return [{ kind: 'names', list: namesOf([...supplies, ...devices, ...splices]) }];
  if (words.length === 2) return [{ kind: 'words', list: ['to'] }];
  return words.length === 3 ? [{ kind: 'places' }] : [];
}

/** `tx-to-hall.green`: spare ones to land, landed ones for everything else. */
function coloursOf({ name, cable, conductors }: Run, statement: string): readonly string[] {
  const landed = conductors.filter(({ spare }) => !spare).map(({ colour }) => colour);
  const spare = (cable?.colours ?? []).filter((colour) => !landed.some((one) => sameColour(one, colour)));
  return (statement === 'land' ? spare : landed).map((colour) => `${name}.${colour}`);
}

function conductorOffers(
  statement: 'move' | 'land' | 'lift',
  words: readonly string[],
  { runs }: Installation,
): readonly PlanOffer[] {
  const last = words.at(-1)?.toLowerCase();
  // A run and its colour are one word to whoever types them.
  if (words.length === 1) return [{ kind: 'colours', list: runs.flatMap((run) => coloursOf(run, statement)) }];
  if (statement === 'land') {
    if (words.length === 4 || last === 'to') return [{ kind: 'ends' }];
    return words.includes('to') ? [] : [{ kind: 'words', list: ['to'] }];
  }
  if (words.length === 4) return [{ kind: 'words', list: ['from'] }];
  if (last === 'from') {
    const stated = runs.find(({ name }) => name === words[1])?.conductors;
    const conductor = stated?.find(({ colour, spare }) => !spare && sameColour(colour, words[3] ?? ''));
    const ends = [conductor?.from, conductor?.to].flatMap((one) => (one?.kind === 'on' ? [pointOf(one.end)] : []));
    return [{ kind: 'points', list: ends }];
  }
  if (statement === 'lift') return [];
  if (last === 'to') return [{ kind: 'ends' }];
  return words.includes('to') ? [] : [{ kind: 'words', list: ['to'] }];
}
