/** Quantities as written to figures in SI, with what is wrong in them said once. */

import type { ConductorSize, Figure, Range, SizeRange } from '@ohmstead/record';
import type { Quantity } from '../generated/ast.js';
import { meantByMillions, type Measure, type Unit, unitOf, unitsThatFit } from '../reading/units.js';
import type { LoweringContext } from './context.js';
import { textOf } from './sites.js';

/** A quantity with its unit found: least to most in SI (AWG, mm2, degC and per cent as they are). */
export interface Read {
  readonly least: number;
  readonly most: number;
  readonly measure: Measure;
  readonly unit: Unit;
  readonly about: boolean;
  readonly system?: 'AC' | 'DC';
}

/** What can be, by measure, in the units of `Read`. */
const bounds: Readonly<
  Record<Measure, { readonly above?: number; readonly least?: number; readonly most: number; readonly words: string }>
> = {
  volts: { above: 0, most: 1000, words: 'above 0 and up to 1000 V' },
  amps: { above: 0, most: 1000, words: 'above 0 and up to 1000 A' },
  voltAmperes: { above: 0, most: 100_000, words: 'above 0 and up to 100 kVA' },
  watts: { above: 0, most: 100_000, words: 'above 0 and up to 100 kW' },
  ohms: { least: 0, most: 1e9, words: 'from 0 to a million kohm' },
  hertz: { above: 0, most: 1e6, words: 'above 0 and up to 1 MHz' },
  temperature: { least: -90, most: 250, words: 'from -90 to 250 degC' },
  length: { above: 0, most: 10_000, words: 'above 0 and up to 10 km' },
  gauge: { least: 0, most: 40, words: 'from 0 to 40 AWG' },
  area: { above: 0, most: 300, words: 'above 0 and up to 300 mm2' },
  volume: { above: 0, most: 1e6, words: 'above 0 and up to a cubic metre' },
  percent: { least: 0, most: 200, words: 'from 0 to 200 %' },
  angle: { least: -360, most: 360, words: 'from -360 to 360 deg' },
  charge: { above: 0, most: 10_000, words: 'above 0 and up to 10 000 Ah' },
  time: { above: 0, most: 100_000, words: 'above 0 and up to 100 000 h' },
};

/** The numbers of a quantity, without its unit. */
function numbersOf(quantity: Quantity): { readonly least: number; readonly most: number } {
  const { least, most, dashed, fraction } = quantity;
  if (dashed !== undefined) {
    const [from, to] = dashed.split(/\s?[-\u2013]\s?/).map(number);
    return { least: from!, most: to! };
  }
  if (least !== undefined) {
    const from = number(least) + (fraction === undefined ? 0 : fractionValue(fraction));
    return { least: from, most: most === undefined ? from : number(most) };
  }
  const value = fraction === undefined ? Number.NaN : fractionValue(fraction);
  return { least: value, most: value };
}

export function number(written: string): number {
  return Number(written.replace('\u2212', '-'));
}

function fractionValue(written: string): number {
  const [above, below] = written.split('/').map(Number);
  return above! / below!;
}

/** Divides by whole numbers rather than multiplying by their inverses, so that 350 mA is 0.35 A to the last digit. */
function inSi({ spelling, factor }: Unit, value: number): number {
  if (spelling === 'degF') return ((value - 32) * 5) / 9;
  const inverse = 1 / factor;
  return factor < 1 && Number.isInteger(inverse) ? value / inverse : value * factor;
}

