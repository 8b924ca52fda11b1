/** The words that belong in each statement's braces, and what a statement is called in a sentence. */

import type { Token } from './tokens.js';

const common = ['note', 'label', 'photo', 'installed'];
const part = [
  ...common,
  'output',
  'no-load',
  'regulated',
  'accepts',
  'measured',
  'needs',
  'ring',
  'lands',
  'rating',
  'limits',
  'together',
  'never',
  'listed',
  'outdoor',
  'breaker',
  'existing',
  'circuit',
  'draws',
  'peaks',
  'power-factor',
  'stays-on',
  'rings',
  'hums',
  'dc',
];
export const ELEMENT_KINDS = [
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
] as const;
const type = [...part, 'terminal', 'role', ...ELEMENT_KINDS];
const element = [
  'as',
  'no-load',
  'taps',
  'phase',
  'reactance',
  'power-factor',
  'rings',
  'hums',
  'dc',
  'draws',
  'peaks',
  'stays-on',
  'opens',
];
const ofStatement: Readonly<Record<string, readonly string[]>> = {
  place: [...common, 'outdoor', 'wet', 'concealed', 'temperature'],
  supply: part,
  device: part,
  splice: [...common, 'holds'],
  run: [...common, 'loop', 'beside'],
  cable: [
    ...common,
    'conductors',
    'resistance',
    'stranded',
    'shielded',
    'outdoor',
    'direct-burial',
    'with',
    'copper-clad',
    'listed',
  ],
  box: [...common, 'volume', 'metal', 'clamps', 'barrier'],
  replace: part,
};

/** The fact words that belong in the braces in which the parser stood. */
export function factWordsOf(word: string, rules: readonly string[]): readonly string[] {
  if (rules.includes('ElementFact') || rules.at(-1) === 'Element') return element;
  if (rules.includes('PartType')) return type;
  return ofStatement[word] ?? common;
}

/** `hall-chime`, or "a run" where the statement has no name yet. */
export function statementNoun(word: string, tokens: readonly Token[]): string {
  const second = tokens[1];
  const name = second?.image.toLowerCase() === 'type' && tokens[2]?.image !== ':' ? tokens[2] : second;
  const named = ['supply', 'device', 'splice', 'run', 'place', 'box', 'cable'].includes(word);
  return named && name && /^[^\d\s\p{P}]/u.test(name.image) ? `\`${name.image}\`` : `this ${word}`;
}
