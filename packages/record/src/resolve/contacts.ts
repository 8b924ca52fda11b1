/** Contacts: what they are called in states, and whether the part's setting leaves them in the circuit. */

import type { ContactElement, PartFacts, PartType } from '../model.js';

/** The contact by which a doorbell rings a wired chime, as the notation names it. */
const RING = 'ring';

/** A contact's name within its part: its own, or the terminals it joins. */
export function contactWithinPart(element: ContactElement): string {
  return element.name ?? `${element.a}-${element.b}`;
}

/** The part's name where its only contact has none of its own; else `part.contact`. */
export function contactName(part: string, type: PartType, element: ContactElement): string {
  const contacts = type.elements.filter((e) => e.kind === 'contact');
  return contacts.length === 1 && element.name === undefined ? part : `${part}.${contactWithinPart(element)}`;
}

/** A ring contact is there when the part is set to ring a wired chime; not stated is taken as not set. */
export function contactIsPresent(element: ContactElement, facts: PartFacts): boolean {
  return element.name !== RING || facts.ring === 'mechanical' || facts.ring === 'electronic';
}

/** True of a ring contact whose setting nobody stated. */
export function leansOnRingSetting(element: ContactElement, facts: PartFacts): boolean {
  return element.name === RING && facts.ring === undefined;
}
