/** How parts, screws and places are called on paper, by the profile's habits. */

import {
  type Analysis,
  type ConductorSize,
  type End,
  type ResolvedPart,
  regionOf,
  type Terminal,
  type TradeWords,
} from '@ohmstead/record';
import { formatGauge } from '@ohmstead/circuit';
import { none } from '../figures.js';

export function tradeWords(profile: string): TradeWords {
  return regionOf(profile).words;
}

/** "TRANS", or the terminal's name where nothing is written on the part. */
export function screwWords(terminal: Terminal): string {
  return terminal.words ?? terminal.name;
}

/** "hall-chime TRANS"; a splice by its name. */
export function endWords({ parts }: Analysis, end: End): string {
  if (end.terminal === undefined) return end.part;
  const terminal = parts.get(end.part)?.terminals.find(({ name }) => name === end.terminal);
  return `${end.part} ${terminal === undefined ? end.terminal : screwWords(terminal)}`;
}

/** Kinds that are the same whichever way round they are wired. */
const eitherWay = new Set(['contact', 'load', 'lamp', 'resistor', 'coil', 'impedance', 'winding', 'link']);

/** Both screws of a part that has two without marking, and nothing in it that minds which is which. */
export function eitherScrew(part: ResolvedPart): boolean {
  const screws = part.terminals.filter(({ lineSide }) => lineSide === undefined);
  const inner = part.elements.filter(({ element }) => element.kind !== 'primary');
  return (
    screws.length === 2 &&
    screws.every(({ words, name }) => words === undefined && /^[ab]$/.test(name)) &&
    inner.length > 0 &&
    inner.every(({ element, system }) => eitherWay.has(element.kind) && system !== 'DC') &&
    inner.filter(({ element }) => element.kind === 'winding').length < 2
  );
}

/** "Yard door", or the place's own name. */
export function placeWords({ installation }: Analysis, name: string | undefined): string {
  if (name === undefined) return 'no place recorded';
  return installation.places.find((place) => place.name === name)?.words ?? name;
}

export function gaugeWords(size: ConductorSize | undefined): string {
  switch (size?.kind) {
    case 'awg':
      return formatGauge({ awg: size.awg });
    case 'area':
      return formatGauge({ mm2: size.mm2 });
    case 'diameter':
      return formatGauge({ diameterMm: size.mm });
    default:
      return none;
  }
}
