/** What of two versions of a text has to be read, to tell what differs between them. */

import type { PartType } from '@ohmstead/record';
import { library } from './library.js';
import { chunksOf, withoutComments } from './reading/chunks.js';

interface DifferingText {
  readonly before: string;
  readonly after: string;
}

/**
 * The statements that only one of two versions has, and of those that both have the ones that hang together with them by a name: of all
 * else the two say the same. Undefined where too little could be left out, and where something in them is judged by the whole record.
 */
export function differingText(before: string, after: string): DifferingText | undefined {
  if (UNUSUAL_SPACE.test(before) || UNUSUAL_SPACE.test(after)) return undefined;
  const known = new Map<string, Stated>();
  const versions = [before, after].map((text) => chunksOf(text).map((chunk) => statementOf(chunk, known)));
  const [old, now] = versions as [Stated[], Stated[]];
  if ([...known.values()].some(({ isOfTheWhole }) => isOfTheWhole)) return undefined;
  // Of two statements with one name the first counts: that their order is another is no difference between statements.
  if (saysANameTwice(old) || saysANameTwice(now)) return undefined;
  const shared = sharedBy(old, now);
  const all = [...new Set([...old, ...now])];
  const changed = all.filter((one) => !shared.has(one.words));
  if (changed.some(({ words }) => PROFILE.test(words))) return undefined;
  const kept = hangingTogether(all, [...changed, ...all.filter(({ isAlwaysKept }) => isAlwaysKept)]);
  const [oldKept, newKept] = [old, now].map((statements) => statements.filter(({ words }) => kept.has(words)));
  if ((oldKept!.length + newKept!.length) * 2 > old.length + now.length) return undefined;
  const textOf = (statements: readonly Stated[]): string => statements.map(({ text }) => text).join('');
  return { before: textOf(oldKept!), after: textOf(newKept!) };
}

/** A statement, or what could not be cut apart. */
interface Stated {
  readonly text: string;
  /** The text without what ends it: blank lines say nothing. */
  readonly words: string;
  readonly gives: readonly Given[];
  readonly isOfTheWhole: boolean;
  readonly isAlwaysKept: boolean;
}

interface Given {
  readonly space: 'part' | 'place' | 'type';
  readonly name: string;
}

/** Lines are cut apart at others only. */
const UNUSUAL_SPACE = /[^\S \t\r\n]/;
/** What brings other files in, or is judged by all that a record holds. An acceptance that names nothing is one. */
const OF_THE_WHOLE =
  /^[ \t]*(?:(?:import|changes|readings|replace|remove|relocate|move|land|lift)\b|accept\b(?!\s+[\w-]+\s+on\s))/im;
