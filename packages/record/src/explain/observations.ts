/** Readings made ready to be weighed: where they were taken in the house, and which of them can't be right whatever is wrong. */

import type { Analysis } from '../analysis-types.js';
import { badReading, contradictions } from '../judging/bad-readings.js';
import { quote } from '../judging/words.js';
import { mainsOf } from '../resolve/mains.js';
import type { Reading, ReadingBlock, ReadingState } from '../readings-types.js';
import type { Spot } from './gauge.js';
import type { House } from './house.js';
import { type Live, liveAs } from './variants.js';
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

/** `mainsOfBlock` numbers the blocks that are weighed together. */
export function takeReadings(
  house: House,
  block: number,
  stated: ReadingBlock,
  mainsOfBlock: number,
): readonly Taken[] {
  const { analysis } = house;
  const contradicted = new Map(contradictions(analysis, stated.readings).map(({ among, why }) => [among.at(-1)!, why]));
  return stated.readings.map((reading, index): Taken => {
    const bad = badReading(analysis, reading)?.why ?? contradicted.get(index);
    if (bad !== undefined) return { block, index, reading, bad };
    const found = observe(house, reading, stated, mainsOfBlock);
    return 'found' in found
      ? { block, index, reading, observation: found.found }
      : { block, index, reading, reason: found.reason };
  });
}

function liveOf(state: ReadingState): Live {
  return state.kind === 'off' ? liveAs(state.pressed ?? []) : liveAs(state.pressed, state.bridged);
}

function observe(house: House, reading: Reading, stated: ReadingBlock, block: number): Found<Observation> {
  const { state, of, within } = reading;
  const live = liveOf(state);
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
        const spot: Spot = { kind: 'ohms', a: a.found, b: b.found, ...(live.pressed.length === 0 ? {} : { live }) };
        return { found: { kind: 'figure', spot, figure: of.ohms, ...half(of.ohms ?? 0, meter.ohms) } };
      }
      // Of waves that diodes cut a meter on DC shows the mean.
      const signed = isDirect(house, a.found) || of.system === 'DC';
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

/** Why nothing is said of the circuit that a point is in: a broken statement, missing figures. */
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
  return undefined;
}

function isDirect(house: House, node: number): boolean {
  const point = house.nodes[node]!;
  const network = house.analysis.network('nominal');
  return network.circuitOf(point)?.system === 'DC';
}
