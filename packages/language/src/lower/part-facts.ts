/** The facts that a supply, a device and their types state. */

import { at, type FactName, type Output, type OwnFigures, type PartFacts, type PartType } from '@ohmstead/record';
import type { AstNode } from 'langium';
import type {
  Accepts,
  Device,
  Measured,
  Needs,
  Output as OutputNode,
  OwnFigure,
  OwnHumsOff,
  PartFact,
  Quantity,
  Reserve,
  Supply,
  TypeFact,
} from '../generated/ast.js';
import type { LoweringContext } from './context.js';
import { ELEMENTS_WITH, readNamed, refusePeakBelowDraw } from './elements.js';
import { rangeOfRead, readCount, readFigure, readQuantity, sizeRangeOf } from './figures.js';
import { takeBranchFact } from './line-side.js';
import { isTwice, ratingOf } from './rating.js';
import { remembered } from './remembered.js';
import { homeOfFact } from '../reading/syntax-words.js';
import type { Measure } from '../reading/units.js';
import { textOf } from './sites.js';

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };

/** Whose facts they are; `name` only for a part of the record, whose facts have places of their own in the source map. */
export interface FactOwner {
  readonly kind: 'supply' | 'device';
  readonly words: string;
  readonly part?: string;
  /** Contact names, where the type is known. */
  readonly contacts?: readonly string[];
  /** Of a part of the record whose type is known. */
  readonly type?: PartType;
  /** Its type is one of the other kind: the statement's word is what is wrong, and its facts may well be right. */
  readonly isOfTheOther?: boolean;
}

const supplyOnly = new Set(['Output', 'NoLoad', 'Measured', 'BranchFact', 'Reserve']);
const deviceOnly = new Set(['Rating', 'Needs', 'Ring', 'Limits']);

/** Lowers all facts but `lands`; says what is unfit or repeated. */
export function lowerPartFacts(
  context: LoweringContext,
  owner: FactOwner,
  facts: readonly (PartFact | TypeFact)[],
): PartFacts {
  const reader = readFacts(context, owner, facts);
  placeFacts(context, owner, reader.places);
  return reader.facts;
}

/** The facts of a supply or device; those that are as in an earlier text of the file are not read again. */
export function lowerFactsOf(context: LoweringContext, owner: FactOwner, node: Supply | Device): PartFacts {
  const { facts, places } = remembered(context, node, owner.type, () => {
    const reader = readFacts(context, owner, node.facts);
    return { facts: reader.facts, places: reader.places };
  });
  placeFacts(context, owner, places);
  return facts;
}

function readFacts(context: LoweringContext, owner: FactOwner, facts: readonly (PartFact | TypeFact)[]) {
  const reader = new PartFactsReader(context, owner);
  for (const fact of facts) reader.take(fact);
  return reader;
}

type Places = readonly (readonly [name: FactName, node: AstNode])[];

function placeFacts(context: LoweringContext, { part }: FactOwner, places: Places): void {
  if (part === undefined || places.length === 0) return;
  context.putLater(at.part(part), (put) => {
    for (const [name, node] of places) put(at.fact(part, name), node);
  });
}

class PartFactsReader {
  readonly #context: LoweringContext;
  readonly #owner: FactOwner;
  readonly #seen = new Set<string>();
  /** Where the facts stand that have places of their own. */
  readonly places: [name: FactName, node: AstNode][] = [];
  readonly #outputs: Output[] = [];
  readonly #notes: string[] = [];
  readonly #labels: string[] = [];
  readonly #photos: string[] = [];
  readonly #listed: string[] = [];
  readonly #figures: Mutable<OwnFigures> = {};
  #peaks: Quantity | undefined;
  readonly #never: (readonly string[])[] = [];
  readonly facts: Mutable<PartFacts>;

