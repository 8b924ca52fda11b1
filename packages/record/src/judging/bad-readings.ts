/** Readings that can't be right whatever the house: the slip is in the reading, and no fault is looked for behind it. */

import { type Analysis, pointOf } from '../analysis-types.js';
import type { MeterPoint, Reading, Sign } from '../readings-types.js';
import { mainsOf } from '../resolve/mains.js';
import { meterPointName, readingPlaceWords, readingShownWords, readingStateWords } from './reading-words.js';
import { volts } from './units.js';
import { quote } from './words.js';

/** What a meter still shows on wires that nothing feeds: common practice, no source. */
const STRAY_VOLTS = 2;
/** Beyond every supply's no-load volts together with mains as high as they come: common practice, no source. */
const ABOVE_ALL_SUPPLIES = 1.2;
/** A mains reading outside of these shares of the nominal is one of something else; about none is a dead outlet. Common practice, no source. */
const MAINS_SHARES = { none: 0.1, least: 0.6, most: 1.3 } as const;

export interface BadReading {
  /** A sentence without a full stop. */
  readonly why: string;
  /** Something may be live that should not be. */
  readonly danger: boolean;
}

/** Why a reading can't be right; undefined where it can. */
export function badReading(analysis: Analysis, reading: Reading): BadReading | undefined {
  const { of, state } = reading;
  const slip = (why: string): BadReading => ({ why, danger: false });
  const shown = readingShownWords(of);
  if (of.kind === 'sign') {
    const why = whyNoSign(analysis, of.part, of.shows);
    return why === undefined ? undefined : slip(why);
  }
  if (of.kind === 'mains') {
    const nominal = mainsOf(analysis.installation.profile).mainsVolts;
    const share = of.volts / nominal;
    if (share <= MAINS_SHARES.most && (share >= MAINS_SHARES.least || share <= MAINS_SHARES.none)) return undefined;
    return slip(`${shown} is no reading of ${nominal} V mains: say across which points it was taken`);
  }
  const points = of.kind === 'amps' ? [of.through] : of.between;
  for (const point of points) {
    const why = whyNotThere(analysis, point);
    if (why !== undefined) return slip(why);
  }
  if (of.kind === 'amps') {
    if (state.kind !== 'off' || of.amps < 0.005) return undefined;
    return { why: `the supplies are isolated, and ${shown} was read: something still feeds it`, danger: true };
  }
  const [a, b] = of.between;
  const isSome = of.kind === 'volts' ? of.volts > STRAY_VOLTS : of.ohms === null;
  if (isSome && isSamePoint(a, b))
    return slip(`both probes are on ${quote(meterPointName(a))}, and ${shown} was read between them`);
  if (of.kind !== 'volts' || of.volts <= STRAY_VOLTS) return undefined;
  const place = readingPlaceWords(of);
  if (state.kind === 'off')
    return {
      why: `${shown} was read ${place} with the supplies isolated: something still feeds it, and it is not dead`,
      danger: true,
    };
  if (of.between.some((point) => isLineSide(analysis, point))) return undefined;
  const most = allSuppliesVolts(analysis);
  if (most !== undefined && of.volts > most * ABOVE_ALL_SUPPLIES) {
    const why = `${shown} was read ${place} ${readingStateWords(analysis, reading)}, and all supplies of this record together give ${volts(most)}: the unit is wrong, or something else feeds these wires`;
    return { why, danger: true };
  }
  if (of.system === 'DC' && !givesDc(analysis))
    return slip(
      `${shown} was read ${place}, and nothing in this record gives DC: the meter was to be set to volts AC, or a supply of another kind is in`,
    );
  return undefined;
}

function isSamePoint(a: MeterPoint, b: MeterPoint): boolean {
  return meterPointName(a) === meterPointName(b);
}

function whyNotThere({ runs }: Analysis, point: MeterPoint): string | undefined {
  if (point.kind === 'end' || point.at === undefined) return undefined;
  const run = runs.get(point.run)?.run;
  const ends = [run?.fromPlace, run?.toPlace].filter((place) => place !== undefined);
  if (ends.length < 2 || ends.includes(point.at)) return undefined;
  return `${quote(point.run)} goes from ${quote(ends[0]!)} to ${quote(ends[1]!)}, and has no end at ${quote(point.at)}`;
}

