/** What people write by habit where the notation has another mark or word, and what to write in its place. */

import { nearestNames } from './nearest.js';
import { factWordsOf, homeOfFact } from './syntax-words.js';
import { isWordy, STATEMENT_WORDS, type Token } from './tokens.js';
import { unitOf } from './units.js';

export interface Mend {
  /** Goes on after "… does not belong here:". */
  readonly mend: string;
  /** What to write in place of it, where that alone mends the line. */
  readonly write?: string;
}

/** A mark or word with what stands around it in its statement. */
interface Around {
  readonly found: string;
  readonly offset: number;
  /** The statement word. */
  readonly word: string;
  readonly before: Token | undefined;
  readonly after: Token | undefined;
  readonly inBraces: boolean;
}

const BETWEEN_ENDS: ReadonlySet<string> = new Set([
  '-',
  '--',
  '->',
  '-->',
  '=>',
  '=',
  '>',
  '\u2192',
  '\u2013',
  '\u2014',
]);
const LEAVE_OUT = 'leave it out';
const END_BY_ITSELF = `a line ends by itself, so ${LEAVE_OUT}`;
const WAY_OF_RUN = 'a run goes `from PLACE to PLACE`, and its length stands after a comma';

/** The text from a token on that is right behind it without a space. */
function touchesBefore({ before, offset }: Around): boolean {
  return before !== undefined && before.startOffset + before.image.length === offset;
}

function touchesAfter({ after, offset, found }: Around): boolean {
  return after !== undefined && after.startOffset === offset + found.length;
}

function holdsEnds({ word, inBraces }: Around): boolean {
  return (word === 'run' && inBraces) || word === 'jumper' || word === 'pigtail';
}

function isNumber(token: Token | undefined): boolean {
  return token !== undefined && /^\d/.test(token.image);
}

/** For a mark that is not part of the notation, or not at that place. */
export function mendOfMark(around: Around): Mend | undefined {
  const { found, before, after, word, inBraces } = around;
  const unitBefore = before !== undefined && (before.image === '%' || unitOf(before.image) !== undefined);
  if (holdsEnds(around)) {
    if ((found === '/' || found === ':') && touchesBefore(around) && touchesAfter(around)) {
      return { mend: `a terminal stands after a dot, as in \`${before!.image}.${after!.image}\``, write: '.' };
    }
    if (BETWEEN_ENDS.has(found)) {
      const write = `${touchesBefore(around) ? ' ' : ''}to${touchesAfter(around) ? ' ' : ''}`;
      return { mend: 'between two ends stands `to`', write };
    }
  }
  const figureBefore = unitBefore || /^(ac|dc)$/i.test(before?.image ?? '');
  if (['+', '@', '/', '&'].includes(found) && figureBefore && isNumber(after)) {
    return { mend: 'a comma stands between two figures', write: ',' };
  }
  switch (found) {
    case ';':
      return { mend: END_BY_ITSELF };
    case '--':
      return { mend: 'a comment starts with `//`', write: '//' };
    case '=':
      return { mend: `a fact and its figure stand side by side, so ${LEAVE_OUT}` };
    case ':':
      if (word === 'splice' && !inBraces) return { mend: 'a splice has no type' };
      return inBraces ? { mend: `a word and what it says stand side by side, so ${LEAVE_OUT}` } : undefined;
    case ',':
      return word === 'place' ? { mend: 'each place has a line of its own' } : undefined;
    case "'":
    case '`':
      return { mend: 'text stands in straight double quotes, as in `"Entry bell"`' };
    case '(':
    case ')':
    case '[':
    case ']':
      return { mend: 'facts stand in braces, as in `{ outdoor }`' };
    case '~':
    case '\u2248':
      if (unitBefore) return { mend: 'alternating current is written `AC`', write: 'AC' };
      return {
        mend: 'a figure that was not measured has `about` before it',
        write: touchesAfter(around) ? 'about ' : 'about',
      };
    case '+-':
    case '+/-':
    case '\u00b1':
      return { mend: 'write the figure alone, or a range such as `16..24 V` where one fits' };
    case '+':
      return unitBefore ? { mend: 'what is thicker too is written `or thicker`', write: ' or thicker' } : undefined;
    case '-':
    case '\u2013':
      if (unitBefore && isNumber(after)) return { mend: 'a range has its unit once, as in `16..24 V`' };
      if (!inBraces && isNumber(before) && touchesBefore(around)) return { mend: 'a name starts with a letter' };
      return word === 'run' && !inBraces ? { mend: WAY_OF_RUN } : undefined;
    case '.':
    case '..':
      if (isNumber(after) || (isNumber(before) && after?.image === '.'))
        return { mend: 'a range has two dots, as in `16..24 V`' };
      return !inBraces && after === undefined ? { mend: END_BY_ITSELF } : undefined;
    default:
      return undefined;
  }
}