  constructor(context: LoweringContext, owner: FactOwner) {
    this.#context = context;
    this.#owner = owner;
    this.facts = { outputs: this.#outputs, notes: this.#notes, labels: this.#labels, photos: this.#photos };
  }

  take(fact: PartFact | TypeFact): void {
    const { kind } = this.#owner;
    if (kind === 'device' ? supplyOnly.has(fact.$type) : deviceOnly.has(fact.$type)) {
      this.#ofTheOther(fact);
      return;
    }
    const { facts } = this;
    const context = this.#context;
    switch (fact.$type) {
      case 'Note':
        this.#notes.push(fact.words);
        break;
      case 'Label':
        this.#labels.push(fact.words);
        break;
      case 'Photo':
        this.#photos.push(fact.path);
        break;
      case 'Installed':
        if (this.#once('installed', fact) && isDate(context, fact.date, fact)) facts.installed = fact.date;
        break;
      case 'Output':
        this.#output(fact);
        break;
      case 'NoLoad': {
        if (!this.#once('no-load', fact)) break;
        const read = readFigure(context, fact.figure, ['volts'], 'a no-load voltage');
        if (read) facts.noLoadVolts = read.least;
        break;
      }
      case 'Accepts':
        this.#accepts(fact);
        break;
      case 'Measured':
        this.#measured(fact);
        break;
      case 'Needs':
        this.#needs(fact);
        break;
      case 'Ring':
        this.#ring(fact);
        break;
      case 'Rating':
        if (this.#once('rating', fact)) facts.rating = ratingOf(context, fact.figures);
        break;
      case 'Limits': {
        if (!this.#once('limits', fact)) break;
        const read = readQuantity(context, fact.figure, ['volts'], 'the limits of a data sheet');
        if (read) facts.limits = rangeOfRead(read);
        break;
      }
      case 'Together': {
        if (!this.#once('together', fact)) break;
        const count = readCount(context, fact.count, context.site(fact, 'count'), 'how many work together', 1, 1000);
        if (count !== undefined) facts.togetherAtMost = count;
        break;
      }
      case 'Never': {
        this.#put('never', fact);
        this.#never.push(fact.contacts);
        facts.neverTogether = this.#never;
        this.#contactNames(fact.contacts, fact);
        break;
      }
      case 'Listed':
        this.#listed.push(fact.mark);
        facts.listed = this.#listed;
        break;
      case 'Flag':
        this.#flag(fact.word.toLowerCase(), fact);
        break;
      case 'BranchFact':
        takeBranchFact(
          context,
          facts,
          fact,
          (name, node) => this.#once(name, node),
          (name, node) => this.#put(name, node),
        );
        break;
      case 'Reserve':
        this.#reserve(fact);
        break;
      case 'OwnFigure':
      case 'OwnHumsOff':
        this.#ownFigure(fact);
        break;
    }
  }

  #put(name: FactName, node: AstNode): void {
    if (this.#owner.part !== undefined) this.places.push([name, node]);
  }

  /** False, with the reason reported, for a fact that is already stated. */
  #once(name: string, node: AstNode): boolean {
    const written = name.split(' ')[0]!;
    if (this.#seen.has(name)) {
      this.#context.report(
        'syntax',
        { what: 'repeated-fact', fact: written, of: this.#owner.words },
        this.#context.site(node),
      );
      return false;
    }
    this.#seen.add(name);
    const place = placeNames[name];
    if (place) this.#put(place, node);
    return true;
  }

  #unfit(fact: AstNode, mend?: string, instead: readonly string[] = []): void {
    const site = this.#context.site(fact);
    const found = textOf(site).split(/\s/)[0]!;
    const of = `\`${this.#owner.words}\``;
    const facts = { what: 'unknown-fact', found, of, nearest: [], ...(mend === undefined ? {} : { mend }) } as const;
    this.#context.report('syntax', facts, site, { instead });
  }

  /** A supply's fact on a device, or the other way round. */
  #ofTheOther(fact: AstNode): void {
    if (this.#owner.isOfTheOther) {
      this.#context.breakStatement();
      return;
    }
    const written = textOf(this.#context.site(fact));
    if (fact.$type === 'Rating') {
      this.#unfit(fact, "a supply's label is its `output`", [written.replace(/^rating/i, 'output')]);
    } else if (fact.$type === 'Output') {
      this.#unfit(fact, "a device's label is its `rating`", [written.replace(/^output/i, 'rating')]);
    } else this.#unfit(fact, this.#owner.kind === 'supply' ? 'it belongs on a device' : 'it belongs on the supply');
  }

  #ownFigure(fact: OwnFigure | OwnHumsOff): void {
    const context = this.#context;
    const name = fact.$type === 'OwnHumsOff' ? 'hums' : fact.fact.toLowerCase();
    const kinds = ELEMENTS_WITH[name]!;
    const { part, type } = this.#owner;
    if (part === undefined) {
      const inBraces = `\`${kinds[0]} a to b { ${textOf(context.site(fact))} }\``;
      this.#unfit(fact, `in a type it belongs in the braces of its ${kinds[0]}, as in ${inBraces}`);
      return;
    }
    if (type && !type.elements.some(({ kind }) => kinds.includes(kind))) {
      const none = `a \`${type.name}\` has no ${kinds.join(' or ')}`;
      const label = this.#owner.kind === 'supply' ? 'output' : 'rating';
      this.#unfit(fact, kinds[0] === 'load' ? `${none}; what its label says is its \`${label}\`` : none);
      return;
    }
    if (!this.#once(name, fact)) return;
    if (fact.$type === 'OwnHumsOff') this.#figures.humsFrom = 'off';
    else {
      readNamed(context, name, fact.figure, (as, value) => {
        if (as !== 'system') Object.assign(this.#figures, { [as]: value });
      });
      if (name === 'peaks') this.#peaks = fact.figure;
      if (this.#peaks && (name === 'peaks' || name === 'draws'))
        refusePeakBelowDraw(context, this.#peaks, this.#figures);
    }
    this.facts.figures = this.#figures;
  }

  #reserve(fact: Reserve): void {
    const name = fact.fact.toLowerCase() as Lowercase<Reserve['fact']>;
    if (!this.#once(name, fact)) return;
    const { fits, of, as } = RESERVES[name];
    const read = readFigure(this.#context, fact.figure, [fits], of);
    if (read) this.facts[as] = read.least;
  }

  #output(fact: OutputNode): void {
    const context = this.#context;
    const tap = fact.tap?.toLowerCase() === 'about' ? undefined : fact.tap;
    if (!this.#once(tap === undefined ? 'output' : `output ${tap}`, fact)) return;
    const output: Mutable<Output> = tap === undefined ? {} : { tap };
    const given = new Set<Measure>();
    for (const figure of fact.figures) {
      const read = readFigure(context, figure, ['volts', 'voltAmperes', 'amps', 'hertz'], 'an output');
      if (!read || isTwice(context, 'output', figure, read.measure, given)) continue;
      if (read.measure === 'volts') output.volts = read.least;
      if (read.measure === 'voltAmperes') output.voltAmperes = read.least;
      if (read.measure === 'amps') output.amps = read.least;
      if (read.measure === 'hertz') output.frequency = read.least;
      if (read.system) output.system = read.system;
    }
    this.#put('output', fact);
    this.#outputs.push(output);
  }

  #accepts(fact: Accepts): void {
    if (!this.#once('accepts', fact)) return;
    const read = readQuantity(this.#context, fact.sizes, ['gauge', 'area', 'length'], "a terminal's wire sizes");
    if (read) this.facts.accepts = sizeRangeOf(read, fact.bound?.toLowerCase() as 'thicker' | 'thinner' | undefined);
  }

  #measured(fact: Measured): void {
    const context = this.#context;
    if (!this.#once(fact.open ? 'measured open' : 'measured', fact)) return;
    const volts = readFigure(context, fact.volts, ['volts'], 'a measured voltage');
    if (fact.open) {
      if (volts) this.facts.measuredOpenVolts = volts.least;
      return;
    }
    const amps = readFigure(context, fact.amps, ['amps'], 'a measured current');
    if (volts && amps) this.facts.measuredLoaded = { volts: volts.least, amps: amps.least };
  }

  #needs(fact: Needs): void {
    if (!this.#once('needs', fact)) return;
    const read = readQuantity(this.#context, fact.figure, ['voltAmperes'], 'the supply that a device needs');
    if (!read) return;
    this.facts.needsSupply = read.most > read.least ? { least: read.least, most: read.most } : { least: read.least };
  }

  #ring(fact: { readonly $type: 'Ring'; readonly setting: string } & AstNode): void {
    const context = this.#context;
    if (!this.#once('ring', fact)) return;
    const { contacts } = this.#owner;
    if (contacts && !contacts.includes('ring')) {
      this.#unfit(fact, 'only a part with a contact called `ring` has a ring setting');
      return;
    }
    const setting = fact.setting.toLowerCase();
    if (setting === 'mechanical' || setting === 'electronic' || setting === 'none') this.facts.ring = setting;
    else {
      const expected = '`mechanical`, `electronic` or `none`';
      const facts = { what: 'expected', expected, found: fact.setting, after: 'ring' } as const;
      context.report('syntax', facts, context.site(fact, 'setting'));
    }
  }

  #flag(word: string, fact: AstNode): void {
    if (word === 'regulated' && this.#owner.kind === 'supply') {
      if (this.#once('regulated', fact)) this.facts.regulated = true;
    } else if (word === 'outdoor') this.facts.outdoor = true;
    else this.#unfit(fact, homeOfFact(word));
  }

  #contactNames(names: readonly string[], fact: AstNode): void {
    const { contacts, words } = this.#owner;
    if (!contacts) return;
    for (const [index, name] of names.entries()) {
      if (contacts.includes(name)) continue;
      const facts = { part: words, terminal: name, has: contacts, nearest: [] };
      this.#context.report('unknown-terminal', facts, this.#context.site(fact, 'contacts', index));
    }
  }
}

const RESERVES = {
  battery: { fits: 'charge', of: 'a battery', as: 'batteryAmpereHours' },
  standby: { fits: 'time', of: 'how long a battery is wanted to last', as: 'standbyHours' },
  budget: { fits: 'watts', of: 'what the outputs share', as: 'budgetWatts' },
} as const satisfies Record<string, { fits: Measure; of: string; as: keyof PartFacts }>;

const placeNames: Readonly<Record<string, FactName>> = {
  'no-load': 'no-load',
  regulated: 'regulated',
  accepts: 'accepts',
  'measured open': 'measured-open',
  measured: 'measured-loaded',
  needs: 'needs',
  ring: 'ring',
  rating: 'rating',
  limits: 'limits',
  together: 'together',
  draws: 'draws',
  peaks: 'peaks',
  'stays-on': 'stays-on',
  'power-factor': 'power-factor',
  rings: 'rings',
  hums: 'hums',
  dc: 'dc',
  'pulls-in': 'pulls-in',
  inrush: 'inrush',
  releases: 'releases',
  battery: 'battery',
  standby: 'standby',
  budget: 'budget',
  breaker: 'breaker',
  circuit: 'circuit',
};

/** A day of the calendar. */
export function isDate(context: LoweringContext, written: string, node: AstNode): boolean {
  const day = new Date(`${written}T00:00:00Z`);
  const real = !Number.isNaN(day.getTime()) && day.toISOString().startsWith(written);
  if (!real) {
    const facts = { written, of: 'a date', takes: 'by year, month and day of the calendar' };
    context.report('value-out-of-range', facts, context.site(node, 'date'));
  }
  return real;
}
