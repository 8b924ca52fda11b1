/** What sits between a type's terminals: elements and their figures, checked against what each kind takes. */

import type { OwnFigures, PartElement } from '@ohmstead/record';
import type { Element, ElementFact, PartType as PartTypeNode, Quantity, Tap } from '../generated/ast.js';
import { type Measure, unitOf } from '../reading/units.js';
import type { LoweringContext } from './context.js';
import { type Read, readFigure, readShare } from './figures.js';
import { textOf } from './sites.js';
import { ownTerminal } from './types.js';

type Kind = Exclude<PartElement['kind'], 'contact'>;
type NamedFacts = Exclude<NonNullable<Extract<ElementFact, { $type: 'NamedFigure' }>['fact']>, never>;

/** Own figures by their unit, and named facts, that each kind takes. */
const takes: Readonly<
  Record<Kind, { readonly own: readonly Measure[]; readonly named: readonly string[]; readonly words: string }>
> = {
  winding: {
    own: ['volts', 'voltAmperes', 'amps', 'hertz'],
    named: ['no-load', 'phase', 'reactance', 'taps'],
    words: 'a winding',
  },
  primary: { own: ['volts', 'hertz'], named: [], words: 'a primary' },
  coil: {
    own: ['volts', 'voltAmperes', 'amps'],
    named: ['power-factor', 'rings', 'hums', 'dc', 'pulls-in', 'releases', 'inrush'],
    words: 'a coil',
  },
  load: { own: [], named: ['draws', 'peaks', 'power-factor', 'stays-on', 'releases'], words: 'a load' },
  resistor: { own: ['ohms', 'watts'], named: [], words: 'a resistor' },
  lamp: { own: ['volts', 'watts', 'amps', 'voltAmperes'], named: [], words: 'a lamp' },
  impedance: { own: ['ohms'], named: ['reactance'], words: 'an impedance' },
  bypass: { own: ['ohms'], named: ['opens'], words: 'a bypass' },
  diode: { own: [], named: [], words: 'a diode' },
  link: { own: [], named: [], words: 'a link' },
};

const measureOfFact: Readonly<
  Record<string, { readonly fits: readonly Measure[]; readonly of: string; readonly as: string }>
> = {
  'no-load': { fits: ['volts'], of: 'a no-load voltage', as: 'noLoadVolts' },
  phase: { fits: ['angle'], of: 'a phase', as: 'phase' },
  dc: { fits: ['ohms'], of: 'a DC resistance', as: 'dcOhms' },
  rings: { fits: ['percent'], of: 'the volts a coil rings from', as: 'ringsFrom' },
  hums: { fits: ['percent'], of: 'the amps a coil hums from', as: 'humsFrom' },
  'stays-on': { fits: ['volts'], of: 'the volts a load stays on from', as: 'staysOnFrom' },
  opens: { fits: ['amps'], of: 'the amps a bypass opens above', as: 'opensAbove' },
};

const ownFigure: Readonly<Partial<Record<Measure, string>>> = {
  volts: 'volts',
  voltAmperes: 'voltAmperes',
  amps: 'amps',
  watts: 'watts',
  ohms: 'ohms',
  hertz: 'frequency',
};

/** The elements that have a figure of that name. */
export const ELEMENTS_WITH: Readonly<Record<string, readonly PartElement['kind'][]>> = {
  draws: ['load'],
  peaks: ['load'],
  'stays-on': ['load'],
  'power-factor': ['load', 'coil'],
  rings: ['coil'],
  hums: ['coil'],
  dc: ['coil'],
  'pulls-in': ['coil'],
  inrush: ['coil'],
  releases: ['coil', 'load'],
};