/** For a word or a number that nothing in its statement takes. */
export function mendOfWord(around: Around): Mend | undefined {
  const { found, before, word, inBraces } = around;
  const lower = found.toLowerCase();
  if (/^\d/.test(found)) {
    const startsFact = inBraces && (before === undefined || ['{', ',', ''].includes(before.image));
    return startsFact ? { mend: `a fact starts with its word, as in \`${factExample(word)}\`` } : undefined;
  }
  if (holdsEnds(around)) {
    if (before?.image.toLowerCase() === 'to') return { mend: 'between two ends `to` stands once' };
    const joins = lower === 'to' || lower === 'and';
    return joins ? { mend: 'a conductor has two ends, and a splice joins it to more' } : undefined;
  }
  if (inBraces) {
    if (lower === 'and' && before !== undefined && /^(ac|dc)$|^[a-z]+$/i.test(before.image))
      return { mend: 'a comma stands between two figures', write: ',' };
    if (['nc', 'normally', 'closed'].includes(lower))
      return {
        mend: 'a contact that is closed at rest is `normally-closed`',
        ...(lower === 'nc' ? { write: 'normally-closed' } : {}),
      };
    if (lower === 'tap') return { mend: "the tap's terminal comes before its figures, as in `output 8 8 V, 1 A`" };
    if (lower === 'ac' || lower === 'dc') return { mend: 'a figure is AC or DC, not both' };
    const isRange = lower === 'to' && before !== undefined && (isNumber(before) || unitOf(before.image) !== undefined);
    return isRange ? { mend: 'a range has two dots and its unit once, as in `16..24 V`' } : undefined;
  }
  if (STATEMENT_WORDS.includes(lower)) return { mend: 'it starts a statement, which goes on a line of its own' };
  if ((lower === 'at' || lower === 'on') && word !== 'run') return { mend: 'a place follows `in`', write: 'in' };
  if (word === 'run') {
    const saysGauge = /^(awg|gauge|ga)$/.test(lower) && before !== undefined && /^\d+[-/]\d+$/.test(before.image);
    return { mend: saysGauge ? `\`${before.image}\` says the gauge already, so ${LEAVE_OUT}` : WAY_OF_RUN };
  }
  return factWordsOf(word, []).includes(lower) ? { mend: `facts stand in braces, as in \`{ ${lower} }\`` } : undefined;
}

function factExample(word: string): string {
  if (word === 'supply') return 'output 16 V AC, 10 VA';
  return word === 'device'
    ? 'rating 16 V AC, 10 VA'
    : word === 'place'
      ? 'temperature 50 degC'
      : 'installed 2026-11-20';
}

/** Other words for the facts. */
const MEANT_FACTS: Readonly<Record<string, readonly string[]>> = {
  voltage: ['rating', 'output'],
  volts: ['rating', 'output'],
  power: ['rating', 'output', 'draws', 'power-factor'],
  motor: ['load'],
  heater: ['load'],
  electronics: ['load'],
  solenoid: ['coil'],
  relay: ['coil'],
  switch: ['contact'],
  button: ['contact'],
  watts: ['rating', 'output'],
  current: ['rating', 'output'],
  va: ['rating', 'output'],
  rated: ['rating', 'output'],
  comment: ['note'],
  remark: ['note'],
  description: ['note'],
  maker: ['label'],
  model: ['label'],
  brand: ['label'],
  picture: ['photo'],
  date: ['installed'],
  outside: ['outdoor'],
  outdoors: ['outdoor'],
  temp: ['temperature'],
  open: ['measured', 'no-load'],
};

/** Of a fact that does not belong where it stands: words that were meant, or where it belongs. */
export function meantFact(
  token: Token,
  rules: readonly string[],
  word: string,
  noun: string,
): { readonly nearest: readonly string[]; readonly mend?: string } {
  const written = token.image.toLowerCase();
  const known = factWordsOf(word, rules);
  const closing = `close the braces of ${noun} before it, and move \`${token.image}\` to the start of a line`;
  const home = homeOfFact(written);
  if (STATEMENT_WORDS.includes(written)) return { nearest: [], mend: closing };
  if (written === 'length' && word === 'run') {
    return { nearest: [], mend: 'the length stands in its first line, as in `: 18/2, 9 m`' };
  }
  const meant = (MEANT_FACTS[written] ?? []).filter((fact) => known.includes(fact));
  if (meant.length > 0) {
    if (!meant.includes('rating')) return { nearest: meant };
    return { nearest: [word === 'supply' ? 'output' : 'rating'] };
  }
  if (home !== undefined) return { nearest: [], mend: home };
  return { nearest: nearestNames(token.image, known) };
}

