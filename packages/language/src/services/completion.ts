/** Completion from the tokens before the cursor and the last record that could be read. It parses nothing. */

import { type CompletionItem, CompletionItemKind, InsertTextFormat, type Range } from 'vscode-languageserver';
import type { CableType, Installation } from '@ohmstead/record';
import { PLAN_WORDS, planOffers } from './completion-plan.js';
import { endOffers, type WantedEnd } from './completion-ends.js';
import { readingOffers } from './completion-readings.js';
import { type Cursor, cursorAt } from './cursor.js';
import {
  COMMON_FACTS,
  ELEMENT_FACTS,
  FACTS,
  LENGTH_UNITS,
  type Offered,
  TYPE_FACTS,
  unitsAfter,
} from './fact-words.js';
import type { Token } from './scan.js';
import { planSnippets, type SnippetNames, type StatementSnippet, statementSnippets } from './statement-snippets.js';
import { cableWords, typeRating } from './words.js';

export interface CompletionRecord {
  readonly installation: Installation;
  /** Of a rewire plan: the record that it changes. */
  readonly base?: Installation;
  readonly cableTypes: readonly CableType[];
  /** The cable that a spelling such as `18/2` or a cable type's name means. */
  cableOf(words: string): CableType | undefined;
  /** Codes that `accept` may name, with their titles. */
  readonly codes: readonly { readonly code: string; readonly title: string }[];
}

export interface CompletionWays {
  readonly snippets: boolean;
  /** Asked by a space: only what must come next is offered, or a line that is finished could not be left by Enter. */
  readonly bySpace?: boolean;
  /** Offsets to a range of the document. */
  rangeOf(start: number, end: number): Range;
}

interface Draft {
  readonly label: string;
  readonly kind: CompletionItemKind;
  readonly detail?: string;
  /** Inserted in place of the label, in snippet syntax where `snippet` is set. */
  readonly insert?: string;
  readonly snippet?: boolean;
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
  const start = glued ? cursor.start + glued[1]!.length : cursor.start;
  const drafts = draftsAt(cursor, record, glued !== null);
  const optional = drafts.every((draft) => draft.kind === CompletionItemKind.Keyword);
  if (ways.bySpace && (cursor.first || optional)) return [];
  const range = ways.rangeOf(start, Math.max(start, cursor.end));
  return drafts.map((draft, index) => itemOf(draft, index, range, ways.snippets, glued !== null));
}

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
  return insert.replace(/\$\{\d+\|([^,|}]*)[^}]*\|\}/g, '$1').replace(/\$\{\d+:?([^}]*)\}|\$\d+/g, '$1');
}

function lower(tokens: readonly Token[]): string[] {
  return tokens.map((token) => token.text.toLowerCase());
}

function draftsAt(cursor: Cursor, record: CompletionRecord, number: boolean): Draft[] {
  const header = lower(cursor.header);
  if (cursor.depth === 0) {
    if (number) return header[0] === 'run' && header.includes(':') ? units(LENGTH_UNITS) : [];
    const statements = cursor.first && !header.at(-1)?.endsWith(',') ? statementDrafts(record) : [];
    return [...statements, ...(cursor.first && cursor.unindented ? [] : headerDrafts(cursor, header, record))];
  }
  const statement = header[0] ?? '';
  const typed = header[1] === 'type';
  const facts = cursor.depth > 1 ? elementDrafts(cursor) : blockDrafts(cursor, statement, typed, record, number);
  return cursor.first && cursor.unindented && !number ? [...facts, ...statementDrafts(record)] : facts;
}

