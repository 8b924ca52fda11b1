/** The words that belong in each statement's braces, and what a statement is called in a sentence. */

import type { Token } from './tokens.js';

const common = ['note', 'label', 'photo', 'installed'];
const figures = ['draws', 'peaks', 'power-factor', 'stays-on', 'rings', 'hums', 'dc', 'pulls-in', 'releases', 'inrush'];
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
  'battery',
  'standby',
  'budget',
  ...figures,
];
const ELEMENT_KINDS = [
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
  'pulls-in',
  'releases',
  'inrush',
];
const ofStatement: Readonly<Record<string, readonly string[]>> = {
  place: [...common, 'outdoor', 'wet', 'concealed', 'temperature'],
  supply: part,
  device: part,
  splice: [...common, 'holds'],
  run: [...common, 'loop', 'beside', 'raceway'],
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
  readings: [...common, 'idle', 'pressed', 'bridged', 'off', 'mains', 'meter'],
};

/** The fact words that belong in the braces in which the parser stood. */
export function factWordsOf(word: string, rules: readonly string[]): readonly string[] {
  if (rules.includes('ElementFact') || rules.at(-1) === 'Element') return element;
  if (rules.includes('PartType')) return type;
  return ofStatement[word] ?? common;
}

const HOMES: readonly (readonly [home: string, words: readonly string[]])[] = [
  ['it belongs in the braces of a `place`', ['temperature', 'wet', 'concealed']],
  ['it belongs in the braces of a `splice`', ['holds']],
  ['it belongs in the braces of a `run`', ['loop', 'beside', 'raceway']],
  ['it belongs in the braces of a `box`', ['volume', 'metal', 'clamps', 'barrier']],
  [
    'it belongs in a `cable type`',
    ['conductors', 'resistance', 'stranded', 'shielded', 'direct-burial', 'copper-clad'],
  ],
  ['it belongs in a `device type` or `supply type`', ['terminal', 'role', ...ELEMENT_KINDS]],
  ['it belongs in the braces of a `winding`', ['taps', 'phase']],
  [
    'it belongs in the braces of a `supply`',
    ['output', 'no-load', 'regulated', 'measured', 'breaker', 'existing', 'circuit'],
  ],
  ['it belongs in the braces of a `device`', ['rating', 'limits', 'needs', 'ring', 'together', 'never', ...figures]],
  ['it belongs in the braces of a `supply` or `device`', ['accepts', 'lands', 'listed']],
];
const homes: ReadonlyMap<string, string> = new Map(HOMES.flatMap(([home, words]) => words.map((word) => [word, home])));

/** Where a fact belongs that is known and stands elsewhere. */
export function homeOfFact(word: string): string | undefined {
  return homes.get(word);
}

/** `hall-chime`, or "a run" where the statement has no name yet. */
export function statementNoun(word: string, tokens: readonly Token[]): string {
  const second = tokens[1];
  const name = second?.image.toLowerCase() === 'type' && tokens[2]?.image !== ':' ? tokens[2] : second;
  const named = ['supply', 'device', 'splice', 'run', 'place', 'box', 'cable'].includes(word);
  return named && name && /^[^\d\s\p{P}]/u.test(name.image)
    ? `\`${name.image}\``
    : `${word === 'readings' ? 'these' : 'this'} ${word}`;
}
