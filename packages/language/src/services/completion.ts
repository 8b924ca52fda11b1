/** Completion from the tokens before the cursor and the last record that could be read. It parses nothing. */

import { type CompletionItem, CompletionItemKind, InsertTextFormat, type Range } from 'vscode-languageserver';
import type { Installation, PartType } from '@ohmstead/record';
import {
  cableDrafts,
  choices,
  type CompletionRecord,
  colours,
  type Draft,
  endDrafts,
  isMetric,
  lengthWritten,
  markDrafts,
  offers,
  partDrafts,
  placeDrafts,
  typeDrafts,
  units,
  words,
} from './completion-drafts.js';
import { type FactOwner, freeColours, insideFact, LISTS } from './completion-facts.js';
import { PLAN_WORDS, planOffers } from './completion-plan.js';
import { readingOffers } from './completion-readings.js';
import { type Cursor, cursorAt } from './cursor.js';
import { COMMON_FACTS, ELEMENT_FACTS, FACTS, lengthUnits, type Offered, TYPE_FACTS, unitsAfter } from './fact-words.js';
import type { Token } from './scan.js';
import {
  planSnippets,
  type SnippetNames,
  type StatementSnippet,
  statementSnippets,
  TODAY,
} from './statement-snippets.js';

export type { CompletionRecord } from './completion-drafts.js';

export interface CompletionWays {
  readonly snippets: boolean;
  /** Asked by a space: only what must come next is offered, or a line that is finished could not be left by Enter. */
  readonly bySpace?: boolean;
  /** Offsets to a range of the document. */
  rangeOf(start: number, end: number): Range;
}

export function complete(
  text: string,
  offset: number,
  record: CompletionRecord,
  ways: CompletionWays,
): CompletionItem[] {
  const cursor = cursorAt(text, offset);
  if (cursor.quiet) return [];
  const glued = /^(\d+(?:\.\d+)?)(\p{L}*)$/u.exec(cursor.typed);
  const drafts = draftsAt(cursor, { text, offset }, record, glued !== null);
  const optional = drafts.every((draft) => draft.kind === CompletionItemKind.Keyword);
  // Behind a brace the line may end too, and what an element takes is shown there.
  const opens = cursor.depth > 0 && cursor.fact.length === 0;
  if (ways.bySpace && (cursor.first || optional || opens)) return [];
  const whole = ways.rangeOf(cursor.start, Math.max(cursor.start, cursor.end));
  const behind = cursor.start + (glued?.[1]?.length ?? 0);
  const end = Math.max(behind, cursor.end, behind + lengthWritten(text.slice(behind), drafts));
  const unit = ways.rangeOf(behind, end);
  return drafts.map((draft, index) => {
    const isUnit = draft.kind === CompletionItemKind.Unit;
    return itemOf(draft, index, isUnit ? unit : whole, ways.snippets, isUnit && glued !== null);
  });
}

/** `glued`: a unit that comes right behind its figure, while all else takes the place of what is typed. */
function itemOf(draft: Draft, index: number, range: Range, snippets: boolean, glued: boolean): CompletionItem {
  const snippet = draft.snippet === true && snippets;
  const insert = draft.insert === undefined ? draft.label : snippet ? draft.insert : plain(draft.insert, draft.snippet);
  const newText = glued ? ` ${insert}` : insert;
  return {
    label: draft.label,
    kind: draft.kind,
    detail: draft.detail,
    sortText: String(index).padStart(4, '0'),
    filterText: glued ? newText.trimStart() : draft.label,
    insertTextFormat: snippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    textEdit: { range, newText },
  };
}

/** A snippet without its marks, for editors that know none. */
function plain(insert: string, snippet: boolean | undefined): string {
  if (!snippet) return insert;
  const [year, month, day] = new Date().toISOString().slice(0, 10).split('-');
  return insert
    .replaceAll(TODAY, `${year}-${month}-${day}`)
    .replace(/\$\{\d+\|([^,|}]*)[^}]*\|\}/g, '$1')
    .replace(/\$\{\d+:?([^}]*)\}|\$\d+/g, '$1');
}

function lower(tokens: readonly Token[]): string[] {
  return tokens.map((token) => token.text.toLowerCase());
}

interface Place {
  readonly text: string;
  readonly offset: number;
}

