/** Readings that can't be right whatever the house: the slip is in the reading, and no fault is looked for behind it. */

import { piecesOf } from '../analyse/analyse.js';
import { Beside } from '../analyse/beside.js';
import { keptWith } from '../analyse/lazily.js';
import { type Analysis, type CircuitAnalysis, pointOf, partNameOf } from '../analysis-types.js';
import type { MeterPoint, Reading, ReadingOf, Sign } from '../readings-types.js';
import { mainsOf } from '../resolve/mains.js';
import { meterPointName, readingPlaceWords, readingShownWords, readingStateWords } from './reading-words.js';
import { volts } from './units.js';
import { quote } from './words.js';

/** What a meter still shows on wires that nothing feeds: common practice, no source. */
const STRAY_VOLTS = 2;
/** Beyond every supply's no-load volts together, were each of them one of half as many volts again, and never below so many: common practice, no source. */
const ABOVE_ALL_SUPPLIES = 1.8;
const NEVER_BELOW_VOLTS = 52;
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
  if (of.kind === 'ohms') return badOhms(of, state.kind === 'off');
  if (of.kind === 'amps') {
    if (state.kind !== 'off' || Math.abs(of.amps) < 0.005) return undefined;
    return { why: `the supplies are isolated, and ${shown} was read: something still feeds it`, danger: true };
  }
  return badVolts(analysis, reading, of);
}

function badOhms({ between: [a, b], ohms }: Extract<ReadingOf, { kind: 'ohms' }>, isOff: boolean) {
  const slip = (why: string): BadReading => ({ why, danger: false });
  if (ohms !== null && !(ohms >= 0)) return slip('ohms are never less than none');
  if (!isOff)
    return slip('ohms are read with the supplies isolated: what a meter shows on a live circuit means nothing');
  if (ohms !== null || !isSamePoint(a, b)) return undefined;
  return slip(`both probes are on ${quote(meterPointName(a))}, and OL was read between them`);
}

function badVolts(
  analysis: Analysis,
  reading: Reading,
  of: Extract<ReadingOf, { kind: 'volts' }>,
): BadReading | undefined {
  const slip = (why: string): BadReading => ({ why, danger: false });
  const shown = readingShownWords(of);
  const size = Math.abs(of.volts);
  const [a, b] = of.between;
  if (!Number.isFinite(size)) return slip('it is no figure');
  if (size > STRAY_VOLTS && isSamePoint(a, b))
    return slip(`both probes are on ${quote(meterPointName(a))}, and ${shown} was read between them`);
  const place = readingPlaceWords(of);
  const system = systemAt(analysis, a);
  if (of.volts < 0 && (of.system ?? system) === 'AC')
    return slip(`${shown} was read ${place}, and AC volts have no sign: the meter may have been on DC`);
  if (size <= STRAY_VOLTS) return undefined;
  if (reading.state.kind === 'off')
    return {
      why: `${shown} was read ${place} with the supplies isolated: something still feeds it, and it is not dead`,
      danger: true,
    };
  if (of.between.some((point) => isLineSide(analysis, point))) return undefined;
  const most = allSuppliesVolts(analysis);
  if (most !== undefined && size > Math.max(most * ABOVE_ALL_SUPPLIES, NEVER_BELOW_VOLTS)) {
    const why = `${shown} was read ${place} ${readingStateWords(analysis, reading)}, and all supplies of this record together give ${volts(most)}: the unit is wrong, or something else feeds these wires`;
    return { why, danger: true };
  }
  if (of.system === undefined || system === undefined || of.system === system) return undefined;
  if (of.system === 'AC')
    return slip(`${shown} was read ${place}, and the circuit there is DC: the meter was to be set to volts DC`);
  if (hasDiode(analysis, a)) return undefined;
  const instead = 'the meter was to be set to volts AC, or a supply of another kind is in';
  return slip(
    suppliesOf(analysis).givesDc
      ? `${shown} was read ${place}, and the circuit there is AC: ${instead}`
      : `${shown} was read ${place}, and nothing in this record gives DC: ${instead}`,
  );
}

