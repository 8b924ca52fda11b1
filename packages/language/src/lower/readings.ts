/** What was read with a meter, heard and seen. A line that can't be meant is said to be so and left out; the wiring stands without it. */

import {
  at,
  contactName,
  contactWithinPart,
  type MeterPoint,
  type PartType,
  type Reading,
  type ReadingBlock,
  type ReadingOf,
  type ReadingState,
  type Run,
  type Tolerance,
} from '@ohmstead/record';
import type {
  End as EndNode,
  Quantity,
  Reading as ReadingNode,
  Readings as ReadingsNode,
  Shown,
  Where,
} from '../generated/ast.js';
import { nearestNames } from '../reading/nearest.js';
import { type Measure, unitsThatFit } from '../reading/units.js';
import { sameColour } from './cables.js';
import type { LoweringContext } from './context.js';
import { lowerEnd, lowerPlace, type TypeLookup, unknownName } from './ends.js';
import { type Read, readFigure } from './figures.js';
import { isDate } from './part-facts.js';
import { textOf } from './sites.js';

export interface ReadingLookup extends TypeLookup {
  readonly runs: ReadonlyMap<string, Run>;
}

/** `block` counts the record's `readings` statements. */
export function lowerReadings(
  context: LoweringContext,
  node: ReadingsNode,
  block: number,
  lookup: ReadingLookup,
): ReadingBlock | undefined {
  if (node.date === undefined || !isDate(context, node.date, node)) return undefined;
  context.put(at.readings(block), node);
  const notes: string[] = [];
  const readings: Reading[] = [];
  let meterOhms: number | undefined;
  for (const line of node.readings) {
    if (line.$type === 'Note') notes.push(line.words);
    else if (line.$type === 'Meter') meterOhms = lowerMeter(context, line.ohms, meterOhms);
    else if (line.$type === 'Reading') {
      const reading = new ReadingLine(context, line, lookup).lowered();
      if (!reading) continue;
      context.put(at.reading(block, readings.length), line);
      readings.push(reading);
    }
  }
  return {
    ...(node.words === undefined ? {} : { words: node.words }),
    on: node.date,
    ...(meterOhms === undefined ? {} : { meterOhms }),
    notes,
    readings,
  };
}

function lowerMeter(context: LoweringContext, ohms: Quantity | undefined, known: number | undefined) {
  const read = readFigure(context, ohms, ['ohms'], "a meter's input");
  if (!read || !ohms) return known;
  if (known !== undefined) {
    const facts = { what: 'repeated-fact', fact: 'meter', of: 'these readings' } as const;
    context.report('syntax', facts, context.site(ohms.$container));
    return known;
  }
  if (read.least > 0) return read.least;
  const facts = { written: textOf(context.site(ohms)), of: "a meter's input", takes: 'above 0 ohm' };
  context.report('value-out-of-range', facts, context.site(ohms));
  return undefined;
}

class ReadingLine {
  readonly #context: LoweringContext;
  readonly #node: ReadingNode;
  readonly #lookup: ReadingLookup;

  constructor(context: LoweringContext, node: ReadingNode, lookup: ReadingLookup) {
    this.#context = context;
    this.#node = node;
    this.#lookup = lookup;
  }

  /** Undefined where the line could not be read to its end or something in it can't be meant; all names in it are looked up first. */
  lowered(): Reading | undefined {
    const node = this.#node;
    const state = this.#state();
    const shown = this.#shown(state);
    const within = this.#within(shown);
    if (!state || !shown || within === null) return undefined;
    if (node.mains === undefined && node.value === undefined && node.part === undefined) return undefined;
    return { state, of: shown.of, ...(within ? { within } : {}) };
  }