function draftsAt(cursor: Cursor, place: Place, record: CompletionRecord, glued: boolean): Draft[] {
  const header = lower(cursor.header);
  if (cursor.depth === 0) {
    if (glued) return figureInHeader(header, record);
    const statements = cursor.first && !header.at(-1)?.endsWith(',') ? statementDrafts(record) : [];
    return [...statements, ...(cursor.first && cursor.unindented ? [] : headerDrafts(cursor, header, record))];
  }
  const owner = ownerOf(cursor, header, place, record);
  const number = glued || cursor.item.at(-1)?.kind === 'number';
  const facts =
    cursor.depth > 1 ? elementDrafts(cursor, number, owner, record) : blockDrafts(cursor, owner, record, number);
  return cursor.first && cursor.unindented && !glued ? [...facts, ...statementDrafts(record)] : facts;
}

/** Whose braces the cursor stands in; in a plan those of what replaces something. */
function ownerOf(cursor: Cursor, header: readonly string[], place: Place, record: CompletionRecord): FactOwner {
  const { installation, base } = record;
  const replaces = header[0] === 'replace';
  const statement = (replaces ? header[1] : header[0]) ?? '';
  const after = (mark: string): string | undefined => cursor.header[header.indexOf(mark) + 1]?.text;
  const stated = header.includes(':') ? after(':') : undefined;
  const parts = replaces ? [...(base?.supplies ?? []), ...(base?.devices ?? [])] : [];
  const replaced = parts.find(({ name }) => name === cursor.header[2]?.text);
  const type: PartType | undefined = installation.partTypes.get(stated ?? replaced?.type ?? '');
  return { statement, typed: header[1] === 'type', ...(type ? { type } : {}), ...place };
}

function statementDrafts(record: CompletionRecord): Draft[] {
  const { installation } = record;
  const names = (of: 'supply' | 'device'): string[] =>
    [...installation.partTypes.values()].filter((type) => type.of === of).map((type) => type.name);
  const known: SnippetNames = {
    supplyTypes: names('supply'),
    deviceTypes: names('device'),
    places: installation.places.map((place) => place.name),
    metric: isMetric(installation),
  };
  const draft = ({ word, snippet, says }: StatementSnippet): Draft => ({
    label: word,
    kind: CompletionItemKind.Keyword,
    detail: says,
    insert: snippet,
    snippet: true,
  });
  // These are said once.
  const said = new Set([...(installation.title === undefined ? [] : ['wiring']), ...(record.base ? ['changes'] : [])]);
  const statements = statementSnippets(known)
    .filter(({ word }) => !said.has(word))
    .map(draft);
  if (!record.base) return statements;
  return [...planSnippets(known, record.base).map(draft), ...words(PLAN_WORDS), ...statements];
}

function headerDrafts(cursor: Cursor, header: readonly string[], record: CompletionRecord): Draft[] {
  const { installation } = record;
  const statement = header[0];
  const last = header.at(-1);
  const places = (): Draft[] => placeDrafts(installation);
  switch (statement) {
    case 'profile':
      return header.length === 1 ? choices(['north-america', 'europe', 'united-kingdom']) : [];
    case 'place':
    case 'splice':
    case 'box':
      return last === 'in' && header.length > 2 ? places() : header.length === 2 ? words(['in']) : [];
    case 'cable':
      return header.length === 1 ? words(['type']) : [];
    case 'supply':
    case 'device':
      if (header.length === 1) return words(['type']);
      if (header[1] === 'type') return [];
      if (last === ':') return typeDrafts(statement, record);
      if (last === 'in' && header.includes(':')) return places();
      return header.at(-2) === ':' ? words(['in']) : [];
    case 'run':
      return header.includes(':') ? runHeader(cursor, header, record) : [];
    case 'jumper':
    case 'pigtail': {
      const afterName = last === ':' || last === 'to' || header.length === 1;
      if (afterName)
        return endDrafts(installation, { other: last === 'to' ? endBefore(cursor.header, 'to') : undefined }, false);
      return header.includes('to') ? [] : words(['to']);
    }
    case 'ground':
    case 'earth':
      if (header.length === 1) return groundEnds(installation);
      if (last === 'to') return choices((installation.boxes ?? []).map(({ name }) => name));
      return header.includes('to') ? [] : words(['to']);
    case 'readings':
      return header.includes('on') ? [] : words(['on']);
    case 'accept':
      if (header.length === 1) {
        return record.codes.map(({ code, title }) => ({ label: code, kind: CompletionItemKind.Event, detail: title }));
      }
      if (last === 'on') return partDrafts(installation);
      return header.includes('because') ? [] : words(['because', ...(header.length === 2 ? ['on'] : [])]);
    default:
      return record.base ? planDrafts(cursor, record, record.base) : [];
  }
}

/** Bonded to a box are a circuit's grounds: those terminals and the splices come first. */
function groundEnds(installation: Installation): Draft[] {
  const isGround = ({ label }: Draft): boolean => !label.includes('.') || label.endsWith('.ground');
  const ends = endDrafts(installation, {}, false);
  return [...ends.filter(isGround), ...ends.filter((end) => !isGround(end))];
}