const GIVING =
  /^[ \t]*(?:(cable|supply|device)[ \t]+type[ \t]+(?!:)|(place|supply|device|splice|run|box|jumper|pigtail)[ \t]+)([^\s:."{]+)([ \t]*:)?/gim;
const HEAD = /^[ \t]*(?:wiring|profile)\b/im;
const PROFILE = /^[ \t]*profile\b/im;
const LINE_SIDE = /^[ \t]*(?:box|ground|earth)\b|\bbeside\b/im;
const WORD = /[\p{L}\p{M}_][\p{L}\p{M}\p{N}_-]*/gu;

function statementOf(text: string, known: Map<string, Stated>): Stated {
  const before = known.get(text);
  if (before) return before;
  const words = withoutComments(text).trimEnd();
  const gives = [...words.matchAll(GIVING)].map(givenBy);
  const isOfTheWhole =
    OF_THE_WHOLE.test(words) ||
    gives.some(({ space, name }) => space === 'part' && NUMBERED.test(name)) ||
    (gives.some(({ space }) => space === 'type') && /\b(?:hot|neutral|ground)\b/i.test(words));
  const stated = { text, words, gives, isOfTheWhole, isAlwaysKept: HEAD.test(words) || isLineSide(words) };
  known.set(text, stated);
  return stated;
}

/** All links without a name are numbered together, so that they hang together: by a name that nothing can have. */
const UNNAMED = 'unnamed jumper';
/** What the unnamed are called then. */
const NUMBERED = /^jumper-\d+$/;

function givenBy([, type, word = '', name, colon]: RegExpMatchArray): Given {
  if (type !== undefined) return { space: 'type', name: name! };
  if (word.toLowerCase() === 'place') return { space: 'place', name: name! };
  const isUnnamed = /jumper|pigtail/i.test(word) && colon === undefined;
  return { space: 'part', name: isUnnamed ? UNNAMED : name! };
}

/** Whether a record has a line side shows in the whole of it alone. */
function isLineSide(words: string): boolean {
  const { terminals, types } = lineWords();
  return LINE_SIDE.test(words) || terminals.test(words) || types.test(words);
}

let known: { readonly terminals: RegExp; readonly types: RegExp } | undefined;

/** Terminals that the library marks, where they are landed on or have a lead, and types that give line voltage. */
function lineWords() {
  if (known) return known;
  const types = [...library().partTypes];
  const terminals = types.flatMap(([, type]) =>
    type.terminals.filter(({ lineSide }) => lineSide !== undefined).map(({ name }) => name),
  );
  const giving = types.filter(([, type]) => givesLineVoltage(type)).map(([name]) => name);
  const oneOf = (names: readonly string[]): string => `(?:${[...new Set(names)].join('|')})(?![\\w-])`;
  known = {
    terminals: new RegExp(`(?:\\.\\s*|\\blands\\s+)${oneOf(terminals)}`),
    types: new RegExp(`:\\s*${oneOf(giving)}`),
  };
  return known;
}

function givesLineVoltage({ of, terminals, elements }: PartType): boolean {
  const isHot = terminals.some(({ lineSide }) => lineSide === 'hot');
  return of === 'supply' && isHot && elements.every(({ kind }) => kind !== 'primary' && kind !== 'winding');
}

/** What both versions have, as often. */
function sharedBy(old: readonly Stated[], now: readonly Stated[]): ReadonlySet<string> {
  const [before, after] = [countOf(old), countOf(now)];
  return new Set([...before.keys()].filter((words) => after.get(words) === before.get(words)));
}

function countOf(statements: readonly Stated[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { words } of statements) counts.set(words, (counts.get(words) ?? 0) + 1);
  return counts;
}

function saysANameTwice(statements: readonly Stated[]): boolean {
  const given = statements.flatMap(({ gives }) => gives).filter(({ name }) => name !== UNNAMED);
  return new Set(given.map(({ space, name }) => `${space} ${name}`)).size < given.length;
}

/**
 * The words of all statements that hang together with some. A part, run, splice or box hangs together with whatever names it; a place or a
 * type is only brought along, unless it is one of those.
 */
function hangingTogether(all: readonly Stated[], from: readonly Stated[]): ReadonlySet<string> {
  const isPart = new Set<string>();
  const giving = new Map<string, Set<string>>();
  for (const { words, gives } of all) {
    for (const { space, name } of gives) {
      if (space === 'part') isPart.add(name);
      put(giving, name, words);
    }
  }
  const naming = new Map<string, Set<string>>();
  const namesIn = new Map<string, ReadonlySet<string>>();
  for (const { words, gives } of all) {
    const names = new Set((words.match(WORD) ?? []).filter((name) => giving.has(name)));
    for (const { name } of gives) names.add(name);
    namesIn.set(words, names);
    for (const name of names) put(naming, name, words);
  }
  const reached = new Set<string>();
  const waiting: string[] = [];
  const reach = (words: string): void => {
    if (reached.has(words)) return;
    reached.add(words);
    waiting.push(words);
  };
  // With a place go the places within it, with a type what is of it.
  const given = new Set<string>();
  const reachUsers = (names: readonly Given[]): void => {
    for (const { name } of names) {
      if (given.has(name)) continue;
      given.add(name);
      for (const words of naming.get(name) ?? []) reach(words);
    }
  };
  const givenIn = new Map(all.map(({ words, gives }) => [words, gives]));
  for (const { words, gives } of from) {
    reach(words);
    reachUsers(gives);
  }
  for (const name of given) for (const words of naming.get(name) ?? []) reachUsers(placesAndTypes(givenIn.get(words)!));
  for (let words = waiting.pop(); words !== undefined; words = waiting.pop()) {
    for (const name of namesIn.get(words)!)
      for (const one of (isPart.has(name) ? naming : giving).get(name)!) reach(one);
  }
  return reached;
}

function placesAndTypes(gives: readonly Given[]): readonly Given[] {
  return gives.filter(({ space }) => space !== 'part');
}

function put(sets: Map<string, Set<string>>, key: string, value: string): void {
  const known = sets.get(key);
  if (known) known.add(value);
  else sets.set(key, new Set([value]));
}
