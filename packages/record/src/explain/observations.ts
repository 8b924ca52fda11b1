/** Readings made ready to be weighed: where they were taken in the house, and which of them can't be right whatever is wrong. */

import type { Analysis } from '../analysis-types.js';
import { quote } from '../judging/words.js';
import { mainsOf } from '../resolve/mains.js';
import type { Reading, ReadingBlock, ReadingState } from '../readings-types.js';
import type { Spot } from './gauge.js';
import type { House } from './house.js';
import { IDLE, type Live, liveAs } from './operate.js';
import { branchOf, type Found, nodeOf } from './points.js';
import { meter } from './practice.js';
import { noteOf, signallingOf } from './signs.js';
import type { Observation } from './weigh.js';

export interface Taken {
  readonly block: number;
  readonly index: number;
  readonly reading: Reading;
  /** Undefined where nothing can be made of it: `reason` says why, `bad` where it can't be right at all. */
  readonly observation?: Observation;
  readonly reason?: string;
  readonly bad?: string;
}

/** Beyond these shares of the profile's mains nobody's mains are. */
const MAINS_WITHIN = { least: 0.7, most: 1.3 } as const;
/** No meter reads this much more than all supplies in series give. */
const BEYOND_ALL = 1.3;
/** Two readings of one thing contradict each other when further apart than both bands and this share. */
const CONTRADICTS_FROM = 0.15;

/** `mainsOfBlock` numbers the blocks that are weighed together. */
export function takeReadings(
  house: House,
  block: number,
  stated: ReadingBlock,
  mainsOfBlock: number,
): readonly Taken[] {
  const taken = stated.readings.map((reading, index): Taken => {
    const bad = impossible(house, reading);
    if (bad !== undefined) return { block, index, reading, bad };
    const found = observe(house, reading, stated, mainsOfBlock);
    return 'found' in found
      ? { block, index, reading, observation: found.found }
      : { block, index, reading, reason: found.reason };
  });
  return taken.map((one) => {
    const other = taken.find((earlier) => earlier.index < one.index && contradict(earlier, one));
    if (other === undefined || one.bad !== undefined) return one;
    const { block: at, index, reading } = one;
    return { block: at, index, reading, bad: 'it contradicts an earlier reading of the same thing: take both again' };
  });
}

export function liveOf(state: ReadingState): Live | undefined {
  return state.kind === 'off' ? undefined : liveAs(state.pressed, state.bridged);
}

function observe(house: House, reading: Reading, stated: ReadingBlock, block: number): Found<Observation> {
  const { state, of, within } = reading;
  const live = liveOf(state) ?? IDLE;
  const unknown = [...live.pressed, ...live.bridged].find((name) => !knowsContact(house, name));
  if (unknown !== undefined) return { reason: `there is no contact ${quote(unknown)} in the record` };
  if (state.kind === 'off' && (of.kind === 'volts' || of.kind === 'amps'))
    return { reason: 'with the supplies isolated nothing feeds it' };
  const half = (figure: number, own: number): { half?: number } =>
    within === undefined
      ? {}
      : { half: ('share' in within ? within.share * Math.abs(figure) : within.figure) + own / 4 };
  switch (of.kind) {
    case 'mains': {
      const { mainsVolts } = mainsOf(house.analysis.installation.profile);
      const share = of.volts / mainsVolts - 1;
      return { found: { kind: 'mains', share, half: 0.05, block } };
    }
    case 'sign': {
      const signalling = signallingOf(house, of.part);
      if (!house.analysis.parts.has(of.part)) return { reason: `there is no ${quote(of.part)} in the record` };
      const withheld = reasonWithheld(
        house.analysis,
        house.branches[[...signalling.heard, ...signalling.seen][0] ?? -1]?.element?.a,
      );
      if (withheld !== undefined) return { reason: withheld };
      const note = noteName(house, of.part, of.note);
      return {
        found: {
          kind: 'sign',
          part: of.part,
          live,
          block,
          outcome: { shows: of.shows, ...(note === undefined ? {} : { note }) },
        },
      };
    }
    case 'amps': {
      const branch = branchOf(house, of.through);
      if (!('found' in branch)) return branch;
      const withheld = reasonWithheld(house.analysis, house.nodes[house.branches[branch.found]!.a]);
      if (withheld !== undefined) return { reason: withheld };
      const spot: Spot = { kind: 'amps', branch: branch.found, live, block };
      return { found: { kind: 'figure', spot, figure: of.amps, ...half(of.amps, meter.amps) } };
    }
    case 'volts':
    case 'ohms': {
      const [a, b] = [nodeOf(house, of.between[0]), nodeOf(house, of.between[1])];
      if (!('found' in a)) return a;
      if (!('found' in b)) return b;
      const withheld =
        reasonWithheld(house.analysis, house.nodes[a.found]) ?? reasonWithheld(house.analysis, house.nodes[b.found]);
      if (withheld !== undefined) return { reason: withheld };
      if (of.kind === 'ohms') {
        const spot: Spot = { kind: 'ohms', a: a.found, b: b.found };
        return { found: { kind: 'figure', spot, figure: of.ohms, ...half(of.ohms ?? 0, meter.ohms) } };
      }
      const signed = isDirect(house, a.found);
      const meterOhms = stated.meterOhms ?? meter.ohmsInput;
      const spot: Spot = { kind: 'volts', a: a.found, b: b.found, live, block, meterOhms, signed };
      return { found: { kind: 'figure', spot, figure: of.volts, ...half(of.volts, meter.volts) } };
    }
  }
}

