/** Readings and what was expected of them, in a technician's words. */

import { formatAmps, formatOhms, formatVolts } from '@ohmstead/circuit';
import { type Analysis, pointOf } from '../analysis-types.js';
import type { Predicted } from '../readings/types.js';
import type { MeterPoint, Reading, ReadingOf } from '../readings-types.js';
import { stateWords } from './state-words.js';
import { quote } from './words.js';

/** `hall-chime.trans`, or `tx-to-porch.red at porch`. */
export function meterPointName(point: MeterPoint): string {
  if (point.kind === 'end') return pointOf(point.end);
  return `${point.run}.${point.colour}${point.at === undefined ? '' : ` at ${point.at}`}`;
}

/** "across `bell-tx.a` and `bell-tx.b`", "through `tx-to-porch.red`", "at `hall-chime`", "of the mains". */
export function readingPlaceWords(of: ReadingOf): string {
  switch (of.kind) {
    case 'mains':
      return 'of the mains';
    case 'amps':
      return `through ${quote(meterPointName(of.through))}`;
    case 'sign':
      return `at ${quote(of.part)}`;
    default:
      return `across ${of.between.map((point) => quote(meterPointName(point))).join(' and ')}`;
  }
}

/** "14.9 V", "OL", "silent", "rings `front`". */
export function readingShownWords(of: ReadingOf): string {
  switch (of.kind) {
    case 'mains':
      return formatVolts(of.volts);
    case 'volts':
      return `${formatVolts(of.volts)}${of.system === undefined ? '' : ` ${of.system}`}`;
    case 'ohms':
      return of.ohms === null ? 'OL' : formatOhms(of.ohms);
    case 'amps':
      return formatAmps(of.amps);
    case 'sign':
      return of.note === undefined ? of.shows : `${of.shows} ${quote(of.note)}`;
  }
}

/** "with the supplies isolated", "at rest", "while `porch-button` is held". */
export function readingStateWords(analysis: Analysis, { state }: Pick<Reading, 'state'>): string {
  return state.kind === 'off' ? 'with the supplies isolated' : stateWords(analysis, state.pressed);
}

const UNIT_WORDS = { V: formatVolts, A: formatAmps, ohm: formatOhms } as const;

/** "14.2 V to 17.9 V", "open", "silent"; undefined where nothing can be expected. */
export function predictedWords(predicted: Predicted): string | undefined {
  switch (predicted.kind) {
    case 'figure': {
      const write = UNIT_WORDS[predicted.unit];
      const [least, most] = [write(Math.max(0, predicted.least)), write(predicted.most)];
      return least === most ? least : `${least} to ${most}`;
    }
    case 'floating':
      return `up to ${formatVolts(predicted.most)}: one point hangs free, and what a meter shows there is its own load`;
    case 'ohms':
      return { open: 'OL', short: 'next to nothing', some: 'some ohms, how many is not known beforehand' }[
        predicted.tells
      ];
    case 'sign':
      return predicted.note === undefined ? predicted.shows : `${predicted.shows} ${quote(predicted.note)}`;
    case 'unknown':
      return undefined;
  }
}