export function lowerElement(context: LoweringContext, type: PartTypeNode, node: Element): PartElement {
  ownTerminal(context, type, node, 'a');
  ownTerminal(context, type, node, 'b');
  const kind = node.kind.toLowerCase() as Kind;
  const figures: Record<string, unknown> = {};
  let asRated = false;
  const set = (name: string, value: unknown, fact: ElementFact) => {
    if (name in figures) repeated(context, fact, takes[kind].words);
    else figures[name] = value;
  };
  for (const fact of node.facts) {
    if (fact.$type === 'AsRated') asRated = true;
    else if (fact.$type === 'Figure') readOwn(context, kind, fact.figure, (name, value) => set(name, value, fact));
    else if (fact.$type === 'HumsOff') {
      if (takesFact(context, kind, 'hums', fact)) set('humsFrom', 'off', fact);
    } else if (fact.$type === 'Taps') {
      if (!takesFact(context, kind, 'taps', fact)) continue;
      const [taps, others] = withoutRating(fact.taps);
      set('taps', lowerTaps(context, type, node, taps), fact);
      for (const { volts } of others) readOwn(context, kind, volts, (name, value) => set(name, value, fact));
    } else if (fact.$type === 'NamedFigure') {
      const name = fact.fact.toLowerCase() as Lowercase<NamedFacts>;
      if (takesFact(context, kind, name, fact))
        readNamed(context, name, fact.figure, (as, value) => set(as, value, fact));
    }
  }
  if (kind === 'lamp') settleLampWatts(figures);
  const peaks = node.facts.find((fact) => fact.$type === 'NamedFigure' && fact.fact.toLowerCase() === 'peaks');
  if (peaks?.$type === 'NamedFigure') refusePeakBelowDraw(context, peaks.figure, figures);
  const followsRating = kind === 'winding' || kind === 'coil' || kind === 'lamp';
  const own = ['volts', 'voltAmperes', 'amps', 'watts', 'taps'].some((name) => name in figures);
  return { kind, a: node.a, b: node.b, asRated: asRated || (followsRating && !own), ...figures } as PartElement;
}

/** A peak is what a load takes at its most: less than it draws at rest is a slip. */
export function refusePeakBelowDraw(
  context: LoweringContext,
  written: Quantity,
  { draws, peaks }: Pick<OwnFigures, 'draws' | 'peaks'>,
): void {
  if (draws === undefined || peaks === undefined || draws.unit !== peaks.unit || peaks.value >= draws.value) return;
  const site = context.site(written);
  const takes = 'from what it `draws` upwards';
  context.report('value-out-of-range', { written: textOf(site), of: "a load's peak", takes }, site);
}

function readOwn(
  context: LoweringContext,
  kind: Kind,
  quantity: Quantity,
  set: (name: string, value: unknown) => void,
): void {
  const { own, words } = takes[kind];
  if (own.length === 0) {
    const site = context.site(quantity);
    const found = textOf(site);
    const mend = kind === 'load' ? { mend: `say what it draws, as in \`draws ${found}\` or \`peaks ${found}\`` } : {};
    context.report('syntax', { what: 'stray', found, ...mend }, site);
    return;
  }
  const read = readFigure(context, quantity, own, words);
  if (!read) return;
  set(ownFigure[read.measure]!, read.least);
  if (read.system) set('system', read.system);
}

/** Reads a figure that has a name of its own; `set` gets it under the record's name for it. */
export function readNamed(
  context: LoweringContext,
  name: string,
  quantity: Quantity,
  set: (as: string, value: unknown) => void,
): void {
  if (name === 'power-factor') {
    const share = readShare(context, quantity, 'a power factor');
    if (share !== undefined) set('powerFactor', share);
    return;
  }
  if (name === 'draws' || name === 'peaks') {
    const read = readFigure(context, quantity, ['watts', 'voltAmperes', 'amps'], 'what a load draws');
    if (read)
      set(name, { unit: read.measure === 'watts' ? 'W' : read.measure === 'amps' ? 'A' : 'VA', value: read.least });
    if (read?.system) set('system', read.system);
    return;
  }
  if (name === 'reactance') {
    const value = readReactance(context, quantity);
    if (value !== undefined) set('reactance', value);
    return;
  }
  if (name === 'inrush') {
    const read = readFigure(context, quantity, ['voltAmperes', 'amps'], 'what a coil takes as it pulls in');
    if (read) set('inrush', { unit: read.measure === 'amps' ? 'A' : 'VA', value: read.least });
    return;
  }
  if (name === 'pulls-in' || name === 'releases') {
    const of = name === 'releases' ? 'the volts below which it lets go' : 'the volts a coil pulls in from';
    const read = readFigure(context, quantity, ['percent', 'volts'], of);
    const as = name === 'releases' ? 'releasesBelow' : 'pullsInFrom';
    if (read) set(as, read.measure === 'volts' ? { volts: read.least } : { share: read.least / 100 });
    return;
  }
  const { fits, of, as } = measureOfFact[name]!;
  const read = readFigure(context, quantity, fits, of);
  if (read) set(as, shareOrFigure(read));
}