function noteName(house: House, part: string, note: string | undefined): string | undefined {
  if (note === undefined) return undefined;
  const { terminals = [] } = house.analysis.parts.get(part) ?? {};
  const asked = note.toLowerCase();
  const terminal = terminals.find(({ name, words }) => name.toLowerCase() === asked || words?.toLowerCase() === asked);
  const isTold = signallingOf(house, part).heard.some((branch) => noteOf(house, branch) === terminal?.name);
  return isTold ? terminal?.name : undefined;
}

function knowsContact(house: House, name: string): boolean {
  return house.contacts.some((branch) => house.branches[branch]!.contact!.name === name);
}

/** Why nothing is said of the circuit that a point is in: a broken statement, missing figures, waves cut by a diode. */
export function reasonWithheld(analysis: Analysis, point: string | undefined): string | undefined {
  if (point === undefined) return undefined;
  const at = point.split('@')[0]!;
  const circuit = analysis.circuits.find(
    ({ circuit: { points }, runs }) =>
      points.includes(point) || (point.includes('@') && runs.some((run) => at.startsWith(`${run}.`))),
  );
  if (circuit === undefined) return undefined;
  if (circuit.held) return 'a statement about this circuit could not be read';
  const [first] = circuit.unsolved;
  if (first !== undefined) return `${first.part}: ${first.words}`;
  if (circuit.circuit.system === 'mixed') return 'AC and DC, or two frequencies, meet in this circuit';
  const diode = circuit.circuit.elements.some((id) => analysis.elements.get(id)?.element.kind === 'diode');
  return diode ? 'a diode cuts the waves in this circuit: what a meter shows there depends on the meter' : undefined;
}

function isDirect(house: House, node: number): boolean {
  const point = house.nodes[node]!;
  const network = house.analysis.network('nominal');
  return network.circuitOf(point)?.system === 'DC';
}