/** `21' 6"` in metres. */
function feetAndInches(written: string): number {
  const [feet, inches] = written.split(/['\u2032]/);
  return Number(feet) * 0.3048 + (Number.parseFloat(inches ?? '') || 0) * 0.0254;
}

/**
 * A quantity of one of the measures that fit; reports a missing or unfit unit, or a figure that can't be, and answers undefined.
 * `of` says what it is for, with its article: "an output".
 */
export function readQuantity(
  context: LoweringContext,
  quantity: Quantity | undefined,
  fits: readonly Measure[],
  of: string,
  from: From = 'bound',
): Read | undefined {
  if (!quantity) return undefined;
  const site = context.site(quantity);
  if (quantity.feet !== undefined) {
    const unit = unitOf('ft')!;
    const metres = feetAndInches(quantity.feet);
    if (fits.includes('length'))
      return inBounds(
        context,
        quantity,
        { least: metres, most: metres, measure: 'length', unit, about: quantity.about },
        of,
      );
  }
  const unit = quantity.unit === undefined ? undefined : unitOf(quantity.unit);
  if (!unit && quantity.moreUnit !== undefined) {
    const write = textOf(site).replace(/(?<=\d)\s+(?=\d)/g, '');
    const facts = {
      what: 'stray',
      found: textOf(site),
      mend: `a number has no space in it, as in \`${write}\``,
    } as const;
    context.report('syntax', facts, site, { instead: [write] });
    return undefined;
  }
  if (!unit || !fits.includes(unit.measure)) {
    const missing = quantity.unit === undefined && quantity.feet === undefined;
    const units = fits.flatMap((measure) => unitsThatFit[measure]);
    const spelled = quantity.unit === undefined ? [] : respelled(context, quantity, units);
    const instead = spelled.length > 0 ? spelled : withUnitThatFits(context, quantity, fits);
    const written = textOf(site).replace(/^about\s+/i, '');
    const write = instead.length === 0 ? {} : { write: instead.map((one) => one.replace(/^about\s+/i, '')) };
    context.report('unit-mismatch', { written, of, missing, fits: units, ...write }, site, { instead });
    return undefined;
  }
  if (!isSaidOf(context, quantity, unit)) return undefined;
  const numbers = unit.measure === 'hertz' && quantity.fraction ? hertzPair(quantity.fraction) : numbersOf(quantity);
  const toSi = (value: number) => inSi(unit, value);
  let least = toSi(numbers.least);
  let most = toSi(numbers.most);
  if (quantity.moreUnit !== undefined) {
    const second = unitOf(quantity.moreUnit)!;
    if (unit.spelling !== 'ft' || second.spelling !== 'in') {
      reportNoComma(context, quantity);
      return undefined;
    }
    const { more, moreFraction } = quantity;
    const inches =
      (more === undefined ? 0 : number(more)) + (moreFraction === undefined ? 0 : fractionValue(moreFraction));
    least += inches * second.factor;
    most += inches * second.factor;
  }
  const named = unit.system ?? (quantity.system?.toUpperCase() as 'AC' | 'DC' | undefined);
  const read = { least, most, measure: unit.measure, unit, about: quantity.about };
  return inBounds(context, quantity, named ? { ...read, system: named } : read, of, from);
}

/** `16 V 10 VA` was read as one quantity, as `21 ft 6 in` is. */
function reportNoComma(context: LoweringContext, quantity: Quantity): void {
  const site = context.site(quantity);
  const whole = textOf(site);
  const from = textOf(context.site(quantity, quantity.more === undefined ? 'moreFraction' : 'more'));
  const unit = textOf(context.site(quantity, 'unit'));
  const cut = whole.indexOf(from, whole.indexOf(unit) + unit.length);
  const [first, second] = [whole.slice(0, cut).trim(), whole.slice(cut).trim()];
  if (unitOf(quantity.unit!)?.measure === unitOf(quantity.moreUnit!)?.measure) {
    const facts = {
      what: 'stray',
      found: second,
      mend: 'one figure says it, or feet with inches as in `21 ft 6 in`',
    } as const;
    context.report('syntax', facts, site);
    return;
  }
  context.report('syntax', { what: 'no-comma', first, second }, site, { instead: [`${first}, ${second}`] });
}

/** Whether AC or DC may be said of the unit, and the number written as it is; reports it where not. */
function isSaidOf(context: LoweringContext, quantity: Quantity, { measure }: Unit): boolean {
  const site = context.site(quantity);
  const written = textOf(site);
  if (quantity.system !== undefined && measure !== 'volts' && measure !== 'amps') {
    const facts = {
      what: 'stray',
      found: quantity.system,
      mend: 'it stands after the volts, as in `16 V AC`',
    } as const;
    context.report('syntax', facts, context.site(quantity, 'system'));
    return false;
  }
  if (measure === 'volts' && quantity.fraction !== undefined) {
    const write = written.replace(/(\d)\s*\/\s*(\d)/, '$1..$2');
    const facts = {
      what: 'stray',
      found: quantity.fraction,
      mend: `a range has two dots, as in \`${write}\``,
    } as const;
    context.report('syntax', facts, site, { instead: [write] });
    return false;
  }
  return true;
}

/** `50/60 Hz` is made for either. */
function hertzPair(written: string): { readonly least: number; readonly most: number } {
  const [least, most] = written.split('/').map(Number);
  return { least: least!, most: most! };
}

/** A unit that only lacks its usual spelling: `volts`, `metres`. */
function respelled(context: LoweringContext, quantity: Quantity, units: readonly string[]): string[] {
  const millions = meantByMillions(quantity.unit!);
  const words = plainWords.get(quantity.unit!.toLowerCase());
  const meant = millions.length > 0 ? millions : [words].filter((one) => one !== undefined && units.includes(one));
  const unitText = textOf(context.site(quantity, 'unit'));
  return meant.map((one) => textOf(context.site(quantity)).replace(unitText, one!));
}

/** The figure with the unit of the only measure that fits; a length may be metres or feet. */
function withUnitThatFits(context: LoweringContext, quantity: Quantity, fits: readonly Measure[]): string[] {
  const [measure] = fits;
  const { feet, moreUnit, system, dashed } = quantity;
  if (measure === undefined || fits.length > 1 || feet !== undefined || dashed !== undefined) return [];
  if (moreUnit !== undefined || system !== undefined) return [];
  const written = textOf(context.site(quantity));
  const number = quantity.unit === undefined ? written : written.slice(0, -quantity.unit.length).trimEnd();
  return unitsThatFit[measure].slice(0, measure === 'length' ? 2 : 1).map((unit) => `${number} ${unit}`);
}

const plainWords: ReadonlyMap<string, string> = new Map(
  Object.entries({
    volt: 'V',
    volts: 'V',
    amp: 'A',
    amps: 'A',
    watt: 'W',
    watts: 'W',
    feet: 'ft',
    foot: 'ft',
    inch: 'in',
    inches: 'in',
    metre: 'm',
    metres: 'm',
    meter: 'm',
    meters: 'm',
    gauge: 'AWG',
    ga: 'AWG',
    c: 'degC',
    f: 'degF',
    mm: 'mm2',
    sqmm: 'mm2',
    pct: '%',
    percent: '%',
  }),
);

function inBounds(
  context: LoweringContext,
  quantity: Quantity,
  read: Read,
  of: string,
  from: From = 'bound',
): Read | undefined {
  const bound = bounds[read.measure];
  const { most } = bound;
  const hasSign = from === 'below-none' && read.measure === 'volts';
  const isFromNone = from !== 'bound' && bound.above === 0;
  const words = hasSign
    ? `from -${most} to ${most} V`
    : isFromNone
      ? bound.words.replace('above 0 and up', 'from 0')
      : bound.words;
  const [above, least] = hasSign ? [undefined, -most] : isFromNone ? [undefined, 0] : [bound.above, bound.least];
  const low = Math.min(read.least, read.most);
  const high = Math.max(read.least, read.most);
  const tooLow = (above !== undefined && !(low > above)) || (least !== undefined && !(low >= least));
  const backwards = read.measure !== 'gauge' && read.least > read.most;
  if (!tooLow && high <= most && !backwards) return read;
  const takes = backwards && !tooLow && high <= most ? 'from low to high' : words;
  const site = context.site(quantity);
  context.report('value-out-of-range', { written: textOf(site), of, takes }, site);
  return undefined;
}

/** What is read with a meter may be nothing, and volts on DC less than that. */
export type From = 'bound' | 'none' | 'below-none';

/** One figure; a range where one figure belongs is out of range. */
export function readFigure(
  context: LoweringContext,
  quantity: Quantity | undefined,
  fits: readonly Measure[],
  of: string,
  from: From = 'bound',
): Read | undefined {
  const read = readQuantity(context, quantity, fits, of, from);
  if (!read || read.least === read.most || read.measure === 'hertz') return read;
  const site = context.site(quantity!);
  context.report('value-out-of-range', { written: textOf(site), of, takes: 'by one figure, not a range' }, site);
  return undefined;
}

/** A ratio without a unit, above 0 and up to 1. */
export function readShare(context: LoweringContext, quantity: Quantity, of: string): number | undefined {
  const site = context.site(quantity);
  const { least, most } = numbersOf(quantity);
  if (quantity.unit !== undefined || quantity.feet !== undefined) {
    const write = String(quantity.unit === '%' ? least / 100 : least);
    context.report('unit-mismatch', { written: textOf(site), of, missing: false, fits: [write] }, site, {
      instead: [write],
    });
    return undefined;
  }
  if (least > 0 && least <= 1 && most === least) return least;
  context.report('value-out-of-range', { written: textOf(site), of, takes: 'above 0 and up to 1' }, site);
  return undefined;
}

/** A whole number from `least` to `most`. */
export function readCount(
  context: LoweringContext,
  written: string,
  site: Parameters<LoweringContext['report']>[2],
  of: string,
  least: number,
  most: number,
): number | undefined {
  const value = number(written);
  if (Number.isInteger(value) && value >= least && value <= most) return value;
  context.report('value-out-of-range', { written, of, takes: `in whole numbers from ${least} to ${most}` }, site);
  return undefined;
}

export function rangeOfRead(read: Read): Range {
  return { least: read.least, most: read.most };
}

export function figureOf(read: Read): Figure {
  return read.about ? { value: read.least, about: true } : { value: read.least };
}

export function sizeOf(measure: Measure, value: number): ConductorSize {
  if (measure === 'gauge') return { kind: 'awg', awg: value };
  return measure === 'area' ? { kind: 'area', mm2: value } : { kind: 'diameter', mm: value * 1000 };
}

/** Sizes from one figure, a range, or a figure with `or thicker`, `or thinner`; a thicker wire has the smaller AWG number. */
export function sizeRangeOf(read: Read, bound: 'thicker' | 'thinner' | undefined): SizeRange {
  const one = sizeOf(read.measure, read.least);
  if (bound === 'thicker') return { thinnest: one };
  if (bound === 'thinner') return { thickest: one };
  const low = Math.min(read.least, read.most);
  const high = Math.max(read.least, read.most);
  const [thin, thick] = read.measure === 'gauge' ? [high, low] : [low, high];
  return { thinnest: sizeOf(read.measure, thin), thickest: sizeOf(read.measure, thick) };
}
