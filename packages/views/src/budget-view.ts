/** What every form of the budget shows, chosen from it once, so that terminal, page and panel say the same. */

import { formatOhms, formatShare } from '@ohmstead/circuit';
import {
  type Budget,
  type BudgetConductor,
  type BudgetDevice,
  type BudgetElement,
  type BudgetSupply,
  type BudgetWinding,
  type Extreme,
  limits,
  type Severity,
  type SolvedFigures,
  type StateKey,
} from '@ohmstead/record';
import { amps, none, stated, statedRange, voltAmperes, volts, voltsRange } from './figures.js';
import { extremeWords, stateId, stateWords } from './words.js';

/** A place in a text, as the language server protocol has it (lines and characters from 0). */
export interface TextRange {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

/** A finding that has been placed in a text. */
export interface LocatedFinding {
  readonly uri: string;
  readonly range: TextRange;
  readonly severity: Severity;
  readonly code: string;
  readonly message: string;
  /** Somebody took responsibility for it; why, where that is known. */
  readonly accepted?: boolean | { readonly because: string };
}

/** What is shown of a finding; those without a place can't be followed. */
export type ShownFinding = Pick<LocatedFinding, 'severity' | 'code' | 'message' | 'accepted'> &
  Partial<Pick<LocatedFinding, 'uri' | 'range'>>;

export interface WindingState {
  readonly state: StateKey;
  readonly figures: SolvedFigures;
  /** Share of the rated amps, 1 = the rating; null where either is unknown. */
  readonly share: number | null;
  /** VA of the rating that are left; negative when it is passed. */
  readonly left: number | null;
}

export interface WindingView {
  readonly winding: BudgetWinding;
  readonly between: string;
  /** "16 V, 10 VA; 19.8 V open (assumed); 2.4 ohm inside". */
  readonly rating: string;
  readonly states: readonly WindingState[];
  readonly worstShare: number | null;
  readonly lastingShare: number | null;
  /** "3.8 VA left of 10 VA at rest". */
  readonly leftWords: string;
  /** "62 % of its rating drawn at worst, while porch-button is held, for as long as that lasts". */
  readonly worstWords: string;
}

function ratedAmps({ ratedVA, ratedVolts }: BudgetWinding): number | null {
  return ratedVA && ratedVolts ? ratedVA / ratedVolts : null;
}

function windingState(winding: BudgetWinding, figures: SolvedFigures): WindingState {
  const rated = ratedAmps(winding);
  const share = rated === null || figures.amps === null ? null : Math.abs(figures.amps) / rated;
  return { state: figures, figures, share, left: share === null ? null : left(winding, share) };
}

function left(winding: BudgetWinding, share: number): number | null {
  return winding.ratedVA === null ? null : winding.ratedVA * (1 - share);
}

function ratingWords(winding: BudgetWinding): string {
  const rated = [
    winding.ratedVolts === null ? 'no volts recorded' : stated(winding.ratedVolts, 'V'),
    winding.ratedVA === null ? 'no VA recorded' : stated(winding.ratedVA, 'VA'),
  ].join(', ');
  const assumed = winding.assumed.includes('no-load') ? ' (assumed)' : '';
  const open = winding.noLoadVolts === null ? [] : [`${stated(winding.noLoadVolts, 'V')} open${assumed}`];
  const inside = winding.ohms === null ? [] : [`${formatOhms(winding.ohms)} inside`];
  return [rated, ...open, ...inside].join('; ');
}

/** What is left while nothing is held; a push is over before a winding warms, so it is told apart unless it is far too much. */
function leftWords(winding: BudgetWinding): string {
  const { worst, lasting } = winding;
  const impossible = winding.solved.find((each) => each.volts === null);
  if (impossible !== undefined) return worst === null ? 'No figures' : `Cannot run ${stateWords(impossible)}`;
  if (worst === null) return 'Nothing is drawn from it';
  const isFarOver = worst.share !== null && worst.share > limits.overloadMomentaryWarning;
  const shown = isFarOver ? worst : (lasting ?? worst);
  const { share, va } = shown;
  const state = stateWords(shown);
  if (share === null || winding.ratedVA === null) return `${voltAmperes(va)} drawn ${state}, no rating to hold it to`;
  const spare = left(winding, share) ?? 0;
  const rated = stated(winding.ratedVA, 'VA');
  return spare < 0
    ? `${voltAmperes(-spare)} over its ${rated} ${state}`
    : `${voltAmperes(spare)} left of ${rated} ${state}`;
}

function worstWords(winding: BudgetWinding): string {
  const { worst, lasting } = winding;
  const reason = winding.solved.find((each) => each.reason !== undefined)?.reason;
  if (worst === null) return reason ?? '';
  const drawn = worst.share === null ? voltAmperes(worst.va) : `${formatShare(worst.share)} of its rating`;
  const elsewhere = winding.solved.some((each) => each.volts === null) ? 'where there is one' : 'at worst';
  const passing = lasting !== null && stateId(lasting) !== stateId(worst) ? ', for as long as that lasts' : '';
  return `${reason === undefined ? '' : `${reason}; `}${drawn} drawn ${elsewhere}, ${stateWords(worst)}${passing}`;
}

export function windingView(winding: BudgetWinding): WindingView {
  return {
    winding,
    between: `${winding.from} to ${winding.to}`,
    rating: ratingWords(winding),
    states: winding.solved.map((figures) => windingState(winding, figures)),
    worstShare: winding.worst?.share ?? null,
    lastingShare: winding.lasting?.share ?? null,
    leftWords: leftWords(winding),
    worstWords: worstWords(winding),
  };
}

/** Names of what a supply feeds, each with the supply its box asks for. */
export function connected(budget: Budget, supply: BudgetSupply): { name: string; asks: string }[] {
  return supply.feeds.map((name) => {
    const needs = budget.devices.find((each) => each.name === name)?.needsVA ?? null;
    return { name, asks: needs === null ? '' : `asks for ${stated(needs, 'VA')}` };
  });
}

export type Verdict = 'within' | 'below' | 'above' | 'unjudged' | 'unknown';

export interface ElementView {
  readonly element: BudgetElement;
  /** "coil, trans to front". */
  readonly what: string;
  /** Least and most volts at nominal mains over the states that drive it (a load: all); null where there are no figures. */
  readonly nominal: { readonly least: number; readonly most: number } | null;
  readonly verdict: Verdict;
  /** "16.7-19.0 V, within 16-24 V". */
  readonly words: string;
  /** "Least 15.1 V while …; most 21.0 V at rest, …". */
  readonly extremes: string;
  readonly current: string;
}

/** Kinds that are fed all the time; the others are judged in the states that drive them. */
const fedAlways = new Set(['load']);
/** Kinds that stand in a path and have no volts of their own to be judged. */
const inPath = new Set(['contact', 'bypass', 'diode', 'link']);

/** Share of its greatest volts from which a coil or lamp counts as driven, as the budget's own least while working has it. */
const drivenShare = 0.5;

/** Volts at nominal in the states in which it is driven; of a load in all states. */
function workingVolts({ kind, solved }: BudgetElement): number[] {
  const known = solved.flatMap((each) => (each.volts === null ? [] : [Math.abs(each.volts)]));
  const from = fedAlways.has(kind) || inPath.has(kind) ? 0 : Math.max(0, ...known) * drivenShare;
  return known.filter((each) => each >= from);
}

/** What no range of volts says: states without an operating point, and those in which a load has too little to stay on. */
function gapWords({ kind, solved }: BudgetElement): string {
  const missing = solved.find((each) => each.volts === null);
  const off = kind === 'load' ? solved.find((each) => each.volts !== null && !each.on) : undefined;
  return [
    ...(missing === undefined ? [] : [`; cannot run ${stateWords(missing)}`]),
    ...(off === undefined ? [] : [`; off ${stateWords(off)}`]),
  ].join('');
}

function verdictOf(device: BudgetDevice, least: number, most: number): Verdict {
  const { band } = device;
  if (band.least === null && band.most === null) return 'unjudged';
  if (band.least !== null && least < band.least) return 'below';
  if (band.most !== null && most > band.most) return 'above';
  return 'within';
}

/** "16-24 V", "16 V or more", "at most 24 V". */
export function bandWords({ least, most }: BudgetDevice['band']): string {
  if (least !== null && most !== null) return statedRange(round(least), round(most), 'V');
  if (least !== null) return `${stated(round(least), 'V')} or more`;
  return most === null ? none : `at most ${stated(round(most), 'V')}`;
}

const round = (value: number): number => Number(value.toFixed(1));
/** For volts that would be written like the limit that they miss. */
const just = (value: number, limit: number): string => (round(value) === round(limit) ? 'just ' : '');

function verdictWords(device: BudgetDevice, verdict: Verdict, nominal: { least: number; most: number }): string {
  const { band } = device;
  if (verdict === 'within') return `within ${bandWords(band)}`;
  if (verdict === 'below' && band.least !== null) {
    const falls = nominal.most < band.least ? '' : 'falls ';
    return `${falls}${just(falls ? nominal.least : nominal.most, band.least)}below ${stated(round(band.least), 'V')}`;
  }
  if (verdict === 'above' && band.most !== null) {
    const rises = nominal.least > band.most ? '' : 'rises ';
    return `${rises}${just(rises ? nominal.most : nominal.least, band.most)}above ${stated(round(band.most), 'V')}`;
  }
  return 'no limits to hold it to';
}

/** From the least while it works, where that is known: a coil at rest has no volts, and nobody asks for them. */
function extremesOf(element: BudgetElement): string {
  const { most } = element;
  const least = element.leastWorking ?? element.least;
  const one = (word: string, extreme: Extreme | null) =>
    extreme === null ? [] : [`${word} ${volts(extreme.volts)} ${extremeWords(extreme)}`];
  return [...one('least', least), ...one('most', most)].join('; ');
}

function mostCurrent(element: BudgetElement): string {
  let most: (SolvedFigures & { amps: number }) | undefined;
  for (const each of element.solved) {
    if (each.amps !== null && Math.abs(each.amps) > Math.abs(most?.amps ?? 0)) most = { ...each, amps: each.amps };
  }
  return most === undefined ? 'carries no current' : `carries ${amps(most.amps)} at most, ${stateWords(most)}`;
}

function unknownWords(element: BudgetElement): string {
  const reason = element.solved.find((each) => each.reason !== undefined)?.reason;
  return reason === undefined ? 'hangs free: no supply reaches it' : `no figures: ${reason}`;
}

function elementView(device: BudgetDevice, element: BudgetElement): ElementView {
  const what = `${element.kind}, ${element.from} to ${element.to}`;
  const known = workingVolts(element);
  const shared = { element, what, extremes: extremesOf(element) };
  if (known.length === 0) {
    return { ...shared, nominal: null, verdict: 'unknown', words: unknownWords(element), current: '' };
  }
  const nominal = { least: Math.min(...known), most: Math.max(...known) };
  const current = mostCurrent(element);
  // A coil that nothing drives has no volts to be judged; whether it should have some is for the findings to say.
  if (element.leastWorking === null && !inPath.has(element.kind) && !fedAlways.has(element.kind)) {
    const words = nominal.most === 0 ? 'no volts, whatever is pressed' : `${volts(nominal.most)} at most, never driven`;
    return { ...shared, nominal: null, verdict: 'unjudged', words, current: '', extremes: '' };
  }
  if (inPath.has(element.kind))
    return { ...shared, nominal, verdict: 'unjudged', words: current, current, extremes: '' };
  const verdict = verdictOf(device, nominal.least, nominal.most);
  const range = voltsRange(nominal.least, nominal.most);
  return {
    ...shared,
    nominal,
    verdict,
    words: `${range}, ${verdictWords(device, verdict, nominal)}${gapWords(element)}`,
    current,
  };
}

export interface DeviceView {
  readonly device: BudgetDevice;
  /** "two-note-chime in hall". */
  readonly about: string;
  /** "label 16-24 V AC, 10 VA; asks for a supply of 10 VA". */
  readonly label: string;
  readonly elements: readonly ElementView[];
}

export function aboutWords(part: { readonly type: string | null; readonly place: string | null }): string {
  return [part.type ?? 'unknown type', ...(part.place === null ? [] : [`in ${part.place}`])].join(' ');
}

function labelWords(device: BudgetDevice): string {
  const { rating, needsVA } = device;
  const figures = [
    ...(rating?.volts
      ? [`${statedRange(rating.volts.least, rating.volts.most, 'V')}${rating.system ? ` ${rating.system}` : ''}`]
      : []),
    ...(rating?.voltAmperes ? [stated(rating.voltAmperes, 'VA')] : []),
    ...(rating?.watts ? [stated(rating.watts, 'W')] : []),
    ...(rating?.amps ? [stated(rating.amps, 'A')] : []),
  ];
  const label = figures.length === 0 ? [] : [`label ${figures.join(', ')}`];
  const asks = needsVA === null ? [] : [`asks for a supply of ${stated(needsVA, 'VA')}`];
  return [...label, ...asks].join('; ');
}

function deviceView(device: BudgetDevice): DeviceView {
  return {
    device,
    about: aboutWords(device),
    label: labelWords(device),
    elements: device.elements.map((element) => elementView(device, element)),
  };
}

/** The state in which a conductor loses most; null where nothing is known of it. */
export function worstDrop(conductor: BudgetConductor): (StateKey & { readonly dropVolts: number }) | null {
  let worst: (StateKey & { readonly dropVolts: number }) | null = null;
  for (const each of conductor.solved) {
    if (each.dropVolts === null) continue;
    const dropVolts = Math.abs(each.dropVolts);
    if (worst === null || dropVolts > worst.dropVolts) worst = { ...each, dropVolts };
  }
  return worst;
}

export interface CircuitView {
  readonly key: string;
  readonly states: readonly StateKey[];
  readonly supplies: readonly BudgetSupply[];
  readonly devices: readonly DeviceView[];
}

/** The budget by circuit, in its own order; a part of several circuits stands in the first. */
/** What tells a circuit from the others of its record. */
export function circuitKey(circuit: {
  readonly supplies: readonly string[];
  readonly devices: readonly string[];
}): string {
  return [...circuit.supplies, ...circuit.devices].join('+');
}

export function circuitViews(budget: Budget): CircuitView[] {
  const placed = new Set<string>();
  const take = <P extends { readonly name: string }>(parts: readonly P[], names: readonly string[]): P[] =>
    parts.filter((part) => names.includes(part.name) && !placed.has(part.name));
  const circuits = budget.circuits.map((circuit) => {
    const supplies = take(budget.supplies, circuit.supplies);
    const devices = take(budget.devices, circuit.devices);
    for (const part of [...supplies, ...devices]) placed.add(part.name);
    return { key: circuitKey(circuit), states: circuit.states, supplies, devices: devices.map(deviceView) };
  });
  const supplies = budget.supplies.filter((part) => !placed.has(part.name));
  const devices = budget.devices.filter((part) => !placed.has(part.name)).map(deviceView);
  const rest = supplies.length + devices.length > 0 ? [{ key: '', states: [], supplies, devices }] : [];
  return [...circuits, ...rest].filter((each) => each.supplies.length + each.devices.length > 0);
}

/** The circuit on which a run's conductor lies, told by the parts it lands on. */
export function circuitOfConductor(
  circuits: readonly CircuitView[],
  conductor: BudgetConductor,
): CircuitView | undefined {
  const parts = [conductor.from, conductor.to].map((point) => point.split('.')[0]);
  return circuits.find(
    (circuit) =>
      circuit.supplies.some((part) => parts.includes(part.name)) ||
      circuit.devices.some(({ device }) => parts.includes(device.name)),
  );
}

/** The scale that all gauges of a circuit share: volts at their right end. */
export function gaugeScale(circuit: CircuitView): number {
  const reached = circuit.devices.flatMap(({ device, elements }) => [
    device.band.most ?? (device.band.least ?? 0) * 1.2,
    ...elements.flatMap(({ element, nominal }) => [element.most?.volts ?? 0, nominal?.most ?? 0]),
  ]);
  return Math.max(1, ...reached.map(Math.abs)) * 1.08;
}
