/** States and conditions in the trade's words. */

import type { CircuitState } from '@ohmstead/circuit';
import { type Analysis, type Condition, type ResolvedElement, partNameOf } from '../analysis-types.js';
import { listOf, quote, quotedList } from './words.js';

/** "at rest", "while `porch-button` is held", "while `porch-cam` rings and `side-button` is held". */
export function stateWords(analysis: Analysis, closed: readonly string[]): string {
  if (closed.length === 0) return 'at rest';
  const rings: string[] = [];
  const held: string[] = [];
  const on: string[] = [];
  for (const contact of closed) {
    const owner = ownerOf(analysis, contact);
    if (owner !== undefined && isRingContact(analysis, owner)) rings.push(owner.part);
    else if (analysis.momentary.has(contact)) held.push(contact);
    else on.push(contact);
  }
  const clauses = [
    ...(rings.length > 0 ? [`${quotedList(rings)} ${rings.length > 1 ? 'ring' : 'rings'}`] : []),
    ...(held.length > 0 ? [`${quotedList(held)} ${held.length > 1 ? 'are' : 'is'} held`] : []),
    ...(on.length > 0 ? [`${quotedList(on)} ${on.length > 1 ? 'are' : 'is'} on`] : []),
  ];
  return `while ${listOf(clauses)}`;
}

/** One after another: "while `a` or `b` is held". */
export function eitherStateWords(analysis: Analysis, states: readonly (readonly string[])[]): string {
  const contacts = states.map((closed) => closed[0]);
  const alike = states.every((closed) => closed.length === 1 && isPlain(analysis, closed[0]!));
  if (states.length > 1 && alike)
    return `while ${listOf(
      contacts.map((name) => quote(name!)),
      'or',
    )} is held`;
  return stateWords(analysis, states[0] ?? []);
}

export function conditionWords(condition: Condition): string {
  switch (condition) {
    case 'low':
      return 'at low mains and warm wire';
    case 'high':
      return 'at high mains and cold wire';
    case 'labels':
      return "with every supply at its label's volts";
    case 'nominal':
      return 'at nominal mains';
  }
}

/** "`porch-cam` at its peak of 8 W" is said where the loads are at peak; nothing at idle. */
export function loadWords(state: CircuitState): string {
  return state.loads === 'peak' ? ' with loads at their peak' : '';
}

/** For a load that is itself what peaks: "at its peak while `side-button` is held". */
export function momentWords(analysis: Analysis, { closed, loads }: CircuitState): string {
  if (loads !== 'peak') return stateWords(analysis, closed);
  return closed.length === 0 ? 'at its peak' : `at its peak ${stateWords(analysis, closed)}`;
}

/** A contact of a part that also takes power: pressing is not what it is for, it is how the part rings a chime. */
export function isRingContact(analysis: Analysis, contact: ResolvedElement): boolean {
  const { element } = contact;
  return element.kind === 'contact' && element.name === 'ring' && takesPower(analysis, contact.part);
}

export function takesPower(analysis: Analysis, part: string): boolean {
  return analysis.parts.get(part)?.elements.some(({ element }) => element.kind === 'load') ?? false;
}

function isPlain(analysis: Analysis, contact: string): boolean {
  const owner = ownerOf(analysis, contact);
  return analysis.momentary.has(contact) && owner !== undefined && !isRingContact(analysis, owner);
}

/** The first element that a contact's name stands for. */
export function ownerOf(analysis: Analysis, contact: string): ResolvedElement | undefined {
  return analysis.parts.get(partNameOf(contact))?.elements.find((element) => element.contact === contact);
}
