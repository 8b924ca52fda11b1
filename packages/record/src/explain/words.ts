/** Readings, states and outcomes in words that a person with a meter can follow. */

import { pointOf } from '../analysis-types.js';
import { stateWords } from '../judging/state-words.js';
import { listOf, quote } from '../judging/words.js';
import { shortFigure } from '../resolve/figures.js';
import type { MeterPoint, ReadingState } from '../readings-types.js';
import type { Predicted } from '../readings/types.js';
import type { House } from './house.js';
import type { Asked } from './types.js';

export function pointWords(house: House, point: MeterPoint): string {
  if (point.kind === 'conductor') {
    const at = point.at === undefined ? '' : ` at ${quote(point.at)}`;
    return `the bare end of ${point.colour} of ${quote(point.run)}${at}`;
  }
  const { part, terminal } = point.end;
  const marked = house.analysis.parts.get(part)?.terminals.find(({ name }) => name === terminal)?.words;
  const name = quote(pointOf(point.end));
  return marked === undefined || marked.toLowerCase() === terminal?.toLowerCase() ? name : `${name} (${marked})`;
}

export function stateInWords(house: House, state: ReadingState): string {
  if (state.kind === 'off') {
    const { pressed = [] } = state;
    const lifted = "with the supplies' leads lifted";
    return pressed.length === 0 ? lifted : `${lifted}, ${stateWords(house.analysis, pressed)}`;
  }
  const bridged = state.bridged ?? [];
  const held = bridged.length > 0 ? [`with the two wires at ${listOf(bridged.map(quote))} held together`] : [];
  const pressed = stateWords(house.analysis, state.pressed);
  return state.pressed.length === 0 ? (held[0] ?? pressed) : [pressed, ...held].join(', ');
}

/** "across `a` and `b` while `x` is held", "`hall-chime` at rest", "the mains". */
export function askedWords(
  house: House,
  {
    state,
    of,
  }: {
    readonly state: ReadingState;
    readonly of: Asked['of'] | { readonly kind: 'amps'; readonly through: MeterPoint };
  },
): string {
  const when = stateInWords(house, state);
  switch (of.kind) {
    case 'mains':
      return 'the mains';
    case 'sign':
      return `${quote(of.part)} ${when}`;
    case 'amps':
      return `through ${pointWords(house, of.through)} ${when}`;
    default:
      return `across ${pointWords(house, of.between[0])} and ${pointWords(house, of.between[1])} ${when}`;
  }
}

export function predictedWords(predicted: Predicted): string {
  switch (predicted.kind) {
    case 'figure':
      return `${rounded(predicted.least)} to ${rounded(predicted.most)} ${predicted.unit}`;
    case 'floating':
      return 'next to nothing: it hangs free';
    case 'ohms':
      return predicted.tells === 'open' ? 'open' : predicted.tells === 'short' ? 'a short' : 'some ohms';
    case 'sign':
      return predicted.note === undefined ? predicted.shows : `${predicted.shows} (${predicted.note})`;
    case 'unknown':
      return predicted.reason;
  }
}

export function rounded(value: number): string {
  const size = Math.abs(value);
  return shortFigure(
    size >= 100 ? Math.round(value) : size >= 1 ? Math.round(value * 10) / 10 : Math.round(value * 100) / 100,
  );
}
