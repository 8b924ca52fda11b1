/** Which words of a line the formatter may set in their usual case, and how: statement words, AC/DC and units. */

import { unitOf } from '../reading/units.js';
import type { Token } from './scan.js';

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
  if (before.kind === 'number') return afterPart ? undefined : unitInUsualCase(word);
  const volts = before.kind === 'word' && tokens[index - 2]?.kind === 'number' && /^m?v$/i.test(before.text);
  if ((word === 'ac' || word === 'dc') && volts) return word.toUpperCase();
  return undefined;
}

function unitInUsualCase(word: string): string | undefined {
  const unit = unitOf(word);
  const spelling = unit?.system ? `V${unit.system}` : unit?.spelling;
  return spelling?.toLowerCase() === word ? spelling : undefined;
}
