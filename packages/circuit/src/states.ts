/** Which states of a circuit are worth solving. */

import type { Circuit, CircuitState, ContactLimits, LoadCondition } from './network.js';
import { byName } from './names.js';

/** Up to this many contacts every allowed combination is a state of its own; above, singles, pairs and all at once. */
export const EVERY_COMBINATION_UP_TO = 6;

/**
 * The states of a circuit: idle, each contact alone, and every combination of up to six contacts that the limits allow (of more: every allowed
 * pair, and all at once where allowed); each with the loads idle and, where it makes a difference, at peak. Fewest contacts first, then by name.
 */
export function statesOf(circuit: Circuit, limits?: ContactLimits): readonly CircuitState[] {
  const contacts = [...new Set(circuit.contacts)].sort(byName);
  const conditions: readonly LoadCondition[] = circuit.hasPeak ? ['idle', 'peak'] : ['idle'];
  const sets = contacts.length <= EVERY_COMBINATION_UP_TO ? everySet(contacts) : singlesPairsAndAll(contacts);
  return sets
    .filter((closed) => closed.length < 2 || isAllowed(closed, limits))
    .sort((x, y) => x.length - y.length || compareSets(x, y))
    .flatMap((closed) => conditions.map((loads) => ({ closed, loads })));
}

/** Whether the limits let these contacts be closed together. */
export function isAllowed(closed: readonly string[], limits: ContactLimits | undefined): boolean {
  if (limits === undefined) return true;
  const held = new Set(closed);
  const crowded = limits.together.some(
    (group) => new Set(group.contacts.filter((contact) => held.has(contact))).size > group.most,
  );
  const barred = limits.never.some((group) => group.length > 1 && group.every((contact) => held.has(contact)));
  return !crowded && !barred;
}

function compareSets(x: readonly string[], y: readonly string[]): number {
  for (let i = 0; i < x.length; i++) {
    const order = byName(x[i]!, y[i]!);
    if (order !== 0) return order;
  }
  return 0;
}

function everySet(contacts: readonly string[]): string[][] {
  const sets: string[][] = [];
  for (let mask = 0; mask < 1 << contacts.length; mask++) {
    sets.push(contacts.filter((_, index) => (mask & (1 << index)) !== 0));
  }
  return sets;
}

function singlesPairsAndAll(contacts: readonly string[]): string[][] {
  const sets: string[][] = [[], ...contacts.map((contact) => [contact]), [...contacts]];
  for (let i = 0; i < contacts.length; i++) {
    for (let j = i + 1; j < contacts.length; j++) sets.push([contacts[i]!, contacts[j]!]);
  }
  return sets;
}