/** The circuit that a probe is in, where the record tells. */
function circuitAt({ circuits }: Analysis, point: MeterPoint): CircuitAnalysis | undefined {
  if (point.kind === 'end') {
    const name = pointOf(point.end);
    return circuits.find(({ circuit }) => circuit.points.includes(name));
  }
  return circuits.find(({ runs }) => runs.includes(point.run));
}

function systemAt(analysis: Analysis, point: MeterPoint): 'AC' | 'DC' | undefined {
  const system = circuitAt(analysis, point)?.circuit.system;
  return system === 'AC' || system === 'DC' ? system : undefined;
}

/** Diodes cut waves: on DC a meter shows their mean. */
function hasDiode(analysis: Analysis, point: MeterPoint): boolean {
  const elements = circuitAt(analysis, point)?.circuit.elements ?? [];
  return elements.some((id) => analysis.elements.get(id)?.element.kind === 'diode');
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
function allSuppliesVolts(analysis: Analysis): number | undefined {
  const sum = suppliesOf(analysis).volts;
  return sum > 0 ? sum : undefined;
}

/** What all supplies of a record give: `volts` is no number where those of some supply are not known. */
export interface Supplies {
  readonly volts: number;
  readonly givesDc: boolean;
}

export function suppliesOf(analysis: Analysis): Supplies {
  const known = suppliesOfWhole.get(analysis);
  if (known !== undefined) return known;
  const each = piecesOf(analysis).map(suppliesIn);
  return { volts: each.reduce((sum, { volts }) => sum + volts, 0), givesDc: each.some(({ givesDc }) => givesDc) };
}

const suppliesOfWhole = new Beside<Analysis, Supplies>();

/** For an analysis of some pieces: what the whole of the record gives. */
export function tellOfSupplies(analysis: Analysis, supplies: Supplies): void {
  suppliesOfWhole.set(analysis, supplies);
}

const suppliesIn = keptWith(({ elements }: Analysis): Supplies => {
  let volts = 0;
  let givesDc = false;
  for (const { element, system, noLoadVolts = Number.NaN } of elements.values()) {
    if (element.kind === 'winding') volts += noLoadVolts;
    givesDc ||= element.kind === 'diode' || system === 'DC';
  }
  return { volts, givesDc };
});

/** Readings taken in one block that can't both, or all, be right. */
interface Contradiction {
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
    const first = readings
      .slice(0, last)
      .findIndex((earlier) => isOfTheSame(analysis, earlier, later) && !agree(analysis, earlier, later));
    if (first < 0) return;
    told.add(last);
    const place = later.of.kind === 'sign' ? quote(later.of.part) : readingPlaceWords(later.of);
    const [was, is] = [readings[first]!, later].map(({ of }) => readingShownWords(of));
    const why = `${was} and ${is} were noted of one thing, ${place} ${readingStateWords(analysis, later)}`;
    found.push({ among: [first, last], why });
  });
  for (const three of triangles(analysis, readings)) {
    if (three.some((index) => told.has(index))) continue;
    const sides = three.map((index) => {
      const { value, tolerance } = figureOf(analysis, readings[index]!)!;
      return { index, value: Math.abs(value), tolerance };
    });
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
  return state.kind === 'off'
    ? `off ${(state.pressed ?? []).join()}`
    : `live ${state.pressed.join()} ${(state.bridged ?? []).join()}`;
}

/** What the meter was set to, AC or DC. */
function settingOf(analysis: Analysis, { between, system }: Extract<ReadingOf, { kind: 'volts' }>): string {
  return system ?? systemAt(analysis, between[0]) ?? '';
}

function pairOf(between: readonly [MeterPoint, MeterPoint]): string {
  return between.map(meterPointName).sort().join(' ');
}

