/** What could be looked at, listened to or measured next, and what it costs a person. */

import { partNameOf } from '../analysis-types.js';
import type { House } from './house.js';
import { IDLE, type Live, liveAs } from './variants.js';
import { effort as efforts, meter } from './practice.js';
import type { Spot } from './gauge.js';
import { signallingOf } from './signs.js';
import type { MeterPoint } from '../readings-types.js';
import type { Asked } from './types.js';
import { reasonWithheld } from './observations.js';

/** Something that could be done, as it would be weighed and as it would be asked for. */
export interface Ask {
  readonly asked: Asked;
  readonly spot?: Spot;
  readonly watched?: { readonly part: string; readonly live: Live; readonly block: number };
  /** Where one stands, and where the contact is that is held. */
  readonly place: string;
  readonly contactPlace: string | undefined;
  /** What has to be opened to get at it. */
  readonly opens: string | undefined;
}

/** No more is tried on a large record: those about the likeliest suspects come first. */
const MOST_PAIRS = 120;

interface Point {
  readonly node: number;
  readonly point: MeterPoint;
  readonly place: string;
  readonly opens: string | undefined;
}

/** `names` are the parts, runs and jumpers of the likeliest suspects: only their surroundings are asked about. */
export function asksOf(
  house: House,
  block: number,
  nearby: ReadonlySet<string>,
  joints: ReadonlySet<number>,
): readonly Ask[] {
  const contacts = contactsOf(house).filter((name) =>
    nearby.has(house.analysis.network('nominal').circuitOf(pointOfContact(house, name))?.id ?? ''),
  );
  const asks: Ask[] = [];
  const states: Live[] = [IDLE, ...contacts.map((name) => liveAs([name]))];
  const bridges = contacts
    .filter((name) => house.bridges.has(name) && isPush(house, name))
    .map((name) => liveAs([], [name]));
  for (const part of house.analysis.parts.values()) {
    const { heard, seen } = signallingOf(house, part.name);
    const first = house.branches[[...heard, ...seen][0] ?? -1];
    const circuit = first?.element === undefined ? undefined : circuitId(house, first.element.a);
    if (
      circuit === undefined ||
      !nearby.has(circuit) ||
      reasonWithheld(house.analysis, first?.element?.a) !== undefined
    )
      continue;
    const where = part.place?.name ?? part.name;
    for (const live of heard.length > 0 ? [...states, ...bridges] : states) {
      const contact = live.pressed[0] ?? live.bridged[0];
      if (contact !== undefined && circuitId(house, pointOfContact(house, contact)) !== circuit) continue;
      const contactPlace = contact === undefined ? undefined : placeOfContact(house, contact);
      asks.push({
        asked: {
          state: { kind: 'live', pressed: live.pressed, ...(live.bridged.length > 0 ? { bridged: live.bridged } : {}) },
          of: { kind: 'sign', part: part.name },
        },
        watched: { part: part.name, live, block },
        // What sounds is heard from where the contact is.
        place: heard.length > 0 && contactPlace !== undefined ? contactPlace : where,
        contactPlace,
        opens: live.bridged.length > 0 ? partNameOf(contact!) : undefined,
      });
    }
  }
  const pairs = pairsOf(house, nearby, joints).slice(0, MOST_PAIRS);
  for (const [one, other] of pairs) {
    const between = [one.point, other.point] as const;
    const circuit = circuitId(house, house.nodes[one.node]!);
    const signed =
      circuit !== undefined &&
      house.analysis.network('nominal').circuits.find(({ id }) => id === circuit)?.system === 'DC';
    const common = { place: one.place, opens: one.opens ?? other.opens };
    for (const live of states) {
      const contact = live.pressed[0];
      const ofContact = contact === undefined ? undefined : circuitId(house, pointOfContact(house, contact));
      if (ofContact !== undefined && circuit !== undefined && ofContact !== circuit) continue;
      asks.push({
        ...common,
        asked: { state: { kind: 'live', pressed: live.pressed }, of: { kind: 'volts', between } },
        spot: { kind: 'volts', a: one.node, b: other.node, live, block, meterOhms: meter.ohmsInput, signed },
        contactPlace: contact === undefined ? undefined : placeOfContact(house, contact),
      });
    }
    asks.push({
      ...common,
      asked: { state: { kind: 'off' }, of: { kind: 'ohms', between } },
      spot: { kind: 'ohms', a: one.node, b: other.node },
      contactPlace: undefined,
    });
  }
  return asks;
}

