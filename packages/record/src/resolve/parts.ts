/** Parts settled: their type's facts with their own over them, their elements with figures. */

import { DIODE_VOLTS } from '@ohmstead/circuit';
import { Beside } from '../analyse/beside.js';
import type { ResolvedElement, ResolvedPart } from '../analysis-types.js';
import type { Installation, Part, PartElement, PartType, Place } from '../model.js';
import { assumption, type PartContext } from './assume.js';
import { contactIsPresent, contactName, leansOnRingSetting } from './contacts.js';
import { mergeFacts, neededSupply, statedFacts } from './facts.js';
import { withUnit } from './figures.js';
import { type ElementFiguresOf, resolveCoil, resolveLamp, resolveLoad, withOwnFigures } from './loads.js';
import { placesByName } from './places.js';
import { resolveWinding } from './windings.js';

/** What a circuit with a diode in it leans on. */
const DIODE_WORDS = `${withUnit(DIODE_VOLTS, 'V')} across a diode that conducts (common practice), and of half waves the RMS, coils as plain ohms: an approximation`;

/** Every supply and device by name, in order of name. The first of two parts with one name is the one that counts. */
export function resolveParts(installation: Installation): ReadonlyMap<string, ResolvedPart> {
  const places = placesByName(installation.places);
  const parts = [...installation.supplies, ...installation.devices].sort((a, b) => compare(a.name, b.name));
  const resolved = new Map<string, ResolvedPart>();
  for (const part of parts) {
    if (!resolved.has(part.name)) resolved.set(part.name, resolvePart(installation, part, places));
  }
  return resolved;
}

interface Resolved {
  readonly type: PartType | undefined;
  readonly place: Place | undefined;
  readonly profile: string;
  readonly part: ResolvedPart;
}

/** A part is settled once for its type, its place and the record's profile, however many records it is in. */
const known = new Beside<Part, Resolved>();

function resolvePart({ partTypes, profile }: Installation, part: Part, places: ReadonlyMap<string, Place>) {
  const type = part.type === undefined ? undefined : partTypes.get(part.type);
  const place = part.place === undefined ? undefined : places.get(part.place);
  const before = known.get(part);
  if (before !== undefined && before.type === type && before.place === place && before.profile === profile)
    return before.part;
  const resolved = resolveAs(part, type, place, profile);
  known.set(part, { type, place, profile, part: resolved });
  return resolved;
}

function resolveAs(part: Part, type: PartType | undefined, place: Place | undefined, profile: string): ResolvedPart {
  const facts = mergeFacts(type, part.facts);
  const stated = statedFacts(part);
  return {
    name: part.name,
    kind: part.kind,
    type,
    role: type?.role,
    place,
    facts,
    stated,
    terminals: type?.terminals ?? [],
    rating: facts.rating,
    needs: neededSupply(part, type),
    elements:
      type === undefined
        ? []
        : resolveElements({
            name: part.name,
            type,
            facts,
            statedFacts: part.facts,
            stated,
            profile,
          }),
  };
}

function resolveElements(context: PartContext): readonly ResolvedElement[] {
  return context.type.elements.flatMap((typical, index) => {
    const element = withOwnFigures(context, typical);
    const base = {
      id: elementId(context.name, index),
      index,
      part: context.name,
      element,
      a: `${context.name}.${element.a}`,
      b: `${context.name}.${element.b}`,
      present: true,
    };
    if (element.kind === 'winding') return resolveWinding(context, element, base);
    if (element.kind !== 'contact') return [{ ...base, ...figuresOf(context, element) }];
    return [
      {
        ...base,
        contact: contactName(context.name, context.type, element),
        present: contactIsPresent(element, context.facts),
        assumed: leansOnRingSetting(element, context.facts)
          ? [assumption(context, 'ring', 'that it does not ring a wired chime (no ring setting is stated)')]
          : [],
      },
    ];
  });
}

function figuresOf(context: PartContext, element: PartElement): ElementFiguresOf {
  switch (element.kind) {
    case 'coil':
      return resolveCoil(context, element);
    case 'lamp':
      return resolveLamp(context, element);
    case 'load':
      return resolveLoad(context, element);
    case 'resistor':
      return { ...ohmic(element.ohms, 0, 'the ohms of a resistor are') };
    case 'impedance':
      return { ...ohmic(element.ohms, element.reactance ?? 0, 'the ohms of an impedance are') };
    case 'bypass':
      return { ...ohmic(element.ohms, 0, 'the ohms of a bypass are') };
    case 'diode':
      return { assumed: [assumption(context, 'diode', DIODE_WORDS)] };
    default:
      return { assumed: [] };
  }
}

function ohmic(ohms: number | undefined, reactance: number, missing: string): ElementFiguresOf {
  return ohms === undefined ? { assumed: [], missing } : { ohms, reactance, assumed: [] };
}

export function elementId(part: string, index: number): string {
  return `part/${part}/${index}`;
}

/** Plain order of characters, the same on every machine. */
export function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