function impossible(house: House, { state, of }: Reading): string | undefined {
  switch (of.kind) {
    case 'mains': {
      const { mainsVolts } = mainsOf(house.analysis.installation.profile);
      const isGone = of.volts >= 0 && of.volts < 0.05 * mainsVolts;
      const share = of.volts / mainsVolts;
      if (isGone || (share >= MAINS_WITHIN.least && share <= MAINS_WITHIN.most)) return undefined;
      return `mains are about ${mainsVolts} V here, and this can't be mains`;
    }
    case 'volts': {
      if (!Number.isFinite(of.volts)) return 'it is no figure';
      if (state.kind === 'off')
        return Math.abs(of.volts) > 2
          ? 'there are volts with the supplies isolated: something else feeds it, or it was not isolated'
          : undefined;
      const node = nodeOf(house, of.between[0]);
      const direct = 'found' in node && isDirect(house, node.found);
      if (of.volts < 0 && !direct) return 'AC volts have no sign: was the meter on DC?';
      if (of.system !== undefined && 'found' in node && (of.system === 'DC') !== direct) {
        return `the circuit there is ${direct ? 'DC' : 'AC'}, and it was read on ${of.system}`;
      }
      if (Math.abs(of.volts) > BEYOND_ALL * allVolts(house)) return 'it is more than all supplies together can give';
      return undefined;
    }
    case 'ohms':
      if (of.ohms !== null && (!Number.isFinite(of.ohms) || of.ohms < 0)) return 'ohms are never less than none';
      return state.kind === 'off'
        ? undefined
        : 'ohms are read with the supplies isolated: what a meter shows on a live circuit means nothing';
    case 'amps':
      if (!Number.isFinite(of.amps)) return 'it is no figure';
      return state.kind === 'off' && Math.abs(of.amps) > 0.01 ? 'there are amps with the supplies isolated' : undefined;
    case 'sign': {
      const part = house.analysis.parts.get(of.part);
      if (part === undefined) return undefined;
      const { heard, seen } = signallingOf(house, of.part);
      if (['rings', 'hums'].includes(of.shows) && heard.length === 0) return `nothing in ${quote(of.part)} sounds`;
      if (['dark', 'lit'].includes(of.shows) && seen.length === 0) return `nothing in ${quote(of.part)} lights`;
      if (of.shows === 'silent' && heard.length === 0) return `nothing in ${quote(of.part)} sounds`;
      return undefined;
    }
  }
}

/** Of all windings in series, at the most that a supply of other volts could give. */
function allVolts(house: House): number {
  const all = house.branches.reduce(
    (sum, { kind, emf }) => (kind === 'winding' ? sum + Math.hypot(emf.re, emf.im) : sum),
    0,
  );
  return Math.max(2 * all, 40);
}

function contradict(one: Taken, other: Taken): boolean {
  const [x, y] = [one.reading, other.reading];
  if (one.bad !== undefined || JSON.stringify(x.state) !== JSON.stringify(y.state)) return false;
  if (x.of.kind === 'sign' && y.of.kind === 'sign') {
    const isSameNote = x.of.note === undefined || y.of.note === undefined || x.of.note === y.of.note;
    return (
      x.of.part === y.of.part &&
      !(x.of.shows === y.of.shows && isSameNote) &&
      isLight(x.of.shows) === isLight(y.of.shows)
    );
  }
  if (x.of.kind === 'volts' && y.of.kind === 'volts') {
    return sameBetween(x.of.between, y.of.between) && apart(Math.abs(x.of.volts), Math.abs(y.of.volts), meter.volts);
  }
  if (x.of.kind === 'mains' && y.of.kind === 'mains') return apart(x.of.volts, y.of.volts, 4);
  if (x.of.kind === 'ohms' && y.of.kind === 'ohms' && sameBetween(x.of.between, y.of.between)) {
    const [a, b] = [x.of.ohms, y.of.ohms];
    return a === null || b === null ? a !== b : apart(a, b, meter.ohms);
  }
  if (x.of.kind === 'amps' && y.of.kind === 'amps') {
    return JSON.stringify(x.of.through) === JSON.stringify(y.of.through) && apart(x.of.amps, y.of.amps, meter.amps);
  }
  return false;
}

function isLight(sign: string): boolean {
  return sign === 'dark' || sign === 'lit';
}

function sameBetween(one: readonly [unknown, unknown], other: readonly [unknown, unknown]): boolean {
  const key = (pair: readonly [unknown, unknown]): string =>
    pair
      .map((point) => JSON.stringify(point))
      .sort()
      .join();
  return key(one) === key(other);
}

function apart(x: number, y: number, step: number): boolean {
  const band = meter.share * (x + y) + 2 * step;
  return Math.abs(x - y) > band + CONTRADICTS_FROM * Math.max(x, y);
}