function statementDrafts(record: CompletionRecord): Draft[] {
  const { installation } = record;
  const names = (of: 'supply' | 'device'): string[] =>
    [...installation.partTypes.values()].filter((type) => type.of === of).map((type) => type.name);
  const known: SnippetNames = {
    supplyTypes: names('supply'),
    deviceTypes: names('device'),
    places: installation.places.map((place) => place.name),
  };
  const draft = ({ word, snippet, says }: StatementSnippet): Draft => ({
    label: word,
    kind: CompletionItemKind.Keyword,
    detail: says,
    insert: snippet,
    snippet: true,
  });
  const statements = statementSnippets(known).map(draft);
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
    case 'supply':
    case 'device':
      if (header[1] === 'type') return [];
      if (last === ':') return typeDrafts(statement, record);
      if (last === 'in' && header.includes(':')) return places();
      return header.at(-2) === ':' ? words(['in']) : [];
    case 'run': {
      const colon = header.indexOf(':');
      if (colon < 0) return [];
      if (last === ':') return cableDrafts(record);
      if (last === 'from' || last === 'to') return places();
      if (header.at(-2) === 'from') return words(['to']);
      if (cursor.item.length === 0 && /^\d/.test(last ?? '') && header.at(-2) === ',') return units(LENGTH_UNITS);
      return header.includes('from') ? [] : words(['from']);
    }
    case 'jumper':
    case 'pigtail': {
      const afterName = last === ':' || last === 'to' || header.length === 1;
      if (afterName)
        return endDrafts(installation, { other: last === 'to' ? endBefore(cursor.header, 'to') : undefined }, false);
      return header.includes('to') ? [] : words(['to']);
    }
    case 'readings':
      return header.includes('on') ? [] : words(['on']);
    case 'accept':
      if (header.length === 1) {
        return record.codes.map(({ code, title }) => ({ label: code, kind: CompletionItemKind.Event, detail: title }));
      }
      if (last === 'on') return partDrafts(installation);
      return last === 'because' ? [] : words(['because', ...(header.length === 2 ? ['on'] : [])]);
    default:
      return record.base ? planDrafts(cursor, record, record.base) : [];
  }
}

function placeDrafts({ places }: Installation): Draft[] {
  return places.map((place) => ({ label: place.name, kind: CompletionItemKind.Folder, detail: place.words }));
}

