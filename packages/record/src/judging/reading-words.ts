/** Readings and what was expected of them, in a technician's words. */

import { formatAmps, formatOhms, formatVolts } from '@ohmstead/circuit';
import { type Analysis, pointOf } from '../analysis-types.js';
import type { Predicted } from '../readings/types.js';
import type { MeterPoint, Reading, ReadingOf, Sign } from '../readings-types.js';
import { stateWords } from './state-words.js';
import { quote, quotedList } from './words.js';

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

/** "with the supplies isolated", "at rest", "while `porch-button` is held", "with the two wires at `porch-button` held together". */
export function readingStateWords(analysis: Analysis, { state }: Pick<Reading, 'state'>): string {
  if (state.kind === 'off') {
    const { pressed = [] } = state;
    return pressed.length === 0
      ? 'with the supplies isolated'
      : `with the supplies isolated, ${stateWords(analysis, pressed)}`;
  }
  const { pressed, bridged = [] } = state;
  if (bridged.length === 0) return stateWords(analysis, pressed);
  const held = `with the two wires at ${quotedList(bridged)} held together`;
  return pressed.length === 0 ? held : `${stateWords(analysis, pressed)}, ${held}`;
}

/** "14.2 to 17.9 V", "OL", "silent"; undefined where nothing can be expected. */
export function predictedWords(predicted: Predicted): string | undefined {
  switch (predicted.kind) {
    case 'figure':
      return bandWords(predicted.least, predicted.most, WRITE[predicted.unit]);
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

const WRITE = { V: formatVolts, A: formatAmps, ohm: formatOhms } as const;

export function predictedFigure({ unit, value }: Extract<Predicted, { kind: 'figure' }>): string {
  return WRITE[unit](value);
}

/** The unit once where both have it: "14.2 to 17.9 V", "80 mA to 0.12 A". */
function bandWords(least: number, most: number, write: (value: number) => string): string {
  const [low, high] = [write(least), write(most)];
  if (low === high) return high;
  const [figure, unit] = low.split(' ');
  return `${high.endsWith(` ${unit}`) ? figure : low} to ${high}`;
}

/** "it rings", "it is silent". */
export function signWords(shows: Sign, note?: string): string {
  const verb = { silent: 'is silent', rings: 'rings', hums: 'hums', dark: 'is dark', lit: 'is lit' }[shows];
  return note === undefined ? `it ${verb}` : `it ${verb} (${quote(note)})`;
}
