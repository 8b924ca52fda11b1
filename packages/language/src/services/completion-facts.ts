/** What can come next inside a fact, an element or the line of a conductor, told from its words so far. */

import type { PartType } from '@ohmstead/record';
import { coloursWritten, namesOfType, namesWritten, type OwnNames } from './completion-written.js';
import {
  choices,
  type CompletionRecord,
  colours,
  contacts,
  type Draft,
  endDrafts,
  markDrafts,
  terminals,
  units,
  words,
} from './completion-drafts.js';
import { ELEMENT_FACTS, ROLES, unitsAfter } from './fact-words.js';
import { sameColour } from '../lower/cables.js';
import type { Token } from './scan.js';

/** Whose braces a fact stands in. */
export interface FactOwner {
  /** `supply`, `run`, `cable` … */
  readonly statement: string;
  /** In a type's own braces. */
  readonly typed: boolean;
  /** Of a supply or device: its type. */
  readonly type?: PartType;
  /** The whole text and the place in it, for what its other lines say. */
  readonly text: string;
  readonly offset: number;
}

const TERMINAL_MARKS = ['optional', 'holds', 'hot', 'neutral', 'ground'];
const CONTACT_FLAGS = ['momentary', 'maintained', 'normally-closed'];
const USUAL_COLOURS = ['red', 'white', 'green', 'blue', 'yellow', 'brown', 'orange', 'black', 'grey', 'pink'];

/** Facts whose commas part what they list: after one, no other fact can begin. */
export const LISTS: ReadonlySet<string> = new Set(['terminal', 'conductors', 'never', 'taps', 'beside']);

/** Words that stand between a fact's own word and its figure. */
const BEFORE_FIGURE: Readonly<Record<string, readonly string[]>> = {
  needs: ['supply'],
  existing: ['load'],
  rings: ['from'],
  hums: ['from', 'off'],
  'stays-on': ['from'],
  'pulls-in': ['from'],
  releases: ['below'],
  opens: ['above'],
  as: ['rated'],
  with: ['ground'],
  'copper-clad': ['aluminium'],
};

/** Words that can stand behind a fact's figure and its unit. */
const AFTER_FIGURE: Readonly<Record<string, readonly string[]>> = {
  needs: ['or more'],
  accepts: ['or thicker', 'or thinner'],
  existing: ['continuous'],
  measured: ['at'],
  resistance: ['per km', 'per m', 'per ft'],
};

/** `fact` are the tokens of the fact so far, `number`: a figure stands right before the cursor. */
export function insideFact(
  fact: readonly Token[],
  number: boolean,
  owner: FactOwner,
  record: CompletionRecord,
): Draft[] {
  const said = fact.map((token) => token.text.toLowerCase());
  const [first = '', second] = said;
  const last = said.at(-1)!;
  const special = namedIn(first, said, fact, number, owner, record);
  if (special) return special;
  if (number) return first === 'holds' && !said.includes('of') ? units(['of']) : units(unitsAfter(said, undefined));
  const before = BEFORE_FIGURE[first];
  if (before && said.length === 1) return words(before);
  if (first === 'measured' && said.length === 1) return words(['open']);
  if (first === 'together')
    return said.length === 1 ? words(['at most']) : second === 'at' && last === 'at' ? words(['most']) : [];
  const behind = AFTER_FIGURE[first] ?? [];
  if (last === 'or' || last === 'per')
    return choices(behind.flatMap((word) => (word.startsWith(last) ? [word.split(' ')[1]!] : [])));
  if (last === 'v' && ['output', 'rating'].includes(first)) return words(['AC', 'DC']);
  const hasFigure = fact.at(-2)?.kind === 'number';
  const isOpen = first === 'measured' && (second === 'open' || said.includes('at'));
  return hasFigure && !isOpen ? words(behind) : [];
}

