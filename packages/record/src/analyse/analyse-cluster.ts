/** What is concluded from an installation, taken as one, before it is judged. */

import { type ContactLimits, type PreparedNetwork, prepare, statesOf } from '@ohmstead/circuit';
import type {
  Analysis,
  Assumption,
  CircuitAnalysis,
  Condition,
  ResolvedElement,
  ResolvedPart,
} from '../analysis-types.js';
import type { Installation, Jumper } from '../model.js';
import { contactWithinPart } from '../resolve/contacts.js';
import { compare, resolveParts } from '../resolve/parts.js';
import { resolveRuns } from '../resolve/runs.js';
import { buildNetwork, type ResolvedInstallation } from './build-network.js';
import { describeCircuit } from './circuits.js';
import { feedsOfWindings } from './feeds.js';
import { landings } from './landings.js';
import { lazily, once } from './lazily.js';
import { keepSolutions, type KeptSolutions, SolutionStore } from './solutions.js';

/**
 * Circuits are found at once and solved when they are first asked for. Solutions of circuits whose elements are the same to the last
 * figure are taken from `earlier`.
 */
export function analyseCluster(installation: Installation, earlier: KeptSolutions = new Map()): Analysis {
  const resolved: ResolvedInstallation = {
    parts: resolveParts(installation),
    runs: resolveRuns(installation),
    jumpers: jumpersByName(installation),
  };
  const parts = [...resolved.parts.values()];
  const elements = new Map<string, ResolvedElement>();
  for (const part of parts) for (const element of part.elements) elements.set(element.id, element);
  const feeds = once(() => feedsOfWindings(installation, resolved));
  const networks = lazily((condition: Condition) => buildNetwork(installation, resolved, condition, feeds()));
  const prepared = lazily((condition: Condition) => prepare(networks(condition)));
  const store = new SolutionStore(networks, earlier);
  const limits = contactLimits(parts);
  const circuits = prepared('nominal').circuits.map((circuit) =>
    describeCircuit(circuit, statesOf(circuit, limits), installation, resolved, elements, store),
  );
  const ofElement = once(() => {
    const byId = new Map<string, CircuitAnalysis>();
    for (const one of circuits) for (const id of one.circuit.elements) byId.set(id, one);
    return byId;
  });
  const landed = once(() => landings(installation, resolved));
  const analysis: Analysis = {
    installation,
    ...resolved,
    elements,
    circuits,
    assumptions: assumptionsOf(resolved, circuits),
    momentary: momentaryContacts(elements.values()),
    network: (condition): PreparedNetwork => prepared(condition),
    circuitOfElement: (id) => ofElement().get(id),
    circuitsOfPart: (name) => circuits.filter((c) => c.supplies.includes(name) || c.devices.includes(name)),
    landedOn: (point) => landed().get(point) ?? [],
  };
  keepSolutions(analysis, store);
  return analysis;
}

function jumpersByName({ jumpers }: Installation): ReadonlyMap<string, Jumper> {
  const byName = new Map<string, Jumper>();
  for (const jumper of [...jumpers].sort((a, b) => compare(a.name, b.name))) {
    if (!byName.has(jumper.name)) byName.set(jumper.name, jumper);
  }
  return byName;
}

/** `together at most` and `never together`, with the contacts' names as states have them. */
function contactLimits(parts: readonly ResolvedPart[]): ContactLimits {
  const together: { contacts: readonly string[]; most: number }[] = [];
  const never: (readonly string[])[] = [];
  for (const { facts, elements } of parts) {
    const named = new Map<string, string>();
    for (const { element, contact, present } of elements) {
      if (element.kind !== 'contact' || contact === undefined || !present) continue;
      named.set(contactWithinPart(element), contact).set(`${element.b}-${element.a}`, contact);
    }
    const contacts = [...new Set(named.values())].sort(compare);
    if (facts.togetherAtMost !== undefined) together.push({ contacts, most: facts.togetherAtMost });
    for (const group of facts.neverTogether ?? []) {
      const known = group.map((name) => named.get(name)).filter((name) => name !== undefined);
      if (known.length === group.length) never.push(known);
    }
  }
  return { together, never };
}

/** Of a name that several contacts share, one that stays makes it a lasting one. */
export function momentaryContacts(elements: Iterable<ResolvedElement>): ReadonlySet<string> {
  const momentary = new Set<string>();
  const maintained = new Set<string>();
  for (const { element, contact } of elements) {
    if (element.kind === 'contact' && contact !== undefined) (element.maintained ? maintained : momentary).add(contact);
  }
  return new Set([...momentary].filter((contact) => !maintained.has(contact)));
}

export function assumptionsOf(
  { parts, runs }: ResolvedInstallation,
  circuits: readonly CircuitAnalysis[],
): readonly Assumption[] {
  const all = [
    ...[...parts.values()].flatMap((part) => part.elements.flatMap((element) => element.assumed)),
    ...[...runs.values()].flatMap((run) => run.assumed),
    ...circuits.flatMap((circuit) => circuit.unsolved.map(({ part, words }) => ({ part, what: 'unsolved', words }))),
  ];
  return [...new Map(all.map((one) => [`${one.part}\n${one.what}\n${one.words}`, one])).values()];
}
