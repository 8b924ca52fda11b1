/** What one hypothesis makes one expect of a reading, as a figure with its band, a sign, or why nothing. */

import type { Gauge, Gauged } from '../explain/gauge.js';
import type { Variant } from '../explain/variants.js';
import { ohmLimits } from '../explain/practice.js';
import { outcomeChances } from '../explain/signs.js';
import { chanceOf, EVEN, type Observation, type Weighed } from '../explain/weigh.js';
import { mainsOf } from '../resolve/mains.js';
import type { Sign } from '../readings-types.js';
import type { Predicted } from './types.js';

/** A share of a band's width from which something is worth naming. */
const LEANS_FROM = 0.35;
/** Below this chance a sign would be a surprise; from the other on it is sure. */
const SURPRISE_BELOW = 0.03;
const SURE_FROM = 0.9;

/** `given` tells what has been read already. */
export function predict(gauge: Gauge, variant: Variant, observation: Observation, given: Weighed): Predicted {
  const { house, nuisances } = gauge.operation;
  if (observation.kind === 'mains') {
    const { mainsVolts } = mainsOf(house.analysis.installation.profile);
    const width = observation.half * mainsVolts;
    return {
      kind: 'figure',
      unit: 'V',
      value: mainsVolts,
      least: mainsVolts - width,
      most: mainsVolts + width,
      leansOn: ['the mains'],
    };
  }
  if (observation.kind === 'sign') {
    const chances = outcomeChances(gauge, variant, observation, given.expect);
    const [likeliest, chance] = [...chances].reduce((best, one) => (one[1] > best[1] ? one : best));
    const [shows, note] = likeliest.split(':') as [Sign, string | undefined];
    const stated = chanceOf(chances, observation.outcome);
    const isOther = likeliest !== observation.outcome.shows && stated >= SURPRISE_BELOW;
    return { kind: 'sign', shows, ...(note === undefined ? {} : { note }), sure: chance >= SURE_FROM && !isOther };
  }
  const { spot } = observation;
  const { mean, variance, gauged } = given.expect(spot);
  if (spot.kind === 'ohms') {
    if (gauged.tells === 'open') return { kind: 'ohms', tells: 'open' };
    if (gauged.tells === 'some') return { kind: 'ohms', tells: 'some' };
  }
  const own = observation.half ?? gauged.meter;
  const width = Math.sqrt(Math.max(variance / EVEN - gauged.meter * gauged.meter, 0) + own * own);
  const isSigned = spot.kind === 'volts' && spot.signed;
  const least = isSigned ? mean - width : Math.max(mean - width, 0);
  const most = mean + width;
  if (gauged.floating && spot.kind === 'volts') {
    return { kind: 'floating', value: mean, least, most, meterOhms: spot.meterOhms };
  }
  const unit = spot.kind === 'volts' ? 'V' : spot.kind === 'amps' ? 'A' : 'ohm';
  if (unit === 'ohm' && most < ohmLimits.short && gauged.value < ohmLimits.short / 2) {
    return { kind: 'figure', unit, value: mean, least: 0, most, leansOn: ['the meter'] };
  }
  return { kind: 'figure', unit, value: mean, least, most, leansOn: leansOn(nuisances, gauged, own) };
}

function leansOn(
  nuisances: readonly { readonly words: string; readonly perBlock?: true }[],
  { gradient, axes }: Gauged,
  meter: number,
): readonly string[] {
  const named = [{ words: 'the meter', width: meter }];
  axes.forEach((axis, k) => {
    const nuisance = nuisances[axis];
    if (nuisance !== undefined) named.push({ words: nuisance.words, width: Math.abs(gradient[k]!) });
  });
  const most = Math.max(...named.map(({ width }) => width));
  return named
    .filter(({ width }) => width > 0 && width >= LEANS_FROM * most)
    .sort((x, y) => y.width - x.width)
    .map(({ words }) => words);
}

/** Whether what was read is within what was predicted; undefined where either would do. */
export function agreesWith(observation: Observation, predicted: Predicted): boolean | undefined {
  switch (predicted.kind) {
    case 'unknown':
      return undefined;
    case 'sign': {
      if (observation.kind !== 'sign') return undefined;
      const { shows, note } = observation.outcome;
      const isSame =
        shows === predicted.shows && (note === undefined || predicted.note === undefined || note === predicted.note);
      return isSame ? true : predicted.sure ? false : undefined;
    }
    case 'ohms': {
      if (observation.kind !== 'figure') return undefined;
      const isOpen = observation.figure === null || observation.figure > ohmLimits.overRange;
      if (predicted.tells === 'open') return isOpen;
      return predicted.tells === 'short' ? !isOpen && observation.figure! < ohmLimits.short : undefined;
    }
    case 'figure':
    case 'floating': {
      const figure =
        observation.kind === 'figure' ? observation.figure : observation.kind === 'mains' ? undefined : null;
      if (observation.kind === 'mains') return Math.abs(observation.share) <= observation.half;
      return typeof figure === 'number' && figure >= predicted.least && figure <= predicted.most;
    }
  }
}
