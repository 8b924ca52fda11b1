/** Words for the figures that were not read off a label or a meter. */

import type { Assumption } from '../analysis-types.js';
import type { Output, PartElement, PartFacts, PartType, Rating } from '../model.js';
import type { FactName } from '../place-in-record.js';
import { shortFigure, withUnit } from './figures.js';

/** What an element's figures are settled from. */
export interface PartContext {
  readonly name: string;
  readonly type: PartType;
  readonly facts: PartFacts;
  readonly statedFacts: PartFacts;
  readonly stated: ReadonlySet<FactName>;
  readonly profile: string;
}

export function assumption(context: PartContext, what: string, words: string): Assumption {
  return { part: context.name, what, words };
}

/** A figure of the shipped library that the instance does not state itself. */
export function libraryFigure(context: PartContext, what: FactName, words: string): readonly Assumption[] {
  return context.type.shipped && !context.stated.has(what)
    ? [assumption(context, what, `${words} (${fromLibrary(context)})`)]
    : [];
}

/** The rating, where an element follows it and it is the library's, wholly or in its power. */
export function libraryRating(context: PartContext, element: PartElement): readonly Assumption[] {
  const { rating } = context.facts;
  if (!element.asRated || !context.type.shipped || rating === undefined) return [];
  const stated = context.statedFacts.rating;
  const lacksVolts = stated?.volts === undefined && rating.volts !== undefined;
  const lacksPower = stated === undefined || powerWords(stated) === '';
  if (!lacksVolts && !(lacksPower && powerWords(rating) !== '')) return [];
  const words = lacksVolts ? ratingWords(rating) : powerWords(rating);
  return [assumption(context, 'rating', `a rating of ${words} (${fromLibrary(context)})`)];
}

/** The output, where a winding follows it and it is the library's, wholly or in its power. */
export function libraryOutput(context: PartContext, output: Output): readonly Assumption[] {
  if (!context.type.shipped) return [];
  const stated = context.statedFacts.outputs.find((o) => o.tap === output.tap);
  const lacksVolts = stated?.volts === undefined;
  const lacksPower = stated?.voltAmperes === undefined && stated?.amps === undefined;
  if (!lacksVolts && !lacksPower) return [];
  const volts = lacksVolts && output.volts !== undefined ? [withUnit(output.volts, 'V')] : [];
  const power = lacksPower ? [powerWords(output)].filter((w) => w !== '') : [];
  const words = [...volts, ...power].join(', ');
  return words === '' ? [] : [assumption(context, 'rating', `an output of ${words} (${fromLibrary(context)})`)];
}

function fromLibrary(context: PartContext): string {
  return `the library's figure for ${context.type.name}`;
}

function ratingWords(rating: Rating): string {
  const { volts } = rating;
  const voltWords = volts === undefined ? [] : [`${voltRange(volts.least, volts.most)} V`];
  return [...voltWords, powerWords(rating)].filter((w) => w !== '').join(', ');
}

function voltRange(least: number, most: number): string {
  return least === most ? shortFigure(least) : `${shortFigure(least)}..${shortFigure(most)}`;
}

function powerWords(rating: { voltAmperes?: number; watts?: number; amps?: number }): string {
  if (rating.voltAmperes !== undefined) return withUnit(rating.voltAmperes, 'VA');
  if (rating.watts !== undefined) return withUnit(rating.watts, 'W');
  return rating.amps !== undefined ? withUnit(rating.amps, 'A') : '';
}
