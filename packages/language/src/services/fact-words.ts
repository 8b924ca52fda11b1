// biome-ignore-all lint/suspicious/noTemplateCurlyInString: the texts are snippets, whose places have this form
/** The words of the notation that completion offers, with what they insert (snippet syntax) and say. */

import { TODAY } from './statement-snippets.js';

export interface Offered {
  readonly word: string;
  readonly snippet: string;
  readonly says: string;
  /** Only offered where this stands true. */
  readonly only?: 'ring' | 'contacts' | 'supply' | 'device' | 'load' | 'coil' | 'load or coil';
}

const offer = (word: string, snippet: string, says: string, only?: Offered['only']): Offered =>
  only ? { word, snippet, says, only } : { word, snippet, says };

export const COMMON_FACTS: readonly Offered[] = [
  offer('note', 'note "$1"', 'a remark'),
  offer('label', 'label "$1"', 'words read off the part'),
  offer('photo', 'photo "$1"', 'path of a picture'),
  offer('installed', `installed ${TODAY}`, 'date'),
];

const PART_FACTS: readonly Offered[] = [
  offer('output', 'output ${1:16} V AC, ${2:10} VA', 'what the label says it gives', 'supply'),
  offer('no-load', 'no-load ${1:19.8} V', 'volts with nothing connected, from the label', 'supply'),
  offer('regulated', 'regulated', 'holds its volts under load', 'supply'),
  offer('measured open', 'measured open ${1:17.9} V', 'volts with nothing connected, from a meter', 'supply'),
  offer('measured', 'measured ${1:15.1} V at ${2:0.62} A', 'volts under load, from a meter', 'supply'),
  offer('rating', 'rating ${1:16} V AC, ${2:10} VA', 'what the label says', 'device'),
  offer('limits', 'limits ${1:12}..${2:30} V', 'limits from a data sheet, held exactly', 'device'),
  offer('needs supply', 'needs supply ${1:10} VA or more', 'the transformer its box asks for', 'device'),
  offer('ring', 'ring ${1|mechanical,electronic,none|}', 'how it is set to ring the wired chime', 'ring'),
  offer('together at most', 'together at most ${1:1}', 'how many of its contacts are ever closed together', 'contacts'),
  offer('never together', 'never together $1, $2', 'contacts that are never closed together', 'contacts'),
  offer('draws', 'draws ${1:3} W', 'at rest, from its own label or data sheet', 'load'),
  offer('peaks', 'peaks ${1:8} W', 'when it is busiest', 'load'),
  offer('stays-on from', 'stays-on from ${1:10} V', 'off below', 'load'),
  offer('power-factor', 'power-factor ${1:0.6}', 'from its own data sheet', 'load or coil'),
  offer('rings from', 'rings from ${1:70} %', 'of the rated volts', 'coil'),
  offer('hums from', 'hums from ${1:25} %', 'of the rated amps', 'coil'),
  offer('dc', 'dc ${1:6} ohm', 'what an ohm-meter sees', 'coil'),
  offer('pulls-in from', 'pulls-in from ${1:80} %', 'of the rated volts, or in volts', 'coil'),
  offer('inrush', 'inrush ${1:40} VA', 'what it takes until its armature is home', 'coil'),
  offer('releases below', 'releases below ${1:20} %', 'of the rated volts, or in volts', 'load or coil'),
  offer('battery', 'battery ${1:7} Ah', 'the battery that stands behind it', 'supply'),
  offer('standby', 'standby ${1:4} h', 'how long the battery is wanted to last', 'supply'),
  offer('budget', 'budget ${1:60} W', 'what its outputs share', 'supply'),
  offer('breaker', 'breaker ${1:15} A', 'of a branch circuit', 'supply'),
  offer('existing load', 'existing load ${1:6} A', 'what a branch circuit feeds already', 'supply'),
  offer('circuit', 'circuit "${1:7}"', 'its number in the panel', 'supply'),
  offer('accepts', 'accepts ${1:20} AWG or thicker', 'conductor sizes its terminals take'),
  offer('lands', 'lands ${1:terminal} on $2', "its own lead on another part's terminal"),
  offer('outdoor', 'outdoor', 'marked for outdoor use'),
  offer('listed', 'listed $1', 'a marking'),
];