  #state(): ReadingState | undefined {
    const { off, pressed, bridged, idle, mainsAlone } = this.#node;
    const held = this.#contacts(pressed);
    const joined = this.#contacts(bridged);
    if (!held || !joined) return undefined;
    if (off) return { kind: 'off', ...(held.length === 0 ? {} : { pressed: held }) };
    if (!idle && !mainsAlone && held.length + joined.length === 0) return undefined;
    return { kind: 'live', pressed: held, ...(joined.length === 0 ? {} : { bridged: joined }) };
  }

  #contacts(ends: readonly EndNode[]): readonly string[] | undefined {
    const names = ends.map((end) => this.#contact(end));
    return names.includes(undefined) ? undefined : [...new Set(names as string[])].sort();
  }

  /** The name that a contact has in states. */
  #contact(end: EndNode): string | undefined {
    const context = this.#context;
    if (end.part === undefined) return undefined;
    const symbol = context.names.find('part', end.part);
    const type = this.#lookup.partTypes.get(this.#lookup.typeOfPart.get(end.part) ?? '');
    const contacts = type?.elements.filter((element) => element.kind === 'contact') ?? [];
    if (!symbol || (type && contacts.length === 0)) {
      const known = [...this.#lookup.typeOfPart].filter(([, name]) => hasContact(this.#lookup.partTypes.get(name)));
      const names = known.map(([part]) => part);
      unknownName(context, end, 'part', end.part, 'button or switch', names);
      return undefined;
    }
    context.names.refer(symbol, context.site(end, 'part'));
    // Of a part whose type is not known neither are its contacts.
    if (!type) return undefined;
    const names = contacts.map(contactWithinPart);
    const [only] = contacts;
    if (end.terminal === undefined && only && contacts.length === 1) return contactName(end.part, type, only);
    const meant = contacts.find((contact) => contactWithinPart(contact) === end.terminal);
    if (meant) return contactName(end.part, type, meant);
    const property = end.terminal === undefined ? 'part' : 'terminal';
    const nearest = nearestNames(end.terminal ?? '', names);
    const facts = {
      name: end.terminal ?? end.part,
      kind: `contact of ${end.part}`,
      nearest,
      has: names,
    };
    const instead = property === 'part' ? names.map((name) => `${end.part}.${name}`) : nearest;
    context.report('unknown-name', facts, context.site(end, property), { instead });
    return undefined;
  }

  #shown(state: ReadingState | undefined): { readonly of: ReadingOf; readonly measure?: Measure } | undefined {
    const { mains, through, part, a, b, value } = this.#node;
    if (mains !== undefined) {
      const read = readFigure(this.#context, mains, ['volts'], 'a mains voltage', 'none');
      return read && { of: { kind: 'mains', volts: read.least }, measure: 'volts' };
    }
    if (part !== undefined) return this.#sign(part);
    if (through !== undefined) {
      const point = this.#point(through);
      const read = this.#figure(value, ['amps'], 'a current');
      return point && read && { of: { kind: 'amps', through: point, amps: read.least }, measure: 'amps' };
    }
    const from = a && this.#point(a);
    const to = b && this.#point(b);
    const isOff = state?.kind === 'off';
    const what = isOff ? 'a reading with the supplies isolated' : 'a reading with the circuit fed';
    if (value?.open) {
      if (state && !isOff) return this.#noUnit(value, what, ['volts']);
      return from && to && { of: { kind: 'ohms', between: [from, to], ohms: null } };
    }
    const fits: readonly Measure[] = !state ? ['volts', 'ohms'] : isOff ? ['ohms', 'volts'] : ['volts'];
    const read = this.#figure(value, fits, what, true);
    if (!from || !to || !read) return undefined;
    const between = [from, to] as const;
    if (read.measure === 'ohms') return { of: { kind: 'ohms', between, ohms: read.least }, measure: 'ohms' };
    const system = read.system === undefined ? {} : { system: read.system };
    return { of: { kind: 'volts', between, volts: read.least, ...system }, measure: 'volts' };
  }

  /** `signed`: volts may be below none, with the leads swapped on DC; whether the circuit is DC is not known here. */
  #figure(value: Shown | undefined, fits: readonly Measure[], of: string, signed = false): Read | undefined {
    if (value?.open) return this.#noUnit(value, of, fits);
    const hasSign = signed && value?.figure?.system?.toUpperCase() !== 'AC';
    return readFigure(this.#context, value?.figure, fits, of, hasSign ? 'below-none' : 'none');
  }

  #noUnit(value: Shown, of: string, fits: readonly Measure[]): undefined {
    const site = this.#context.site(value, 'open');
    const units = fits.flatMap((measure) => unitsThatFit[measure]);
    this.#context.report('unit-mismatch', { written: textOf(site), of, missing: false, fits: units }, site);
  }

  /** Null where it is written and can't be meant. */
  #within(shown: { readonly of: ReadingOf; readonly measure?: Measure } | undefined): Tolerance | undefined | null {
    const quantity = this.#node.value?.within ?? this.#node.within;
    if (quantity === undefined) return undefined;
    const own: readonly Measure[] = shown?.measure === undefined ? [] : [shown.measure];
    const read = readFigure(this.#context, quantity, ['percent', ...own], 'a tolerance', 'none');
    if (!read) return null;
    return read.measure === 'percent' ? { share: read.least / 100 } : { figure: read.least };
  }

  #sign(part: string): { readonly of: ReadingOf } | undefined {
    const context = this.#context;
    const { shows } = this.#node;
    const symbol = context.names.find('part', part);
    if (symbol?.kind !== 'device' && symbol?.kind !== 'supply') {
      const isPart = ({ kind }: { kind: string }) => kind === 'device' || kind === 'supply';
      const parts = [...context.names.names('part')].filter(isPart).map(({ name }) => name);
      unknownName(context, this.#node, 'part', part, 'part', parts);
      return undefined;
    }
    context.names.refer(symbol, context.site(this.#node, 'part'));
    if (shows === undefined) return undefined;
    const note = this.#note(part);
    if (note === null) return undefined;
    const sign = shows.toLowerCase() as Extract<ReadingOf, { kind: 'sign' }>['shows'];
    return { of: { kind: 'sign', part, shows: sign, ...(note === undefined ? {} : { note }) } };
  }

  /** The terminal of the note that rang, whether it is named itself or by the words on the part; null for one that there is not. */
  #note(part: string): string | undefined | null {
    const context = this.#context;
    const { note, terminal } = this.#node;
    const written = terminal ?? note;
    if (written === undefined) return undefined;
    const typeName = this.#lookup.typeOfPart.get(part);
    const type = this.#lookup.partTypes.get(typeName ?? '');
    if (!type) return null;
    const property = terminal === undefined ? 'note' : 'terminal';
    const alike = (one: string | undefined): boolean => one?.toLowerCase() === written.toLowerCase();
    const meant = type.terminals.find(({ name, words }) => name === written || alike(words) || alike(name));
    if (meant) {
      const symbol = context.names.terminalsOf(type.name)?.get(meant.name);
      if (symbol && terminal === meant.name) context.names.refer(symbol, context.site(this.#node, 'terminal'));
      return meant.name;
    }
    const has = type.terminals.map(({ name }) => name);
    const nearest = nearestNames(written, has);
    const site = context.site(this.#node, property);
    context.report('unknown-terminal', { part, terminal: written, has, nearest }, site, { instead: nearest });
    return null;
  }

  #point(where: Where): MeterPoint | undefined {
    const context = this.#context;
    const { end, place: placeName } = where;
    const place = placeName === undefined ? undefined : lowerPlace(context, where, 'place');
    if (placeName !== undefined && place === undefined) return undefined;
    if (end?.part === undefined) return undefined;
    const symbol = context.names.find('part', end.part);
    if (symbol?.kind !== 'run') {
      const on = lowerEnd(context, end, this.#lookup);
      return on && { kind: 'end', end: on };
    }
    context.names.refer(symbol, context.site(end, 'part'));
    const colour = this.#colour(where, end.part);
    return colour === undefined
      ? undefined
      : { kind: 'conductor', run: end.part, colour, ...(place === undefined ? {} : { at: place }) };
  }

  /** The cable's own spelling of the conductor's colour. */
  #colour({ end, stripe }: Where, runName: string): string | undefined {
    const run = this.#lookup.runs.get(runName);
    if (!run) return undefined;
    const stated = run.conductors.map(({ colour }) => colour);
    const has = [...new Set([...stated, ...(run.cable?.colours ?? [])])];
    const written = end.terminal === undefined ? undefined : end.terminal + (stripe === undefined ? '' : `/${stripe}`);
    const known = written === undefined ? undefined : has.find((colour) => sameColour(colour, written));
    if (known !== undefined) return known;
    if (has.length === 0) return written;
    const nearest = written === undefined ? [] : nearestNames(written, has);
    const facts = { name: written ?? runName, kind: `conductor of \`${runName}\``, nearest, has };
    const instead = written === undefined ? has.map((colour) => `${runName}.${colour}`) : nearest;
    const site = this.#context.site(end, written === undefined ? 'part' : 'terminal');
    this.#context.report('unknown-name', facts, site, { instead });
    return undefined;
  }
}

function hasContact(type: PartType | undefined): boolean {
  return type?.elements.some(({ kind }) => kind === 'contact') === true;
}
