/** Another name for something, wherever it is used; refused with the reason where the record would not mean the same afterwards. */

import type { Quantity, Tap } from '../generated/ast.js';
import type { NameIndex, NameSymbol, NameUse } from '../lower/names.js';
import { type Site, stretchOf, textOf } from '../lower/sites.js';
import { type Reading, readRecord } from '../read.js';
import { parseWiring, type WiringDocument } from '../reading/document.js';
import { applyChanges, type TextChange } from './format.js';
import { type PlaceInText, usesOf } from './names.js';

const NAME = /^[\p{L}][\p{L}\p{M}\p{N}-]*$/u;
const NUMBER = /^\d+$/;

export interface RenamedPlace extends PlaceInText {
  readonly newText: string;
}

export type Renaming = { readonly edits: readonly RenamedPlace[] } | { readonly refused: string };

/** What a record is read from. */
export interface RecordSources {
  document(uri: string): WiringDocument | undefined;
  /** Which files the record of a file may import. */
  insideOf(uri: string): (other: string) => boolean;
}

/** Why a name can't be renamed at all; undefined where it can. */
export function refusalToRename(symbol: NameSymbol | undefined): string | undefined {
  if (!symbol) return 'There is no name here that can be changed.';
  if (symbol.declarations.length === 0) return `\`${symbol.name}\` is not declared anywhere.`;
  if (symbol.shipped) return `\`${symbol.name}\` belongs to the shipped library, which can't be edited.`;
  return undefined;
}

/** `records` are all those that the declaring files are part of and that have the old or the new name. */
export function renamed(
  symbol: NameSymbol,
  newName: string,
  records: readonly Reading[],
  sources: RecordSources,
): Renaming {
  const refused = refusalToRename(symbol) ?? unfit(symbol, newName);
  if (refused !== undefined) return { refused };
  if (newName === symbol.name) return { edits: [] };
  for (const { names } of records) {
    const taken = takenBy(names, symbol, newName);
    if (taken) return { refused: `\`${newName}\` is already the name of a ${taken.kind}.` };
  }
  const changes = new Map<string, { readonly site: Site; readonly change: TextChange }>();
  for (const { site } of usesOf(symbol, records)) {
    const change = changeAt(site, newName);
    if ('refused' in change) return change;
    changes.set(`${site.document.uri}#${change.start}`, { site, change });
  }
  const broken = brokenBy([...changes.values()], records, sources, (before, after) => {
    return isUsedAsMuch(symbol, newName, before, after)
      ? undefined
      : `where it is used, \`${newName}\` would mean something else.`;
  });
  if (broken !== undefined) return { refused: `\`${symbol.name}\` can't be called \`${newName}\`: ${broken}` };
  return {
    edits: [...changes.values()].map(({ site: { document }, change: { start, end, newText } }) => ({
      uri: document.uri,
      range: document.rangeAt(start, end),
      newText,
    })),
  };
}

function unfit({ kind }: NameSymbol, newName: string): string | undefined {
  if (NAME.test(newName) || (kind === 'terminal' && NUMBER.test(newName))) return undefined;
  return `\`${newName}\` is not a name: a name starts with a letter and goes on with letters, digits and hyphens.`;
}

function takenBy(names: NameIndex, symbol: NameSymbol, newName: string): NameSymbol | undefined {
  if (symbol.kind === 'terminal') return names.terminalsOf(symbol.owner ?? '')?.get(newName);
  const taken = names.find(
    symbol.kind === 'place' ? 'place' : symbol.kind.endsWith(' type') ? 'type' : 'part',
    newName,
  );
  if (taken) return taken;
  // A box is a place too.
  if (symbol.kind === 'box') return names.find('place', newName);
  const part = symbol.kind === 'place' ? names.find('part', newName) : undefined;
  return part?.kind === 'box' ? part : undefined;
}

/** In `taps 0, 8, 16 V` a figure is a terminal's name too: a name of letters goes in front of it. */
function changeAt(site: Site, newName: string): TextChange | { readonly refused: string } {
  const { offset: start, end } = stretchOf(site);
  const node = site.node as Quantity | Tap;
  if (node.$type === 'Quantity') {
    if (NUMBER.test(newName)) {
      return {
        refused: `\`${textOf(site)}\` is also the volts of a tap, so only a name of letters can take its place.`,
      };
    }
    return { start, end, newText: `${newName} ${textOf(site)}` };
  }
  if (node.$type !== 'Tap' || !NUMBER.test(newName)) return { start, end, newText: newName };
  if (node.volts.least !== newName) {
    return { refused: `A tap can be called \`${newName}\` only where that is its volts.` };
  }
  return { start, end: stretchOf({ document: site.document, node: node.volts }).offset, newText: '' };
}

/**
 * Why the records can't be read with the changes as they are without them: something new is found, since names can be made of others,
 * as a contact's is of its terminals; or something else is wrong with one of them.
 */
function brokenBy(
  changed: readonly { readonly site: Site; readonly change: TextChange }[],
  records: readonly Reading[],
  sources: RecordSources,
  wrongWith: (before: Reading, after: Reading) => string | undefined,
): string | undefined {
  const texts = new Map<string, WiringDocument>();
  for (const document of new Set(changed.map(({ site }) => site.document))) {
    const own = changed.filter(({ site }) => site.document === document);
    const changes = own.map(({ change }) => change).sort((one, other) => one.start - other.start);
    texts.set(document.uri, parseWiring(document.uri, applyChanges(document.text, changes)));
  }
  const document = (uri: string): WiringDocument | undefined => texts.get(uri) ?? sources.document(uri);
  for (const before of records) {
    const { document: own, findings } = before;
    const after = readRecord(document(own.uri) ?? own, { document, isInside: sources.insideOf(own.uri) });
    const left = findings.map(({ code }) => code);
    const news = after.findings.find(({ code }) => {
      const known = left.indexOf(code);
      if (known >= 0) left.splice(known, 1);
      return known < 0;
    });
    const wrong = news ? `it would then be said that ${news.message}` : wrongWith(before, after);
    if (wrong !== undefined) return wrong;
  }
  return undefined;
}

/** Whether every name means afterwards what it meant: `capped`, for one, is no name at a conductor's end. What meant nothing may come to mean it. */
function isUsedAsMuch(symbol: NameSymbol, newName: string, before: Reading, after: Reading): boolean {
  const uses = ({ names, documents }: Reading): NameUse[] => documents.flatMap((document) => names.usesIn(document));
  const keyOf = ({ site, symbol: { kind } }: NameUse, name: string) => `${site.document.uri} ${kind} ${name}`;
  const left = new Map<string, number>();
  for (const use of uses(after)) {
    const key = keyOf(use, use.symbol.name);
    left.set(key, (left.get(key) ?? 0) + 1);
  }
  const changed = new Set(usesOf(symbol, [before]));
  return uses(before).every((use) => {
    const key = keyOf(use, changed.has(use) ? newName : use.symbol.name);
    const count = left.get(key) ?? 0;
    left.set(key, count - 1);
    return count > 0;
  });
}