function shareOrFigure(read: Read): number {
  return read.measure === 'percent' ? read.least / 100 : read.least;
}

/** Ohms that may be negative: a capacitor's. */
function readReactance(context: LoweringContext, quantity: Quantity): number | undefined {
  const written = quantity.least ?? '';
  if (!/^[-\u2212]/.test(written)) return readFigure(context, quantity, ['ohms'], 'a reactance')?.least;
  const positive = { ...quantity, least: written.slice(1) };
  const read = readFigure(context, positive as Quantity, ['ohms'], 'a reactance');
  return read && -read.least;
}

/** Whether this kind of element takes a fact of that name; reports it where it does not. */
function takesFact(context: LoweringContext, kind: Kind, name: string, fact: ElementFact): boolean {
  const { named, words } = takes[kind];
  if (named.includes(name)) return true;
  context.report('syntax', { what: 'unknown-fact', found: name, of: words, nearest: [] }, context.site(fact));
  return false;
}

function repeated(context: LoweringContext, fact: ElementFact, of: string): void {
  const site = context.site(fact);
  context.report('syntax', { what: 'repeated-fact', fact: textOf(site), of }, site);
}

/** After the taps on one line may stand what they share: `taps 0, 8, 16 V, 20 VA`. */
function withoutRating(taps: readonly Tap[]): readonly [taps: readonly Tap[], others: readonly Tap[]] {
  const isOther = ({ terminal, volts }: Tap) =>
    terminal === undefined && volts.unit !== undefined && unitOf(volts.unit)?.measure !== 'volts';
  return [taps.filter((tap) => !isOther(tap)), taps.filter(isOther)];
}

/** `taps 0, 8, 12, 16 V`: each figure is the terminal of that name, unless a terminal is named before it. */
function lowerTaps(
  context: LoweringContext,
  type: PartTypeNode,
  element: Element,
  taken: readonly Tap[],
): readonly { readonly terminal: string; readonly volts: number }[] {
  const terminals = context.names.terminalsOf(type.name);
  const unit = taken.findLast((tap) => tap.volts.unit !== undefined)?.volts.unit;
  const taps: { terminal: string; volts: number }[] = [];
  for (const tap of taken) {
    const terminal = tap.terminal ?? tap.volts.least ?? '';
    const symbol = terminals?.get(terminal);
    const site = context.site(
      tap.terminal === undefined ? tap.volts : tap,
      tap.terminal === undefined ? 'least' : 'terminal',
    );
    if (symbol) context.names.refer(symbol, site);
    else {
      const has = [...(terminals?.keys() ?? [])];
      context.report('unknown-terminal', { part: type.name, terminal, has, nearest: [] }, site);
    }
    const zero = Number(tap.volts.least) === 0;
    const quantity = { ...tap.volts, unit: tap.volts.unit ?? unit } as Quantity;
    const volts = zero ? 0 : readFigure(context, quantity, ['volts'], "a tap's voltage")?.least;
    if (volts !== undefined) taps.push({ terminal, volts });
  }
  if (!taps.some((tap) => tap.terminal === element.a)) taps.unshift({ terminal: element.a, volts: 0 });
  return taps.sort((one, other) => Number(other.terminal === element.a) - Number(one.terminal === element.a));
}

/** A lamp is given in watts, or in amps at its volts. */
function settleLampWatts(figures: Record<string, unknown>): void {
  const { volts, amps, voltAmperes } = figures as { volts?: number; amps?: number; voltAmperes?: number };
  if (figures['watts'] === undefined && voltAmperes !== undefined) figures['watts'] = voltAmperes;
  if (figures['watts'] === undefined && volts !== undefined && amps !== undefined) figures['watts'] = volts * amps;
  delete figures['amps'];
  delete figures['voltAmperes'];
}