/** Facts in the braces of each statement. */
export const FACTS: Readonly<Record<string, readonly Offered[]>> = {
  supply: PART_FACTS,
  device: PART_FACTS,
  place: [
    offer('outdoor', 'outdoor', 'in the open'),
    offer('wet', 'wet', 'a wet place'),
    offer('concealed', 'concealed', 'not reachable without opening something'),
    offer('temperature', 'temperature ${1:50} degC', 'the warmest it gets'),
  ],
  splice: [offer('holds', 'holds ${1:2}..${2:3} of ${3:18} AWG', 'what the connector takes')],
  run: [
    offer('loop', 'loop ${1:1.2} ohm', 'measured out and back, in place of a length'),
    offer('beside', 'beside ${1:run}, ${2:2} in', 'spacing from a line-voltage run'),
    offer('raceway', 'raceway', 'drawn into a raceway or conduit'),
  ],
  box: [
    offer('volume', 'volume ${1:18} in3', 'stamped into it'),
    offer('metal', 'metal', 'it has to be grounded'),
    offer('clamps', 'clamps', 'clamps inside'),
    offer('barrier', 'barrier', 'between line side and low voltage'),
  ],
  jumper: [],
  pigtail: [],
};

/** What the shipped types say they are for. */
export const ROLES: readonly string[] = [
  'bypass button camera chime contact detector diode doorbell fuse intercom keypad lamp lock relay release resistor',
  'siren strike thermostat valve',
].flatMap((line) => line.split(' '));

const TERMINAL = offer('terminal', 'terminal ${1:a}, ${2:b}', 'its terminals, in order');

/** What can sit between two terminals of a supply or a device. */
const ELEMENTS: readonly Offered[] = [
  offer(
    'coil',
    'coil ${1:a} to ${2:b} { as rated, power-factor ${3:0.7}, rings from ${4:70} %, hums from ${5:25} % }',
    'a magnet: a chime, a buzzer, a relay, a valve',
  ),
  offer('load', 'load ${1:a} to ${2:b} { draws ${3:3} W, peaks ${4:8} W, stays-on from ${5:10} V }', 'electronics'),
  offer('contact', 'contact ${1:a} to ${2:b} ${3|momentary,maintained|}', 'a button, a switch, what a relay closes'),
  offer('resistor', 'resistor ${1:a} to ${2:b} { ${3:25} ohm, ${4:10} W }', 'ohms, and the watts it bears'),
  offer('lamp', 'lamp ${1:a} to ${2:b} { ${3:16} V, ${4:1} W }', 'a filament'),
  offer('impedance', 'impedance ${1:a} to ${2:b} { ${3:5} ohm, reactance ${4:7} ohm }', 'resistance and reactance'),
  offer('bypass', 'bypass ${1:a} to ${2:b} { ${3:3} ohm, opens above ${4:0.8} A }', 'a chime bypass kit'),
  offer('diode', 'diode ${1:a} to ${2:b}', 'lets through from the first to the second'),
  offer('link', 'link ${1:a} to ${2:b}', 'joined inside'),
];

/** Facts and elements in the braces of each kind of type. */
export const TYPE_FACTS: Readonly<Record<string, readonly Offered[]>> = {
  supply: [
    TERMINAL,
    offer('winding', 'winding ${1:a} to ${2:b} { as rated }', 'a source'),
    offer('primary', 'primary ${1:line} to ${2:neutral}', 'what feeds the windings'),
    ...ELEMENTS,
    ...PART_FACTS.filter(({ only }) => only === undefined || ['supply', 'contacts'].includes(only)),
  ],
  device: [
    TERMINAL,
    ...ELEMENTS,
    offer('role', `role \${1|${ROLES.join(',')}|}`, 'what it is for'),
    ...PART_FACTS.filter(({ only }) => only === undefined || ['device', 'ring', 'contacts'].includes(only)),
  ],
  cable: [
    offer('conductors', 'conductors ${1:18} AWG ${2:red}, ${3:white}', 'size and colours'),
    offer('resistance', 'resistance ${1:21} ohm per km', 'of each conductor at 20 degC'),
    offer('listed', 'listed ${1:CL2}', 'a marking'),
    offer('stranded', 'stranded', ''),
    offer('shielded', 'shielded', ''),
    offer('outdoor', 'outdoor', ''),
    offer('direct-burial', 'direct-burial', ''),
    offer('copper-clad aluminium', 'copper-clad aluminium', ''),
    offer('with ground', 'with ground', ''),
  ],
};