/** Of facts that name something: what may be named next; undefined for every other fact. */
function namedIn(
  first: string,
  said: readonly string[],
  fact: readonly Token[],
  number: boolean,
  owner: FactOwner,
  record: CompletionRecord,
): Draft[] | undefined {
  const { installation } = record;
  const own = (): OwnNames => (owner.typed ? namesWritten(owner.text, owner.offset) : namesOfType(owner.type));
  const last = said.at(-1)!;
  switch (first) {
    case 'lands':
      if (said.length === 1) return terminals(own().terminals);
      return last === 'on' ? endDrafts(installation, {}, false) : said.includes('on') ? [] : words(['on']);
    case 'output':
      if (said.length > 1 || (number && !own().tapped)) return undefined;
      if (!own().tapped) return [];
      // A figure may be the name of a tap.
      return [
        ...terminals(own().terminals.filter((name) => !isLineSide(owner.type, name))),
        ...(number ? units(unitsAfter(said, undefined)) : []),
      ];
    case 'taps': {
      // A number is a tap's name and its volts at once, and its unit ends them.
      const free = own().terminals.filter((name) => !/^\d/.test(name) && !said.some(is(name)));
      return said.includes('v') ? [] : last === 'taps' || last === ',' ? terminals(free) : undefined;
    }
    case 'ring':
      return said.length === 1 ? choices(['mechanical', 'electronic', 'none']) : [];
    case 'role':
      return said.length === 1 ? choices(ROLES) : [];
    case 'listed':
      return said.length === 1 ? markDrafts(record) : [];
    case 'beside':
      if (said.length > 1) return undefined;
      return choices(installation.runs.map((run) => run.name));
    case 'never': {
      if (said.length === 1) return words(['together']);
      const free = own().contacts.filter((name) => !fact.some((token) => token.text === name));
      return last === 'together' || last === ',' ? contacts(free) : [];
    }
    case 'terminal':
      return marksAfter(said.slice(said.lastIndexOf(',') + 1), said.includes(','));
    case 'conductors': {
      if (!said.some((word) => word === 'awg' || word.startsWith('mm'))) return undefined;
      const free = USUAL_COLOURS.filter((colour) => !said.includes(colour));
      return fact.at(-2)?.kind === 'number' || last === ',' ? colours(free) : [];
    }
    case 'contact':
      return contactNext(said.slice(1), own().terminals);
    default:
      return Object.hasOwn(ELEMENT_FACTS, first) ? elementNext(said.slice(1), own().terminals) : undefined;
  }
}

function isLineSide(type: PartType | undefined, terminal: string): boolean {
  return type?.terminals.find(({ name }) => name === terminal)?.lineSide !== undefined;
}

/** `item` is what follows the last comma, the word `terminal` itself included in the first. */
function marksAfter(item: readonly string[], later: boolean): Draft[] {
  const marks = later ? item.slice(1) : item.slice(2);
  const named = item.length > (later ? 0 : 1);
  if (!named || marks.at(-1) === 'holds') return [];
  return words(TERMINAL_MARKS.filter((mark) => !marks.includes(mark)));
}

/** A type's terminals are compared as written and typed alike. */
const is = (name: string) => (word: string) => name.toLowerCase() === word;

function contactNext(rest: readonly string[], names: readonly string[]): Draft[] {
  const last = rest.at(-1);
  const to = rest.indexOf('to');
  if (to < 0) {
    const isTerminal = names.some((name) => is(name)(last ?? ''));
    return isTerminal ? words(['to']) : rest.length < 2 ? terminals(names) : [];
  }
  if (last === 'to' || last === 'or') return terminals(names.filter((name) => !rest.some(is(name))));
  const isFirst = rest.length === to + 2;
  const flags = CONTACT_FLAGS.filter((flag) => !rest.includes(flag));
  return words([...flags, ...(isFirst ? ['or'] : [])]);
}

function elementNext(rest: readonly string[], names: readonly string[]): Draft[] {
  if (rest.length === 0) return terminals(names);
  if (rest.length === 1) return words(['to']);
  return rest.at(-1) === 'to' ? terminals(names.filter((name) => !rest.some(is(name)))) : [];
}

/** Colours of a run's cable that no other line of it has. */
export function freeColours(cable: readonly string[], { text, offset }: FactOwner): string[] {
  const used = coloursWritten(text, offset);
  return cable.filter((colour) => !used.some((one) => sameColour(one, colour)));
}
