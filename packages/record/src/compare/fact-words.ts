/** What a record says of a part, fact by fact, in the notation's words. */

import { formatGauge, formatNumber } from '@ohmstead/circuit';
import type {
  Box,
  ConductorSize,
  Figure,
  Output,
  Part,
  PartType,
  Place,
  Range,
  Rating,
  Run,
  Splice,
} from '../model.js';

export type FactWords = ReadonlyMap<string, string>;

const number = (value: number): string => formatNumber(value, 4);
const range = ({ least, most }: Range): string =>
  least === most ? number(least) : `${number(least)}..${number(most)}`;

function sizeWords(size: ConductorSize): string {
  if (size.kind === 'awg') return formatGauge({ awg: size.awg });
  return size.kind === 'area' ? formatGauge({ mm2: size.mm2 }) : formatGauge({ diameterMm: size.mm });
}

function outputWords({ tap, volts, system, voltAmperes, amps, frequency }: Output): string {
  const figures = [
    volts === undefined ? undefined : `${number(volts)} V${system ? ` ${system}` : ''}`,
    voltAmperes === undefined ? undefined : `${number(voltAmperes)} VA`,
    amps === undefined ? undefined : `${number(amps)} A`,
    frequency === undefined ? undefined : `${number(frequency)} Hz`,
  ].filter((one) => one !== undefined);
  return `${tap === undefined ? '' : `${tap} `}${figures.join(', ')}`;
}

function ratingWords({ volts, system, voltAmperes, watts, amps }: Rating): string {
  return [
    volts === undefined ? undefined : `${range(volts)} V${system ? ` ${system}` : ''}`,
    voltAmperes === undefined ? undefined : `${number(voltAmperes)} VA`,
    watts === undefined ? undefined : `${number(watts)} W`,
    amps === undefined ? undefined : `${number(amps)} A`,
  ]
    .filter((one) => one !== undefined)
    .join(', ');
}

function collect(entries: readonly (readonly [string, string | undefined])[]): FactWords {
  return new Map(entries.flatMap(([fact, words]) => (words === undefined || words === '' ? [] : [[fact, words]])));
}

function maybe<T>(value: T | undefined, words: (value: T) => string): string | undefined {
  return value === undefined ? undefined : words(value);
}

const quoted = (texts: readonly string[]): string => texts.map((text) => `"${text}"`).join(', ');

/** Only what the part itself states; `type` is there where the record declares its type itself. */
export function partFactWords({ facts }: Part, type: PartType | undefined): FactWords {
  const accepts = facts.accepts;
  const [thinnest, thickest] = [accepts?.thinnest, accepts?.thickest];
  return collect([
    ['declared type', type === undefined || type.shipped ? undefined : typeWords(type)],
    ['label', quoted(facts.labels)],
    ['output', facts.outputs.map(outputWords).join('; ')],
    ['no-load', maybe(facts.noLoadVolts, (volts) => `${number(volts)} V`)],
    ['regulated', facts.regulated ? 'yes' : undefined],
    ['rating', maybe(facts.rating, ratingWords)],
    ['limits', maybe(facts.limits, (limits) => `${range(limits)} V`)],
    [
      'needs supply',
      maybe(facts.needsSupply, ({ least, most }) =>
        most === undefined ? `${number(least)} VA or more` : `${range({ least, most })} VA`,
      ),
    ],
    ['ring', facts.ring],
    [
      'accepts',
      accepts &&
        (thinnest && thickest
          ? `${sizeWords(thinnest)} to ${sizeWords(thickest)}`
          : thinnest
            ? `${sizeWords(thinnest)} or thicker`
            : maybe(thickest, (size) => `${sizeWords(size)} or thinner`)),
    ],
    ['measured open', maybe(facts.measuredOpenVolts, (volts) => `${number(volts)} V`)],
    ['measured', maybe(facts.measuredLoaded, ({ volts, amps }) => `${number(volts)} V at ${number(amps)} A`)],
    ['together at most', maybe(facts.togetherAtMost, String)],
    ['never together', maybe(facts.neverTogether, (groups) => groups.map((group) => group.join(', ')).join('; '))],
    ['outdoor', facts.outdoor ? 'yes' : undefined],
    ['listed', maybe(facts.listed, (marks) => marks.join(', '))],
    ['installed', facts.installed],
    ['note', quoted(facts.notes)],
    ['photo', quoted(facts.photos)],
  ]);
}

