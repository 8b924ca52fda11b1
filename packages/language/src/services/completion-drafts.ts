/** What completion offers before it is placed in the text: names, words, units and what of a record can be named. */

import { CompletionItemKind } from 'vscode-languageserver';
import type { CableType, Installation } from '@ohmstead/record';
import { endOffers, type WantedEnd } from './completion-ends.js';
import type { Offered } from './fact-words.js';
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

export interface Draft {
  readonly label: string;
  readonly kind: CompletionItemKind;
  readonly detail?: string;
  /** Inserted in place of the label, in snippet syntax where `snippet` is set. */
  readonly insert?: string;
  readonly snippet?: boolean;
}

export function offers(words: readonly Offered[]): Draft[] {
  return words.map(({ word, snippet, says }) => ({
    label: word,
    kind: CompletionItemKind.Property,
    detail: says === '' ? undefined : says,
    insert: snippet,
    snippet: true,
  }));
}

const named =
  (kind: CompletionItemKind) =>
  (list: readonly string[]): Draft[] =>
    list.map((label) => ({ label, kind }));

/** Words of the notation: never offered unasked, where a line may as well end. */
export const words = named(CompletionItemKind.Keyword);
/** One of a few settings, of which one must come. */
export const choices = named(CompletionItemKind.EnumMember);
export const units = named(CompletionItemKind.Unit);
export const terminals = named(CompletionItemKind.Field);
export const contacts = named(CompletionItemKind.Event);
export const colours = named(CompletionItemKind.Color);

export function placeDrafts({ places }: Installation): Draft[] {
  return places.map((place) => ({ label: place.name, kind: CompletionItemKind.Folder, detail: place.words }));
}

export function typeDrafts(of: 'supply' | 'device', record: CompletionRecord): Draft[] {
  return [...record.installation.partTypes.values()]
    .filter((type) => type.of === of)
    .sort((one, other) => (one.name < other.name ? -1 : 1))
    .map((type) => ({
      label: type.name,
      kind: CompletionItemKind.Class,
      detail: [typeRating(type), type.words].filter((word) => word).join(' · '),
    }));
}

const USUAL_IN_AWG = ['18/2', '18/3', '18/4', '18/5', '20/2', '20/3', '22/2', '16/2'];
const USUAL_IN_MM = ['2 x 0.5 mm2', '2 x 0.75 mm2', '3 x 0.5 mm2', '4 x 0.22 mm2', '2 x 2 x 0.6 mm', '3G1.5'];

export function isMetric({ profile }: Installation): boolean {
  return profile !== 'north-america';
}

export function cableDrafts(record: CompletionRecord): Draft[] {
  const usual = isMetric(record.installation) ? USUAL_IN_MM : USUAL_IN_AWG;
  const draft = (label: string, cable: CableType): Draft => ({
    label,
    kind: CompletionItemKind.Struct,
    detail: cableWords(cable),
  });
  return [
    ...usual.flatMap((spelling) => {
      const cable = record.cableOf(spelling);
      return cable ? [draft(spelling, cable)] : [];
    }),
    ...record.cableTypes.map((cable) => draft(cable.name, cable)),
  ];
}

/** Marks that cables and parts are known to be listed by. */
export function markDrafts({ cableTypes }: CompletionRecord): Draft[] {
  return choices([...new Set(['CL2', 'CL3', ...cableTypes.flatMap(({ listed }) => listed)])]);
}

export function endDrafts(installation: Installation, wanted: WantedEnd, capped: boolean): Draft[] {
  const ends = endOffers(installation, wanted).map(({ end, says, kind }) => ({
    label: end,
    kind: kind === 'splice' ? CompletionItemKind.Module : CompletionItemKind.Field,
    detail: says,
  }));
  return capped ? [...ends, ...words(['capped', 'unknown'])] : ends;
}

export function partDrafts(installation: Installation): Draft[] {
  const parts = [
    ...installation.supplies,
    ...installation.devices,
    ...installation.splices,
    ...installation.runs,
    ...installation.jumpers.filter((jumper) => jumper.named),
  ];
  return parts.map(({ name }) => ({ label: name, kind: CompletionItemKind.Variable }));
}

/** How long the unit is that stands at the start of a text already, the spaces before it included. */
export function lengthWritten(text: string, drafts: readonly Draft[]): number {
  const space = /^[ \t]*/.exec(text)![0].length;
  const after = text.slice(space).toLowerCase();
  const lengths = drafts.flatMap(({ kind, label }) => {
    const isThere = kind === CompletionItemKind.Unit && after.startsWith(label.toLowerCase());
    return isThere && !/^[\p{L}\p{N}]/u.test(after.slice(label.length)) ? [space + label.length] : [];
  });
  return Math.max(0, ...lengths);
}
