/** Which words of a line the formatter may set in their usual case, and how: statement words, AC/DC and units. */

import type { Token } from './scan.js';

const UNITS: ReadonlyMap<string, string> = new Map(
  [
    ...['V', 'A', 'W', 'VA', 'VAC', 'VDC', 'mA', 'mV', 'mW', 'kW', 'kV', 'kVA', 'ohm', 'kohm', 'Hz', 'degC', 'degF'],
    ...['m', 'cm', 'mm', 'km', 'ft', 'in', 'mm2', 'cm2', 'in3', 'cm3', 'AWG', 'deg'],
  ].map((unit) => [unit.toLowerCase(), unit]),
);

/** In these lines a word after a number may be a name. */
const ELEMENT_WORDS: ReadonlySet<string> = new Set([
  'terminal',
  'winding',
  'primary',
  'coil',
  'load',
  'resistor',
  'lamp',
  'impedance',
  'contact',
  'bypass',
  'diode',
  'link',
  'lands',
  'never',
]);

/** Facts of a run; its other lines are conductors, whose colours may be numbers before a name. */
const RUN_FACTS: ReadonlySet<string> = new Set(['loop', 'beside', 'installed', 'about', 'length']);

/** Whether words after numbers are units in the part of a line that stands directly in the block of `statement`. */
export function readsUnits(statement: string, depth: number, first: string): boolean {
  if (depth === 0) return true;
  if (depth === 1 && statement === 'run') return RUN_FACTS.has(first);
  return depth > 1 || !ELEMENT_WORDS.has(first);
}

/** A unit after its number, or AC/DC after its volts, in its usual case; undefined where the token is neither. */
export function unitCase(tokens: readonly Token[], index: number): string | undefined {
  const token = tokens[index]!;
  const before = tokens[index - 1];
  if (token.kind !== 'word' || before === undefined) return undefined;
  const word = token.text.toLowerCase();
  const afterPart = tokens[index - 2]?.text === '.' && before.glued;
  if (before.kind === 'number') return afterPart ? undefined : UNITS.get(word);
  const volts = before.kind === 'word' && tokens[index - 2]?.kind === 'number' && /^m?v$/i.test(before.text);
  if ((word === 'ac' || word === 'dc') && volts) return word.toUpperCase();
  return undefined;
}