/** A declared type in one line, so that two declarations under one name can be told apart. */
function typeWords({ terminals, elements, facts, role }: PartType): string {
  const figures = elements.map(
    ({ kind, a, b, asRated, ...own }) => `${kind} ${a} to ${b}${asRated ? ' as rated' : ''}${figuresOf(own)}`,
  );
  const ends = terminals.map(({ name, optional }) => (optional ? `${name} optional` : name)).join(', ');
  const rated = [...facts.outputs.map(outputWords), ...(facts.rating ? [ratingWords(facts.rating)] : [])];
  return [`terminals ${ends}`, ...figures, ...rated, ...(role === undefined ? [] : [role])].join('; ');
}

function figuresOf(own: object): string {
  const said = Object.entries(own).filter(([, value]) => value !== undefined && value !== false);
  return said.length === 0 ? '' : ` ${said.map(([name, value]) => `${name} ${JSON.stringify(value)}`).join(', ')}`;
}

export function spliceFactWords({ holds, notes }: Splice): FactWords {
  const { least, most, size } = holds ?? {};
  const count = least === undefined ? undefined : least === most ? String(least) : `${least}..${most}`;
  return collect([
    ['holds', maybe(count, (words) => `${words}${size ? ` of ${sizeWords(size)}` : ''}`)],
    ['note', quoted(notes)],
  ]);
}

/** Length and places have their own entries in a comparison. */
export function runFactWords({ cable, loopOhms, length, notes }: Run): FactWords {
  return collect([
    ['loop', maybe(loopOhms, (figure) => `${about(figure)}${number(figure.value)} ohm`)],
    ['length', length?.about ? 'estimated' : undefined],
    ['cable', cable && cableWords(cable)],
    ['note', quoted(notes)],
  ]);
}

const about = (figure: Figure): string => (figure.about ? 'about ' : '');

/** What a cable is, whatever it is called. */
export function cableWords(cable: NonNullable<Run['cable']>): string {
  const traits = [
    cable.stranded ? 'stranded' : '',
    cable.material === 'copper' ? '' : cable.material,
    cable.withGround ? 'with ground' : '',
    cable.shielded ? 'shielded' : '',
    cable.outdoor ? 'outdoor' : '',
    cable.directBurial ? 'direct-burial' : '',
    ...cable.listed.map((mark) => `listed ${mark}`),
    cable.ohmsPerMetre === undefined ? '' : `${number(cable.ohmsPerMetre * 1000)} ohm per km`,
  ].filter((trait) => trait !== '');
  return [`${cable.size ? sizeWords(cable.size) : 'no size'}: ${cable.colours.join(', ')}`, ...traits].join(', ');
}

const CUBIC_INCH = 16.387064;

/** Boxes are marked in whole or half cubic inches, or in cubic centimetres. */
function volumeWords(cubicCentimetres: number): string {
  const inches = cubicCentimetres / CUBIC_INCH;
  const isInches = Math.abs(inches * 2 - Math.round(inches * 2)) < 0.01;
  return isInches ? `${number(inches)} in3` : `${number(cubicCentimetres)} cm3`;
}

/** `box`: the enclosure that the place is, if it is one. */
export function placeFactWords({ words, outdoor, wet, concealed, temperature }: Place, box?: Box): FactWords {
  return collect([
    ['volume', maybe(box?.volume, volumeWords)],
    ['metal', box?.metal ? 'yes' : undefined],
    ['clamps', box?.clamps ? 'yes' : undefined],
    ['barrier', box?.barrier ? 'yes' : undefined],
    ['words', words],
    ['outdoor', outdoor ? 'yes' : undefined],
    ['wet', wet ? 'yes' : undefined],
    ['concealed', concealed ? 'yes' : undefined],
    ['temperature', maybe(temperature, (degrees) => `${number(degrees)} degC`)],
  ]);
}