/** Other words for the statements. */
const MEANT_STATEMENTS: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries({
    device: 'switch button chime bell doorbell camera buzzer relay lamp thermostat',
    supply: 'transformer source power adaptor adapter psu',
    run: 'wire wires conductor line lead',
    place: 'room location area floor',
    splice: 'joint junction connector wirenut wire-nut nut',
    wiring: 'title record name',
    import: 'include',
    jumper: 'bridge link',
  }).flatMap(([statement, words]) => words.split(' ').map((word) => [word, statement])),
);

export function meantStatements(found: string): readonly string[] {
  const type = /^(?:(device|supply|cable)[-_]?)?type$/i.exec(found);
  if (type) return type[1] ? [`${type[1].toLowerCase()} type`] : ['device type', 'supply type', 'cable type'];
  const meant = MEANT_STATEMENTS[found.toLowerCase()];
  return meant === undefined ? nearestNames(found, STATEMENT_WORDS) : [meant];
}

/** `: 18 AWG`, a conductor's size where a cable belongs. */
function isBareSize({ found, before, after, word, inBraces }: Around): boolean {
  if (inBraces || word !== 'run' || before?.image !== ':' || !/^[\d.]+$/.test(found)) return false;
  return /^(awg|gauge|ga|mm2|mm\u00b2)$/i.test(after?.image ?? '');
}

/** For what stands where something else belongs. */
export function mendOfExpected(around: Around, missing: string): Mend | undefined {
  const { found, before, after, word, inBraces } = around;
  const lower = found.toLowerCase();
  const previous = before?.image.toLowerCase() ?? '';
  if (found === ':' && inBraces) return mendOfMark(around);
  if (lower === 'ac' || lower === 'dc')
    return { mend: `\`${found}\` stands after the volts, as in \`16 V ${lower.toUpperCase()}\`` };
  if (/^(ca|approx|approximately|circa|roughly|around|est|estimated)$/.test(lower)) {
    return {
      mend: 'a figure that was not measured has `about` before it',
      ...(after?.image === '.' ? {} : { write: 'about' }),
    };
  }
  if (lower === 'length' && word === 'run' && !inBraces)
    return { mend: 'the figure alone is the length, as in `, 9 m`' };
  if (holdsEnds(around) && missing === '`to`') {
    if (previous === 'from')
      return { mend: `a conductor is its colour, one end, \`to\` and the other end; leave \`from\` out` };
    if (after?.image.toLowerCase() === 'to')
      return { mend: `a terminal stands after a dot, as in \`${before!.image}.${found}\`` };
    return undefined;
  }
  if (missing === '{' && isWordy(around.before!) && /^\p{L}/u.test(found))
    return { mend: 'words about it stand in straight quotes, as in `"Front bell"`' };
  if (isBareSize(around)) {
    const size = `${found} ${after!.image}`;
    const example = /^mm/i.test(after!.image) ? `2 x ${size}` : `${found}/2`;
    return { mend: `\`${size}\` leaves out how many conductors there are, as in \`${example}\`` };
  }
  if (missing === 'at') return { mend: 'a measurement is `measured open 17.9 V` or `measured 15.1 V at 0.62 A`' };
  if (missing === 'type' && word === 'cable')
    return { mend: 'one cable in the house is a `run`; a kind of cable is a `cable type`' };
  if (lower.startsWith('"') && missing !== 'STRING') return { mend: 'names stand without quotes and spaces' };
  return undefined;
}

/** `device hall chime : …`: the name that was meant as one word. */
export function brokenName(
  tokens: readonly Token[],
  at: number,
): { readonly name: string; readonly from: Token; readonly to: Token } | undefined {
  const colon = tokens.findIndex(({ image }, index) => index >= at && image === ':');
  if (at !== 2 || colon < 0 || colon > 5) return undefined;
  const words = tokens.slice(1, colon);
  if (!words.every((token) => isWordy(token) || /^\d+$/.test(token.image)) || !isWordy(words[0]!)) return undefined;
  return { name: words.map(({ image }) => image).join('-'), from: words[0]!, to: words.at(-1)! };
}