/** What makes a sound or a light, by kind of element; electronics may do either. */
const SOUNDS = new Set(['coil', 'load', 'winding', 'bypass']);
const LIGHTS = new Set(['lamp', 'load', 'resistor']);

function whyNoSign({ parts }: Analysis, name: string, shows: Sign): string | undefined {
  const part = parts.get(name);
  // A part without any element in the circuit may be anything.
  if (part?.type === undefined || part.elements.length === 0) return undefined;
  const isLight = shows === 'dark' || shows === 'lit';
  const kinds = isLight ? LIGHTS : SOUNDS;
  if (part.elements.some(({ element }) => kinds.has(element.kind))) return undefined;
  return isLight
    ? `nothing in ${quote(name)} lights up, so ${shows === 'dark' ? 'that it is dark tells nothing' : 'it is not what is lit'}`
    : `nothing in ${quote(name)} makes a sound, so ${shows === 'silent' ? 'that it is silent tells nothing' : `it is not what ${shows}`}`;
}

function isLineSide({ parts }: Analysis, point: MeterPoint): boolean {
  if (point.kind !== 'end') return false;
  const terminal = parts.get(point.end.part)?.terminals.find(({ name }) => name === point.end.terminal);
  return terminal?.lineSide !== undefined;
}

/** Undefined where the volts of some supply are not known. */
function allSuppliesVolts({ elements }: Analysis): number | undefined {
  let sum = 0;
  for (const element of elements.values()) {
    if (element.element.kind !== 'winding') continue;
    if (element.noLoadVolts === undefined) return undefined;
    sum += element.noLoadVolts;
  }
  return sum > 0 ? sum : undefined;
}

function givesDc({ elements }: Analysis): boolean {
  return [...elements.values()].some(({ element, system }) => element.kind === 'diode' || system === 'DC');
}

/** Readings taken in one block that can't both, or all, be right. */
export interface Contradiction {
  /** Positions in the block; the last is the one it is said of. */
  readonly among: readonly number[];
  /** A sentence without a full stop. */
  readonly why: string;
}

/** The meter's own share where none is stated: 2 % and 0.2 V, common practice. */
const METER_SHARE = 0.02;
const METER_VOLTS = 0.2;
const METER_OHMS = 0.5;
const METER_AMPS = 0.02;

export function contradictions(analysis: Analysis, readings: readonly Reading[]): readonly Contradiction[] {
  const found: Contradiction[] = [];
  const told = new Set<number>();
  readings.forEach((later, last) => {
    const first = readings.slice(0, last).findIndex((earlier) => isOfTheSame(earlier, later) && !agree(earlier, later));
    if (first < 0) return;
    told.add(last);
    const place = later.of.kind === 'sign' ? quote(later.of.part) : readingPlaceWords(later.of);
    const [was, is] = [readings[first]!, later].map(({ of }) => readingShownWords(of));
    const why = `${was} and ${is} were noted of one thing, ${place} ${readingStateWords(analysis, later)}`;
    found.push({ among: [first, last], why });
  });
  for (const three of triangles(readings)) {
    if (three.some((index) => told.has(index))) continue;
    const sides = three.map((index) => ({ index, ...figureOf(readings[index]!)! }));
    const [longest, ...others] = [...sides].sort((x, y) => y.value - x.value);
    const sum = others.reduce((total, side) => total + side.value + side.tolerance, 0);
    if (longest!.value - longest!.tolerance <= sum) continue;
    const words = (index: number) => {
      const { of } = readings[index]!;
      return `${readingShownWords(of)} ${readingPlaceWords(of)}`;
    };
    const why = `${words(longest!.index)} is more than the two others on the same three points give together, ${others.map(({ index }) => words(index)).join(' and ')}`;
    found.push({ among: [...three].sort((x, y) => x - y), why });
  }
  return found;
}

function keyOfState({ state }: Reading): string {
  return state.kind === 'off' ? 'off' : `live ${state.pressed.join()} ${(state.bridged ?? []).join()}`;
}