const TRAITS = ['outdoor', 'direct-burial', 'stranded', 'shielded', 'listed', 'with ground', 'copper-clad aluminium'];

/** After the colon of a run, or of a run that replaces one. */
function runHeader(cursor: Cursor, header: readonly string[], record: CompletionRecord): Draft[] {
  const last = header.at(-1)!;
  const from = header.lastIndexOf('from');
  if (last === 'from' || (last === 'to' && from >= 0)) return placeDrafts(record.installation);
  if (from >= 0 && from === header.length - 2) return words(['to']);
  const isNumber = cursor.header.at(-1)?.kind === 'number';
  if (isNumber && header.includes(',')) return figureInHeader(header.slice(0, -1), record);
  if (last === ',')
    return words(header[0] === 'replace' ? ['about'] : ['about', 'loop', ...(from < 0 ? ['from'] : [])]);
  if (header.includes(',') && from < 0) return words(['from']);
  if (from >= 0) return [];
  if (last === ':') return cableDrafts(record);
  if (last === 'listed') return markDrafts(record);
  if (last === 'with') return words(['ground']);
  if (last === 'copper-clad') return words(['aluminium']);
  if (isNumber && header.includes('x')) return units(['mm2', 'mm', 'AWG']);
  if (!record.cableOf(cableWordsOf(cursor.header))) return [];
  return words(['from', ...TRAITS.filter((trait) => !header.includes(trait.split(' ')[0]!))]);
}

/** Units behind a figure in a header, where it is a run's length or loop. */
function figureInHeader(before: readonly string[], { installation }: CompletionRecord): Draft[] {
  const isRun = before[0] === 'run' || (before[0] === 'replace' && before[1] === 'run');
  const last = before.at(-1) ?? '';
  if (!isRun) return [];
  if (last === 'ft') return units(['in']);
  if (last === 'loop') return units(['ohm']);
  return last === ',' || last === 'about' ? units(lengthUnits(isMetric(installation))) : [];
}

function planDrafts(cursor: Cursor, record: CompletionRecord, base: Installation): Draft[] {
  const before = cursor.header.map(({ text }) => text);
  const header = lower(cursor.header);
  const isRun = header[0] === 'replace' && header[1] === 'run';
  if (isRun && header.at(-1) !== ':' && (header.includes(':') || header.includes(',')))
    return runHeader(cursor, header, record);
  return planOffers(before, base).flatMap((offer): Draft[] => {
    switch (offer.kind) {
      case 'words':
        return words(offer.list);
      case 'types':
        return typeDrafts(offer.of, record);
      case 'cables':
        return cableDrafts(record);
      case 'ends':
        return endDrafts(record.installation, {}, false);
      case 'places':
        return placeDrafts(record.installation);
      default:
        return offer.list.map((label) => ({ label, kind: CompletionItemKind.Variable }));
    }
  });
}

function blockDrafts(cursor: Cursor, owner: FactOwner, record: CompletionRecord, number: boolean): Draft[] {
  const { statement, typed } = owner;
  const [first, ...rest] = cursor.fact;
  if (statement === 'readings') return readingDrafts(cursor, record, number);
  const word = first?.text.toLowerCase() ?? '';
  if (statement === 'run' && !typed && !RUN_FACTS.has(word)) return conductorDrafts(cursor, owner, record, number);
  if (cursor.closed) return [];
  const isNext = !number && cursor.item.length === 0 && (rest.length === 0 || !LISTS.has(word));
  return isNext ? factDrafts(owner) : insideFact(cursor.fact, number, owner, record);
}

function readingDrafts(cursor: Cursor, { installation }: CompletionRecord, afterNumber: boolean): Draft[] {
  return readingOffers(cursor.fact, installation, afterNumber).flatMap(({ kind, list }): Draft[] => {
    if (kind === 'words') return words(list);
    if (kind === 'units') return units(list);
    if (kind === 'starts') return [...words(list), ...offers(COMMON_FACTS)];
    const as = {
      points: CompletionItemKind.Field,
      contacts: CompletionItemKind.Event,
      places: CompletionItemKind.Folder,
    };
    return list.map((label) => ({ label, kind: kind === 'signs' ? CompletionItemKind.Variable : as[kind] }));
  });
}

const RUN_FACTS: ReadonlySet<string> = new Set(
  [...FACTS['run']!, ...COMMON_FACTS].map(({ word }) => word.split(' ')[0]!),
);