/** Facts in the braces of an element. */
export const ELEMENT_FACTS: Readonly<Record<string, readonly Offered[]>> = {
  winding: [
    offer('as rated', 'as rated', "the part's own figures"),
    offer('no-load', 'no-load ${1:20} V', ''),
    offer('taps', 'taps ${1:0}, ${2:8}, ${3:16} V', ''),
    offer('phase', 'phase ${1:180} deg', ''),
    offer('reactance', 'reactance ${1:1} ohm', ''),
  ],
  primary: [],
  coil: [
    offer('as rated', 'as rated', "the part's own figures"),
    offer('power-factor', 'power-factor ${1:0.7}', ''),
    offer('rings from', 'rings from ${1:70} %', 'of the rated volts'),
    offer('hums from', 'hums from ${1:25} %', 'of the rated amps'),
    offer('hums off', 'hums off', 'meant to buzz'),
    offer('dc', 'dc ${1:6} ohm', 'what an ohm-meter sees'),
    offer('pulls-in from', 'pulls-in from ${1:80} %', 'of the rated volts, or in volts'),
    offer('inrush', 'inrush ${1:40} VA', 'what it takes until its armature is home'),
    offer('releases below', 'releases below ${1:20} %', 'of the rated volts, or in volts'),
  ],
  load: [
    offer('draws', 'draws ${1:3} W', 'at rest'),
    offer('peaks', 'peaks ${1:8} W', 'when it is busiest'),
    offer('power-factor', 'power-factor ${1:0.6}', ''),
    offer('stays-on from', 'stays-on from ${1:10} V', 'off below'),
    offer('releases below', 'releases below ${1:3} V', 'what it holds is let go below'),
  ],
  impedance: [offer('reactance', 'reactance ${1:7} ohm', '')],
  bypass: [offer('opens above', 'opens above ${1:0.8} A', '')],
  lamp: [offer('as rated', 'as rated', "the part's own figures")],
  resistor: [],
  diode: [],
  link: [],
};

/** What an element's own bare figures are, in order; none of them where it is as rated. */
export const OWN_FIGURES: Readonly<Record<string, readonly string[]>> = {
  winding: ['volts', 'VA'],
  primary: ['volts'],
  coil: ['volts', 'VA'],
  resistor: ['ohms', 'watts'],
  lamp: ['volts', 'watts'],
  impedance: ['ohms'],
  bypass: ['ohms'],
};

const VOLTS = ['V AC', 'V DC', 'V'];

/** Units that fit after a number, by the fact's words, the likeliest first. */
const UNITS_OF_FACT: Readonly<Record<string, readonly string[]>> = {
  output: [...VOLTS, 'VA', 'A', 'mA'],
  'no-load': ['V'],
  accepts: ['AWG', 'mm2'],
  'measured open': ['V'],
  measured: ['V', 'A', 'mA'],
  needs: ['VA'],
  rating: [...VOLTS, 'VA', 'W', 'A', 'mA'],
  limits: ['V'],
  temperature: ['degC', 'degF'],
  holds: ['AWG', 'mm2'],
  volume: ['in3', 'cm3'],
  loop: ['ohm'],
  beside: ['in', 'mm', 'cm'],
  conductors: ['AWG', 'mm2'],
  resistance: ['ohm per km', 'ohm per m', 'ohm'],
  breaker: ['A'],
  existing: ['A'],
  phase: ['deg'],
  reactance: ['ohm'],
  rings: ['%'],
  hums: ['%'],
  'stays-on': ['V'],
  draws: ['W', 'VA', 'mA', 'A'],
  peaks: ['W', 'VA', 'mA', 'A'],
  opens: ['A', 'mA'],
  taps: ['V'],
  dc: ['ohm'],
  'pulls-in': ['%', 'V'],
  releases: ['%', 'V'],
  inrush: ['VA', 'A'],
  battery: ['Ah', 'mAh'],
  standby: ['h', 'min'],
  budget: ['W'],
};

/** Units of an element's own bare figures. */
const UNITS_OF_ELEMENT: Readonly<Record<string, readonly string[]>> = {
  winding: [...VOLTS, 'VA', 'A'],
  primary: [...VOLTS],
  coil: [...VOLTS, 'VA', 'A'],
  resistor: ['ohm', 'kohm', 'W'],
  lamp: [...VOLTS, 'W', 'A', 'mA'],
  impedance: ['ohm'],
  bypass: ['ohm'],
};

export function lengthUnits(metric: boolean): readonly string[] {
  return metric ? ['m', 'cm', 'ft'] : ['ft', 'in', 'm'];
}

/** `words` are the lower-case words of the fact so far, `element` the element in whose braces it stands. */
export function unitsAfter(words: readonly string[], element: string | undefined): readonly string[] {
  const own = UNITS_OF_FACT[words.slice(0, 2).join(' ')] ?? UNITS_OF_FACT[words[0] ?? ''];
  // A fact has its volts once.
  const others = words.includes('v') ? own?.filter((unit) => !VOLTS.includes(unit)) : undefined;
  if (own) return others?.length ? others : own;
  return element === undefined ? [] : (UNITS_OF_ELEMENT[element] ?? []);
}