function planDrafts(cursor: Cursor, record: CompletionRecord, base: Installation): Draft[] {
  const before = cursor.header.map(({ text }) => text);
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

function blockDrafts(
  cursor: Cursor,
  statement: string,
  typed: boolean,
  record: CompletionRecord,
  number: boolean,
): Draft[] {
  const fact = lower(cursor.fact);
  const afterNumber = number || cursor.item.at(-1)?.kind === 'number';
  if (statement === 'readings') return readingDrafts(cursor, record, afterNumber);
  if (statement === 'run' && !typed) {
    const conductor = runDrafts(cursor, record, afterNumber);
    if (conductor) return conductor;
  }
  if (fact.length === 0) return factDrafts(cursor, statement, typed, record.installation);
  if (afterNumber) {
    const fitting = units(unitsAfter(fact, undefined));
    if (fitting.length > 0) return fitting;
  }
  if (fact[0] === 'lands' && fact.at(-1) === 'on') return endDrafts(record.installation, {}, false);
  if (fact[0] === 'ring' && fact.length === 1) return choices(['mechanical', 'electronic', 'none']);
  if (fact[0] === 'beside' && fact.length === 1) {
    return record.installation.runs.map((run) => ({ label: run.name, kind: CompletionItemKind.Struct }));
  }
  if (fact.at(-1) === ',' && statement !== 'run') return factDrafts(cursor, statement, typed, record.installation);
  return [];
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

/** A line in a run's braces: the colour, where it lands at either end; undefined where the line is another fact. */
function runDrafts(cursor: Cursor, record: CompletionRecord, afterNumber: boolean): Draft[] | undefined {
  const item = lower(cursor.item);
  const runName = cursor.header[1]?.text ?? '';
  const run = record.installation.runs.find((one) => one.name === runName);
  if (item.length === 0) {
    return [...colourDrafts(cursor, record), ...offers([...FACTS['run']!, ...COMMON_FACTS])];
  }
  if (['loop', 'beside', 'raceway', 'note', 'label', 'photo', 'installed'].includes(item[0]!)) return undefined;
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
  return afterNumber || rest.includes('to') || rest[0] === 'spare' ? [] : words(['to']);
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

function colourDrafts(cursor: Cursor, record: CompletionRecord): Draft[] {
  const runName = cursor.header[1]?.text;
  const run = record.installation.runs.find((one) => one.name === runName);
  const cable = run?.cable ?? record.cableOf(cableWordsOf(cursor.header));
  const used = new Set(run?.conductors.map((conductor) => conductor.colour));
  const free = (cable?.colours ?? []).filter((colour) => !used.has(colour));
  return free.map((colour) => ({ label: colour, kind: CompletionItemKind.Color, detail: 'still free in this cable' }));
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

function elementDrafts(cursor: Cursor): Draft[] {
  const element = cursor.opener[0]?.text.toLowerCase() ?? '';
  const item = lower(cursor.item);
  const typedNumber = /^\d/.test(cursor.typed);
  if (typedNumber || cursor.item.at(-1)?.kind === 'number') return units(unitsAfter(item, element));
  return item.length === 0 ? offers(ELEMENT_FACTS[element] ?? []) : [];
}

function factDrafts(cursor: Cursor, statement: string, typed: boolean, installation: Installation): Draft[] {
  const words = (typed ? TYPE_FACTS : FACTS)[statement];
  if (!words) return [];
  return offers([...words.filter((word) => typed || fits(word, cursor, statement, installation)), ...COMMON_FACTS]);
}

/** Whether a fact fits the part in whose braces it would stand. */
function fits(word: Offered, cursor: Cursor, statement: string, installation: Installation): boolean {
  if (word.only === undefined) return true;
  if (word.only === 'supply' || word.only === 'device') return word.only === statement;
  const typeName = cursor.header[cursor.header.findIndex((token) => token.text === ':') + 1]?.text;
  const elements = installation.partTypes.get(typeName ?? '')?.elements ?? [];
  if (word.only === 'load' || word.only === 'coil' || word.only === 'load or coil') {
    const kinds = word.only.split(' or ');
    return elements.some(({ kind }) => kinds.includes(kind));
  }
  const contacts = elements.filter((one) => one.kind === 'contact');
  if (word.only === 'contacts') return contacts.length > 1;
  return contacts.some((contact) => contact.kind === 'contact' && contact.name === 'ring');
}

function offers(words: readonly Offered[]): Draft[] {
  return words.map(({ word, snippet, says }) => ({
    label: word,
    kind: CompletionItemKind.Property,
    detail: says === '' ? undefined : says,
    insert: snippet,
    snippet: true,
  }));
}

function words(list: readonly string[]): Draft[] {
  return list.map((label) => ({ label, kind: CompletionItemKind.Keyword }));
}

function choices(list: readonly string[]): Draft[] {
  return list.map((label) => ({ label, kind: CompletionItemKind.EnumMember }));
}

function units(list: readonly string[]): Draft[] {
  return list.map((label) => ({ label, kind: CompletionItemKind.Unit }));
}

function typeDrafts(of: 'supply' | 'device', record: CompletionRecord): Draft[] {
  return [...record.installation.partTypes.values()]
    .filter((type) => type.of === of)
    .sort((one, other) => (one.name < other.name ? -1 : 1))
    .map((type) => ({
      label: type.name,
      kind: CompletionItemKind.Class,
      detail: [typeRating(type), type.words].filter((word) => word).join(' · '),
    }));
}

const USUAL_CABLES = ['18/2', '18/3', '18/4', '18/5', '20/2', '20/3', '22/2', '16/2'];

function cableDrafts(record: CompletionRecord): Draft[] {
  const usual = USUAL_CABLES.map((spelling) => ({ spelling, cable: record.cableOf(spelling) }));
  return [
    ...usual.flatMap(({ spelling, cable }) =>
      cable ? [{ label: spelling, kind: CompletionItemKind.Struct, detail: cableWords(cable) }] : [],
    ),
    ...record.cableTypes.map((cable) => ({
      label: cable.name,
      kind: CompletionItemKind.Struct,
      detail: cableWords(cable),
    })),
  ];
}

function endDrafts(installation: Installation, wanted: WantedEnd, capped: boolean): Draft[] {
  const ends = endOffers(installation, wanted).map(({ end, says, kind }) => ({
    label: end,
    kind: kind === 'splice' ? CompletionItemKind.Module : CompletionItemKind.Field,
    detail: says,
  }));
  return capped ? [...ends, ...words(['capped', 'unknown'])] : ends;
}

function partDrafts(installation: Installation): Draft[] {
  const named = [
    ...installation.supplies,
    ...installation.devices,
    ...installation.splices,
    ...installation.runs,
    ...installation.jumpers.filter((jumper) => jumper.named),
  ];
  return named.map(({ name }) => ({ label: name, kind: CompletionItemKind.Variable }));
}