/** Where one stands, what is open and whether the supply's lead is lifted already. */
export interface Standing {
  readonly place: string | undefined;
  readonly opened: ReadonlySet<string>;
  readonly lifted: boolean;
}

export function effortOf(ask: Ask, standing: Standing): number {
  const { asked, place, contactPlace, opens } = ask;
  let sum: number = efforts.samePlace;
  if (standing.place !== undefined && standing.place !== place) sum += efforts.anotherPlace;
  if (contactPlace !== undefined && contactPlace !== place) sum += efforts.secondPerson;
  if (opens !== undefined && !standing.opened.has(opens)) sum += efforts.openBox;
  if (asked.state.kind === 'off' && !standing.lifted) sum += efforts.liftWire;
  return sum;
}

function contactsOf(house: House): readonly string[] {
  return [...new Set(house.contacts.map((branch) => house.branches[branch]!.contact!.name))];
}

function contactElement(house: House, name: string) {
  return house.branches[house.contacts.find((branch) => house.branches[branch]!.contact!.name === name)!]!.element!;
}

function pointOfContact(house: House, name: string): string {
  return contactElement(house, name).a;
}

export function placeOfContact(house: House, name: string): string {
  return placeOfPoint(house, pointOfContact(house, name));
}

function isPush(house: House, name: string): boolean {
  const part = house.analysis.parts.get(contactElement(house, name).part);
  return part?.elements.every(({ element }) => element.kind !== 'load') === true;
}

export function circuitId(house: House, point: string): string | undefined {
  return house.analysis.network('nominal').circuitOf(point)?.id;
}

export function placeOfPoint(house: House, point: string): string {
  const part = house.analysis.parts.get(partNameOf(point));
  if (part !== undefined) return part.place?.name ?? part.name;
  return house.analysis.installation.splices.find(({ name }) => name === point)?.place ?? point;
}

function pointAt(house: House, point: string): Point {
  const [part = '', terminal] = point.split('.');
  const isSupply = house.analysis.parts.get(part)?.kind === 'supply';
  return {
    node: house.node(point),
    point: { kind: 'end', end: terminal === undefined ? { part } : { part, terminal } },
    place: placeOfPoint(house, point),
    opens: isSupply ? undefined : part,
  };
}

/** Pairs of points within reach of one meter: terminals and splices of one place, and the suspects' joints. */
function pairsOf(
  house: House,
  nearby: ReadonlySet<string>,
  joints: ReadonlySet<number>,
): readonly (readonly [Point, Point])[] {
  const atJoints = house.conductors.flatMap((conductor) =>
    conductor.ends.flatMap(({ joint, on, node }, end): (readonly [Point, Point])[] => {
      if (joint === undefined || on === undefined || !joints.has(joint) || house.isLineSide(on)) return [];
      const screw = pointAt(house, on);
      const at = conductor.ends[end]!.place ?? partNameOf(on);
      const bare: MeterPoint = { kind: 'conductor', run: conductor.run, colour: conductor.colour, at };
      return [[screw, { ...screw, node, point: bare }]];
    }),
  );
  const byPlace = new Map<string, Point[]>();
  const points = [
    ...[...house.analysis.parts.values()].flatMap(({ name, terminals }) =>
      terminals.map((terminal) => `${name}.${terminal.name}`),
    ),
    ...house.analysis.installation.splices.map(({ name }) => name),
  ];
  for (const name of points) {
    const circuit = circuitId(house, name);
    if (circuit === undefined || !nearby.has(circuit) || house.analysis.landedOn(name).length === 0) continue;
    if (house.isLineSide(name) || reasonWithheld(house.analysis, name) !== undefined) continue;
    const point = pointAt(house, name);
    const there = byPlace.get(point.place) ?? [];
    byPlace.set(point.place, there);
    there.push(point);
  }
  const within = [...byPlace.values()].flatMap((there) =>
    there.flatMap((one, k) => there.slice(k + 1).map((other) => [one, other] as const)),
  );
  return [...atJoints, ...within];
}
