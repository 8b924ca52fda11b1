/** An installation as a network, at one condition of mains and wire. */

import type { CircuitElement, Network } from '@ohmstead/circuit';
import {
  type Condition,
  pointOf,
  type ResolvedElement,
  type ResolvedPart,
  type ResolvedRun,
} from '../analysis-types.js';
import type { Installation, Jumper, Part } from '../model.js';
import { type FeedsOfWindings, feedsOfWindings } from './feeds.js';
import { mainsFactor } from './conditions.js';
import { keptWith } from './lazily.js';

export interface ResolvedInstallation {
  readonly parts: ReadonlyMap<string, ResolvedPart>;
  readonly runs: ReadonlyMap<string, ResolvedRun>;
  readonly jumpers: ReadonlyMap<string, Jumper>;
}

/**
 * Every part's elements, every conductor landed at both ends, every jumper and own lead. A conductor whose ohms are not known, or
 * are none, is an ideal connection. At `labels` every winding is ideal at its rated volts.
 */
export function buildNetwork(
  installation: Installation,
  resolved: ResolvedInstallation,
  condition: Condition,
  feeds: FeedsOfWindings = feedsOfWindings(installation, resolved),
): Network {
  const elements = [...connections(installation, resolved, condition)];
  for (const part of resolved.parts.values()) {
    for (const element of part.elements) {
      if (element.element.kind === 'winding') {
        if (element.present) elements.push(winding(installation.profile, part, element, condition, feeds));
      } else for (const made of fixed(element)) elements.push(made);
    }
  }
  return { elements };
}

/** What joins parts: conductors, jumpers, pigtails and parts' own leads. */
export function connections(
  installation: Installation,
  { runs, jumpers }: ResolvedInstallation,
  condition: Condition,
): readonly CircuitElement[] {
  const corner = condition === 'labels' ? 'nominal' : condition;
  const elements: CircuitElement[] = [];
  for (const run of runs.values()) for (const wire of wires[corner](run)) elements.push(wire);
  for (const jumper of jumpers.values()) elements.push(link(jumper));
  // Of two parts with one name the last has the leads.
  const leads = new Map<string, CircuitElement>();
  for (const parts of [installation.supplies, installation.devices]) {
    for (const part of parts) for (const lead of leadsOf(part)) leads.set(lead.id, lead);
  }
  for (const lead of leads.values()) elements.push(lead);
  return elements;
}

// What is the same at several conditions, or before and after an edit, is one object.
const wires = {
  nominal: keptWith((run: ResolvedRun) => wiresOf(run, 'nominal')),
  low: keptWith((run: ResolvedRun) => wiresOf(run, 'low')),
  high: keptWith((run: ResolvedRun) => wiresOf(run, 'high')),
};

function wiresOf({ conductors }: ResolvedRun, corner: 'nominal' | 'low' | 'high'): readonly CircuitElement[] {
  return conductors.flatMap(({ id, from, to, ohms }): CircuitElement[] => {
    if (id === undefined || from === undefined || to === undefined) return [];
    const between = { id, a: pointOf(from), b: pointOf(to) };
    const value = ohms?.[corner] ?? 0;
    return [
      value === 0
        ? { kind: 'short', ...between }
        : { kind: 'impedance', ...between, ohms: value, reactance: 0, wire: true },
    ];
  });
}

const link = keptWith(
  ({ name, from, to }: Jumper): CircuitElement => ({
    kind: 'short',
    id: jumperId(name),
    a: pointOf(from),
    b: pointOf(to),
  }),
);

const leadsOf = keptWith(({ name, lands }: Part): readonly CircuitElement[] =>
  lands.map(({ terminal, on }, index) => ({
    kind: 'short',
    id: leadId(name, index),
    a: `${name}.${terminal}`,
    b: pointOf(on),
  })),
);

function jumperId(jumper: string): string {
  return `jumper/${jumper}`;
}

function leadId(part: string, index: number): string {
  return `lead/${part}/${index}`;
}

/** All but windings, which follow the mains. */
const fixed = keptWith((resolved: ResolvedElement): readonly CircuitElement[] => {
  const { element, id, a, b } = resolved;
  if (!resolved.present) return [];
  const between = { id, a, b };
  switch (element.kind) {
    case 'contact': {
      const contact = resolved.contact ?? resolved.part;
      const actuated = element.normallyClosed ? 'closed' : 'open';
      const made: CircuitElement = { kind: 'contact', ...between, contact, normally: actuated };
      if (element.restTo === undefined) return [made];
      const rest = element.normallyClosed ? 'open' : 'closed';
      const restPoint = `${resolved.part}.${element.restTo}`;
      return [made, { kind: 'contact', id: `${id}/rest`, a, b: restPoint, contact, normally: rest }];
    }
    case 'load':
      return [load(resolved)];
    case 'bypass':
      return element.opensAbove === undefined
        ? [impedance(resolved)]
        : [{ kind: 'bypass', ...between, ohms: resolved.ohms ?? 0, opensAbove: element.opensAbove }];
    case 'link':
      return [{ kind: 'short', ...between }];
    case 'diode':
      return [{ kind: 'diode', ...between }];
    case 'primary':
      return [];
    default:
      return [impedance(resolved)];
  }
});

/** An element without figures stands as one ohm: its circuit is known to be one, and is never solved. */
function impedance({ id, a, b, ohms, reactance, missing }: ResolvedElement): CircuitElement {
  const unknown = missing !== undefined || ohms === undefined;
  return {
    kind: 'impedance',
    id,
    a,
    b,
    ohms: unknown ? 1 : ohms,
    reactance: unknown ? 0 : (reactance ?? 0),
    wire: false,
  };
}

function load(resolved: ResolvedElement): CircuitElement {
  const { id, a, b, draws, powerFactor = 1, staysOnFrom = 0 } = resolved;
  const both = { idle: draws?.idle ?? 0, peak: draws?.peak ?? 0 };
  return draws?.unit === 'A'
    ? { kind: 'current', id, a, b, amps: both, powerFactor, staysOnFrom }
    : { kind: 'power', id, a, b, voltAmperes: both, powerFactor, staysOnFrom };
}

function winding(
  profile: string,
  part: ResolvedPart,
  resolved: ResolvedElement,
  condition: Condition,
  feeds: FeedsOfWindings,
): CircuitElement {
  const { id, a, b, element } = resolved;
  const atLabel = condition === 'labels';
  const volts = (atLabel ? resolved.ratedVolts : resolved.noLoadVolts) ?? 0;
  const system = resolved.system ?? 'AC';
  const feed = feeds.get(part.name);
  const fedBy = feed === undefined || system === 'DC' ? undefined : { a: feed.a, b: feed.b, ratio: volts / feed.volts };
  return {
    kind: 'source',
    id,
    a,
    b,
    system,
    frequency: system === 'DC' ? 0 : (resolved.frequency ?? 0),
    volts: fedBy === undefined ? volts * mainsFactor(profile, part, resolved, condition) : volts,
    phase: element.kind === 'winding' ? (element.phase ?? 0) : 0,
    ohms: atLabel ? 0 : (resolved.ohms ?? 0),
    reactance: atLabel ? 0 : (resolved.reactance ?? 0),
    ...(fedBy === undefined ? {} : { fedBy }),
  };
}