function isOfTheSame(analysis: Analysis, one: Reading, other: Reading): boolean {
  const [a, b] = [one.of, other.of];
  if (a.kind === 'mains' || b.kind === 'mains') return a.kind === b.kind;
  if (keyOfState(one) !== keyOfState(other)) return false;
  if (a.kind === 'sign' && b.kind === 'sign') {
    // One note may ring while another does not.
    return a.part === b.part && isLight(a.shows) === isLight(b.shows) && a.note === b.note;
  }
  if (a.kind === 'amps' && b.kind === 'amps') return meterPointName(a.through) === meterPointName(b.through);
  if (a.kind === 'volts' && b.kind === 'volts')
    return pairOf(a.between) === pairOf(b.between) && settingOf(analysis, a) === settingOf(analysis, b);
  return a.kind === 'ohms' && b.kind === 'ohms' && pairOf(a.between) === pairOf(b.between);
}

function isLight(shows: Sign): boolean {
  return shows === 'dark' || shows === 'lit';
}

/** Ohms from which a meter may show OL as well: common practice, no source. */
const NEARLY_OPEN_OHMS = 1e6;

function agree(analysis: Analysis, one: Reading, other: Reading): boolean {
  if (one.of.kind === 'sign' && other.of.kind === 'sign') return one.of.shows === other.of.shows;
  const [a, b] = [figureOf(analysis, one), figureOf(analysis, other)];
  if (a && b) return Math.abs(a.value - b.value) <= a.tolerance + b.tolerance;
  return (a ?? b) === undefined || (a ?? b)!.value >= NEARLY_OPEN_OHMS;
}

function figureOf(
  analysis: Analysis,
  { of, within }: Reading,
): { readonly value: number; readonly tolerance: number } | undefined {
  const as = (value: number, floor: number) => {
    const size = Math.abs(value);
    const stated = within && ('share' in within ? within.share * size : within.figure);
    return { value, tolerance: stated ?? METER_SHARE * size + floor };
  };
  if (of.kind === 'mains') return as(of.volts, METER_VOLTS);
  // The probes the other way round have the sign the other way round.
  if (of.kind === 'volts') {
    const hasSign = settingOf(analysis, of) === 'DC';
    return as(hasSign && isTurned(of.between) ? -of.volts || 0 : of.volts, METER_VOLTS);
  }
  if (of.kind === 'amps') return as(of.amps, METER_AMPS);
  return of.kind === 'ohms' && of.ohms !== null ? as(of.ohms, METER_OHMS) : undefined;
}

/** Whether the probes are noted the other way round than the pair's name has them. */
function isTurned([a, b]: readonly [MeterPoint, MeterPoint]): boolean {
  return meterPointName(a) > meterPointName(b);
}

/** Volts between three points two by two, in one state: none of the three is more than the other two together. */
function triangles(analysis: Analysis, readings: readonly Reading[]): readonly (readonly [number, number, number])[] {
  const sides = readings.flatMap(({ of, state }, index) => {
    if (of.kind !== 'volts' || state.kind === 'off') return [];
    const [a, b] = of.between.map(meterPointName);
    return a === b
      ? []
      : [{ index, a: a!, b: b!, state: keyOfState(readings[index]!), system: settingOf(analysis, of) }];
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
  const nameOf = (point: MeterPoint) => (point.kind === 'end' ? point.end.part : point.run);
  const measured =
    of.kind === 'mains'
      ? []
      : of.kind === 'sign'
        ? [of.part]
        : of.kind === 'amps'
          ? [nameOf(of.through)]
          : of.between.map(nameOf);
  const pressed = state.kind === 'live' ? [...state.pressed, ...(state.bridged ?? [])] : (state.pressed ?? []);
  return [...new Set([...measured, ...pressed.map((contact) => partNameOf(contact))])];
}
