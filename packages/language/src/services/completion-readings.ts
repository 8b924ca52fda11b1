/** What can come next on a line of a `readings` block. */

import { type Installation, pointOf } from '@ohmstead/record';
import type { Token } from './scan.js';
import { isSign, stateLength } from './reading-words.js';

export type ReadingOffer =
  | { readonly kind: 'words' | 'points' | 'contacts' | 'places' | 'units' | 'signs'; readonly list: readonly string[] }
  /** A line's first words, with the common facts after them. */
  | { readonly kind: 'starts'; readonly list: readonly string[] };

const STARTS = ['idle', 'pressed', 'bridged', 'off', 'mains', 'meter'];
const SIGNS = ['silent', 'rings', 'hums', 'dark', 'lit'];

/** `tokens` are those of the line before what is being typed; `number`: a figure stands right before it. */
export function readingOffers(
  tokens: readonly Token[],
  installation: Installation,
  number: boolean,
): readonly ReadingOffer[] {
  const words = wordsOf(tokens);
  const first = words[0]?.toLowerCase();
  if (words.length === 0) return number ? [] : [{ kind: 'starts', list: STARTS }];
  if (first === 'meter') return number ? [{ kind: 'units', list: ['Mohm', 'kohm'] }] : [];
  if (first === 'mains') return afterFigure(words.slice(1), number, ['V']);
  const length = stateLength(words);
  if (length === 0) return [];
  const last = words.at(-1)!.toLowerCase();
  const isOff = first === 'off' || first === 'off,';
  if (length === words.length) {
    if (last === 'off,') return [{ kind: 'words', list: ['pressed'] }];
    const contacts: ReadingOffer = { kind: 'contacts', list: contactsOf(installation) };
    if (last === 'pressed' || last === 'bridged') return [contacts];
    const mayBridge = first === 'pressed' && !words.some((word) => word.toLowerCase() === 'bridged');
    const bridged: readonly ReadingOffer[] = mayBridge ? [{ kind: 'words', list: ['bridged'] }] : [];
    // A comma may also follow the first of two points.
    if (last.endsWith(',')) return [contacts, ...bridged, ...points(installation)];
    const more = last === 'off' ? [{ kind: 'words', list: ['pressed'] } as const] : bridged;
    return [...afterState([], isOff, installation, number), ...more];
  }
  return afterState(words.slice(length), isOff, installation, number);
}

function afterState(
  rest: readonly string[],
  off: boolean,
  installation: Installation,
  number: boolean,
): readonly ReadingOffer[] {
  const last = rest.at(-1)?.toLowerCase();
  if (rest.length === 0) {
    const list = off ? ['across'] : ['across', 'through', 'mains'];
    return [...points(installation), { kind: 'signs', list: partsOf(installation) }, { kind: 'words', list }];
  }
  if (last === 'at') return [{ kind: 'places', list: installation.places.map(({ name }) => name) }];
  if (last === 'across' || last === 'through' || last!.endsWith(',')) return points(installation);
  const units =
    rest[0]!.toLowerCase() === 'through' ? ['A', 'mA'] : off ? ['ohm', 'kohm', 'Mohm'] : ['V AC', 'V DC', 'V'];
  if (rest[0]!.toLowerCase() === 'mains') return afterFigure(rest.slice(1), number, ['V']);
  const figures = rest.findIndex((word, index) => index > 0 && /^[-\u2212]?\d/.test(word));
  if (number || figures >= 0) return afterFigure(rest.slice(Math.max(figures, 0)), number, units);
  if (last === 'rings') return [{ kind: 'points', list: terminalsOf(installation, rest.at(-2)) }];
  if (isSign(last!)) return [];
  if (rest.length === 1 && partsOf(installation).includes(rest[0]!)) return [{ kind: 'words', list: SIGNS }];
  const isConductor = installation.runs.some(({ name }) => rest.at(-1)!.startsWith(`${name}.`));
  return isConductor
    ? [{ kind: 'words', list: ['at'] }]
    : off && rest.length > 1
      ? [{ kind: 'words', list: ['OL'] }]
      : [];
}

/** Its unit, then how far it may be off. */
function afterFigure(words: readonly string[], number: boolean, units: readonly string[]): readonly ReadingOffer[] {
  const within = words.some((word) => word.toLowerCase() === 'within');
  if (number) return [{ kind: 'units', list: within ? ['%', ...units.filter((unit) => !unit.includes(' '))] : units }];
  return within || words.length < 2 ? [] : [{ kind: 'words', list: ['within'] }];
}

/** Tokens written together, as in `bell-tx.a,`. */
function wordsOf(tokens: readonly Token[]): readonly string[] {
  const words: string[] = [];
  for (const { text, glued } of tokens) {
    if (words.length > 0 && (glued || text === ',')) words[words.length - 1] += text;
    else words.push(text);
  }
  return words;
}

function partsOf({ supplies, devices }: Installation): readonly string[] {
  return [...supplies, ...devices].map(({ name }) => name);
}

function terminalsOf({ devices, partTypes }: Installation, part: string | undefined): readonly string[] {
  const type = devices.find(({ name }) => name === part)?.type;
  return (partTypes.get(type ?? '')?.terminals ?? []).map(({ name }) => name);
}

/** Where something is landed, then the other terminals, then the conductors' ends. */
function points(installation: Installation): readonly ReadingOffer[] {
  return [{ kind: 'points', list: pointsOf(installation) }];
}

export function pointsOf({ supplies, devices, splices, runs, jumpers, partTypes }: Installation): readonly string[] {
  const terminals = [...supplies, ...devices].flatMap(({ name, type }) =>
    (partTypes.get(type ?? '')?.terminals ?? []).map((terminal) => ({ point: `${name}.${terminal.name}`, terminal })),
  );
  const landed = new Set(
    runs.flatMap(({ conductors }) =>
      conductors.flatMap(({ from, to }) => [from, to].flatMap((one) => (one?.kind === 'on' ? [pointOf(one.end)] : []))),
    ),
  );
  for (const { from, to } of jumpers) for (const end of [from, to]) landed.add(pointOf(end));
  const isNear = ({ point }: { point: string }) => landed.has(point);
  const low = terminals.filter(({ terminal }) => terminal.lineSide === undefined);
  const line = terminals.filter(({ terminal }) => terminal.lineSide !== undefined);
  const conductors = runs.flatMap(({ name, conductors: stated }) => stated.map(({ colour }) => `${name}.${colour}`));
  const names = (list: typeof terminals) => list.map(({ point }) => point);
  return [
    ...names(low.filter(isNear)),
    ...splices.map(({ name }) => name),
    ...names(low.filter((one) => !isNear(one))),
    ...conductors,
    ...names(line),
  ];
}

/** As `pressed` takes them: a part with one contact by its own name. */
export function contactsOf({ supplies, devices, partTypes }: Installation): readonly string[] {
  return [...supplies, ...devices].flatMap(({ name, type }) => {
    const contacts = (partTypes.get(type ?? '')?.elements ?? []).filter((element) => element.kind === 'contact');
    if (contacts.length === 1) return [name];
    return contacts.map((contact) => `${name}.${contact.name ?? `${contact.a}-${contact.b}`}`);
  });
}
