/** A step as one would tell it a person with a meter: what to do, and what may hurt. */

import { pointOf } from '../analysis-types.js';
import { isRingContact, ownerOf } from '../judging/state-words.js';
import { quote, quotedList } from '../judging/words.js';
import type { Ask, Standing } from './asks.js';
import type { Gauge } from './gauge.js';
import type { Group } from './groups.js';
import type { House } from './house.js';
import { shortedBy } from './shorts.js';
import { signallingOf } from './signs.js';
import { pointWords } from './words.js';

/** Suspects with less belief than this are not warned of. */
const WARN_FROM = 0.02;

/** What to do, in sentences. */
export function doing(gauge: Gauge, ask: Ask, groups: readonly Group[], standing: Standing): string {
  const { house } = gauge.operation;
  const careful = cautions(gauge, ask, groups, standing);
  const steps = [...leads(house, ask, standing), act(house, ask, standing)];
  // Before anything is lifted or put back, it is said what to keep clear of.
  const isFirst = ask.asked.state.kind === 'off' || standing.lifted;
  return (isFirst ? [...careful, ...steps] : [...steps, ...careful]).join(' ');
}

/** Whether the supplies' leads are to be lifted first, or put back. */
function leads(house: House, { asked }: Ask, { lifted }: Standing): readonly string[] {
  const isOff = asked.state.kind === 'off';
  if (isOff === lifted) return [];
  const of = supplyWords(house, asked.of);
  return [isOff ? `Lift one low-voltage lead off ${of}.` : `Put the lifted lead of ${of} back on.`];
}

function supplyWords(house: House, of: Of): string {
  const supplies = suppliesOf(house, of);
  return supplies.length === 1 ? quotedList(supplies) : 'every supply of the circuit';
}

function act(house: House, { asked, watched, place, contactPlace, spot }: Ask, { lifted }: Standing): string {
  const { state, of } = asked;
  if (of.kind === 'mains') return 'Read the mains.';
  if (state.kind === 'off') {
    const read = `read ohms ${across(house, of)}.`;
    return lifted ? `With the lead of ${supplyWords(house, of)} still lifted, ${read}` : capital(read);
  }
  const system = of.kind === 'sign' ? '' : `${spot?.kind === 'volts' && spot.signed ? 'DC' : 'AC'} volts `;
  const isHeard = watched !== undefined && signallingOf(house, watched.part).heard.length > 0;
  const takeAt = (part: string): string => `${isHeard ? 'listen to' : 'look at'} ${part}`;
  const take = of.kind === 'sign' ? takeAt(quote(of.part)) : `read ${system}${across(house, of)}`;
  const bridged = state.bridged?.[0];
  const held = state.pressed[0];
  if (bridged !== undefined) return `Hold the two wires at ${quote(bridged)} together and ${take}.`;
  if (held === undefined) return `With nothing pressed, ${take}.`;
  const owner = ownerOf(house.analysis, held);
  const isRing = owner !== undefined && isRingContact(house.analysis, owner);
  const [verb, name] = isRing
    ? ['ring', quote(owner.part)]
    : house.analysis.momentary.has(held)
      ? ['hold', quote(held)]
      : ['switch on', quote(held)];
  const isFar = contactPlace !== undefined && contactPlace !== place;
  if (isFar && verb !== 'switch on') return `Have somebody ${verb} ${name}, and ${take}.`;
  if (of.kind === 'sign' && name === quote(of.part)) return `${capital(verb)} ${name} and ${takeAt('it')}.`;
  return `${capital(verb)} ${name} and ${take}.`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

type Of = Ask['asked']['of'];

function across(house: House, of: Of): string {
  if (of.kind !== 'volts' && of.kind !== 'ohms') return '';
  return `across ${of.between.map((point) => pointWords(house, point)).join(' and ')}`;
}

/** What may hurt: mains beside the probe, and a short by hand. */
function cautions(gauge: Gauge, { asked }: Ask, groups: readonly Group[], { lifted }: Standing): readonly string[] {
  const { house } = gauge.operation;
  const { state, of } = asked;
  const at = (state.kind === 'off') === lifted ? [] : suppliesOf(house, of);
  const probed = of.kind === 'volts' || of.kind === 'ohms' ? of.between.flatMap((point) => partAt(point) ?? []) : [];
  const withMains = [...new Set([...at, ...probed])].filter((name) =>
    house.analysis.parts.get(name)?.elements.some(({ element }) => element.kind === 'primary'),
  );
  const mains = withMains.length === 0 ? [] : [`Keep clear of the mains terminals of ${quotedList(withMains)}.`];
  const bridged = state.kind === 'off' ? undefined : state.bridged?.[0];
  if (bridged === undefined) return mains;
  for (const { members, belief } of groups) {
    if (belief < WARN_FROM) continue;
    const short = shortedBy(gauge, bridged, members[0]!.variants[0]!.variant);
    if (short === undefined) continue;
    return [...mains, `Only for a moment: if nothing but wire is left in the loop, this shorts ${quote(short)}.`];
  }
  return mains;
}

function partAt(point: (Of & { kind: 'volts' | 'ohms' })['between'][number]): string | undefined {
  return point.kind === 'end' ? point.end.part : undefined;
}

function nodeOfFirst(house: House, of: Of): string | undefined {
  if (of.kind === 'sign') return house.analysis.parts.get(of.part)?.elements[0]?.a;
  if (of.kind === 'mains') return undefined;
  const [point] = of.between;
  if (point.kind === 'end') return pointOf(point.end);
  const conductor = house.conductors.find(({ run, colour }) => run === point.run && colour === point.colour);
  return conductor?.ends.flatMap(({ on }) => on ?? [])[0];
}

function circuitAt(house: House, of: Of) {
  const point = nodeOfFirst(house, of);
  return house.analysis.circuits.find(({ circuit }) => point !== undefined && circuit.points.includes(point));
}

function suppliesOf(house: House, of: Of): readonly string[] {
  const elements = circuitAt(house, of)?.circuit.elements ?? [];
  const windings = elements.flatMap((id) => {
    const element = house.analysis.elements.get(id);
    return element?.element.kind === 'winding' ? [element.part] : [];
  });
  return [...new Set(windings)];
}