function pairOf(between: readonly [MeterPoint, MeterPoint]): string {
  return between.map(meterPointName).sort().join(' ');
}

function isOfTheSame(one: Reading, other: Reading): boolean {
  const [a, b] = [one.of, other.of];
  if (a.kind === 'mains' || b.kind === 'mains') return a.kind === b.kind;
  if (keyOfState(one) !== keyOfState(other)) return false;
  if (a.kind === 'sign' && b.kind === 'sign') {
    // One note may ring while another does not.
    return a.part === b.part && isLight(a.shows) === isLight(b.shows) && a.note === b.note;
  }
  if (a.kind === 'amps' && b.kind === 'amps') return meterPointName(a.through) === meterPointName(b.through);
  if (a.kind === 'volts' && b.kind === 'volts')
    return pairOf(a.between) === pairOf(b.between) && (a.system ?? b.system) === (b.system ?? a.system);
  return a.kind === 'ohms' && b.kind === 'ohms' && pairOf(a.between) === pairOf(b.between);
}

function isLight(shows: Sign): boolean {
  return shows === 'dark' || shows === 'lit';
}

/** Ohms from which a meter may show OL as well: common practice, no source. */
const NEARLY_OPEN_OHMS = 1e6;

function agree(one: Reading, other: Reading): boolean {
  if (one.of.kind === 'sign' && other.of.kind === 'sign') return one.of.shows === other.of.shows;
  const [a, b] = [figureOf(one), figureOf(other)];
  if (a && b) return Math.abs(a.value - b.value) <= a.tolerance + b.tolerance;
  return (a ?? b) === undefined || (a ?? b)!.value >= NEARLY_OPEN_OHMS;
}

function figureOf({ of, within }: Reading): { readonly value: number; readonly tolerance: number } | undefined {
  const as = (value: number, floor: number) => {
    const stated = within && ('share' in within ? within.share * value : within.figure);
    return { value, tolerance: stated ?? METER_SHARE * value + floor };
  };
  if (of.kind === 'mains' || of.kind === 'volts') return as(of.volts, METER_VOLTS);
  if (of.kind === 'amps') return as(of.amps, METER_AMPS);
  return of.kind === 'ohms' && of.ohms !== null ? as(of.ohms, METER_OHMS) : undefined;
}

/** Volts between three points two by two, in one state: none of the three is more than the other two together. */
function triangles(readings: readonly Reading[]): readonly (readonly [number, number, number])[] {
  const sides = readings.flatMap(({ of, state }, index) => {
    if (of.kind !== 'volts' || state.kind === 'off') return [];
    const [a, b] = of.between.map(meterPointName);
    return a === b ? [] : [{ index, a: a!, b: b!, state: keyOfState(readings[index]!), system: of.system ?? '' }];
  });
  const found: [number, number, number][] = [];
  for (const [i, one] of sides.entries()) {
    for (const [j, two] of sides.entries()) {
      if (j <= i || one.state !== two.state || one.system !== two.system) continue;
      const shared = [one.a, one.b].filter((point) => point === two.a || point === two.b);
      if (shared.length !== 1) continue;
      const ends = [one.a, one.b, two.a, two.b]
        .filter((point) => point !== shared[0])
        .sort()
        .join(' ');
      for (const three of sides.slice(j + 1)) {
        const isThird = [three.a, three.b].sort().join(' ') === ends;
        if (isThird && three.state === one.state && three.system === one.system)
          found.push([one.index, two.index, three.index]);
      }
    }
  }
  return found;
}

/** The part, run or splice that a reading is mostly about, then the others. */
export function partsOfReading({ of, state }: Reading): readonly string[] {
  const nameOf = (point: MeterPoint) => (point.kind === 'end' ? pointOf(point.end).split('.')[0]! : point.run);
  const measured =
    of.kind === 'mains'
      ? []
      : of.kind === 'sign'
        ? [of.part]
        : of.kind === 'amps'
          ? [nameOf(of.through)]
          : of.between.map(nameOf);
  const pressed =
    state.kind === 'live' ? [...state.pressed, ...(state.bridged ?? [])].map((contact) => contact.split('.')[0]!) : [];
  return [...new Set([...measured, ...pressed])];
}