/** A conductor's line in a run's braces: the colour, where it lands at either end. */
function conductorDrafts(cursor: Cursor, owner: FactOwner, record: CompletionRecord, number: boolean): Draft[] {
  const item = lower(cursor.item);
  const runName = cursor.header[cursor.header[0]?.text.toLowerCase() === 'replace' ? 2 : 1]?.text ?? '';
  const run = record.installation.runs.find((one) => one.name === runName);
  if (item.length === 0) {
    const cable = record.cableOf(cableWordsOf(cursor.header)) ?? run?.cable;
    const free = colours(freeColours(cable?.colours ?? [], owner));
    const known = free.map((draft) => ({ ...draft, detail: 'still free in this cable' }));
    return [...known, ...offers([...FACTS['run']!, ...COMMON_FACTS])];
  }
  // Of a striped conductor the second colour is part of the first word.
  if (item.at(-1) === '/') return [];
  const colourTokens = item[1] === '/' ? 3 : 1;
  const colour = cursor.item
    .slice(0, colourTokens)
    .map((token) => token.text)
    .join('');
  const rest = item.slice(colourTokens);
  const place = placeOfHeader(cursor.header);
  if (rest.length === 0) {
    const wanted = { place: run?.fromPlace ?? place.from, run: runName, colour };
    return [...endDrafts(record.installation, wanted, true), ...words(['spare'])];
  }
  if (rest.at(-1) === 'to') {
    const other = endBefore(cursor.item.slice(colourTokens), 'to');
    return endDrafts(record.installation, { place: run?.toPlace ?? place.to, run: runName, colour, other }, true);
  }
  const isNumbered = number && rest.at(-2) !== '.';
  return isNumbered || rest.includes('to') || rest[0] === 'spare' ? [] : words(['to']);
}

function placeOfHeader(header: readonly Token[]): { from?: string; to?: string } {
  const after = (word: string): string | undefined =>
    header[header.findIndex((token) => token.text.toLowerCase() === word) + 1]?.text;
  const has = header.some((token) => token.text.toLowerCase() === 'from');
  return has ? { from: after('from'), to: after('to') } : {};
}

/** The end written just before a word: `bell-tx.a` in `red bell-tx.a to`. */
function endBefore(tokens: readonly Token[], word: string): string | undefined {
  const at = tokens.findLastIndex((token) => token.text.toLowerCase() === word);
  let start = at - 1;
  while (start > 0 && tokens[start]!.glued) start--;
  if (start < 0) return undefined;
  return tokens
    .slice(start, at)
    .map((token) => token.text)
    .join('');
}

/** The words between the colon and what follows the cable in a run's header, as written. */
function cableWordsOf(header: readonly Token[]): string {
  const colon = header.findIndex((token) => token.text === ':');
  const rest = header.slice(colon + 1);
  const stop = rest.findIndex((token) => token.text === ',' || token.text.toLowerCase() === 'from');
  return (stop < 0 ? rest : rest.slice(0, stop))
    .map((token, index) => (index > 0 && !token.glued ? ` ${token.text}` : token.text))
    .join('');
}

function elementDrafts(cursor: Cursor, number: boolean, owner: FactOwner, record: CompletionRecord): Draft[] {
  const element = cursor.opener[0]?.text.toLowerCase() ?? '';
  const item = lower(cursor.item);
  // Their unit ends them.
  const isTaps = cursor.fact[0]?.text.toLowerCase() === 'taps' && !lower(cursor.fact).includes('v');
  if (number) return units(unitsAfter(isTaps ? ['taps'] : item, element));
  if (item.length === 0 && isTaps) return insideFact(cursor.fact, false, owner, record);
  if (item.length === 0) return offers(ELEMENT_FACTS[element] ?? []);
  if (item.length === 2 && item[1] === 'v') return words(['AC', 'DC']);
  return insideFact(cursor.item, false, owner, record);
}

function factDrafts(owner: FactOwner): Draft[] {
  const { statement, typed } = owner;
  const facts = (typed ? TYPE_FACTS : FACTS)[statement];
  if (!facts) return [];
  return offers([...facts.filter((word) => typed || fits(word, owner)), ...COMMON_FACTS]);
}

/** Whether a fact fits the part in whose braces it would stand. */
function fits({ only }: Offered, { statement, type }: FactOwner): boolean {
  if (only === undefined) return true;
  if (only === 'supply' || only === 'device') return only === statement;
  const elements = type?.elements ?? [];
  if (only === 'load' || only === 'coil' || only === 'load or coil') {
    const kinds = only.split(' or ');
    return elements.some(({ kind }) => kinds.includes(kind));
  }
  const contacts = elements.filter((one) => one.kind === 'contact');
  if (only === 'contacts') return contacts.length > 1;
  return contacts.some((contact) => contact.kind === 'contact' && contact.name === 'ring');
}
