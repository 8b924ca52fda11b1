/** The rows of the test sheet: every point worth a reading, by what is pressed. */

import { MAINS } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, ResolvedElement } from '@ohmstead/record';
import {
  bandWords,
  type Expected,
  expectedAcross,
  expectedVolts,
  leansOnAssumptions,
  type Moment,
} from './expected.js';
import { screwWords } from './trade-words.js';
import { stateLabel } from '../words.js';

export interface TestRow {
  readonly section: 'supply' | 'button' | 'rest' | 'doorbell';
  readonly when: string;
  readonly where: string;
  /** Volts, where the row asks for a reading. */
  readonly volts?: Expected;
  /** As it is printed. */
  readonly expected: string;
}

type Band = Extract<Expected, { least: number }>;

interface Bench {
  readonly analysis: Analysis;
  readonly circuit: CircuitAnalysis;
  /** Behind figures that lean on what was assumed. */
  readonly mark: string;
}

/** Circuit by circuit, in the order in which somebody would walk through them. */
export function testRows(analysis: Analysis): TestRow[] {
  return analysis.circuits.flatMap((circuit) => {
    if (circuit.supplies.length === 0) return [];
    const bench: Bench = { analysis, circuit, mark: leansOnAssumptions(analysis, circuit) ? ' *' : '' };
    return [
      ...supplyRows(bench),
      ...restRows(bench),
      ...circuit.circuit.contacts.flatMap((name) => buttonRows(bench, name)),
      ...doorbellRows(bench),
    ];
  });
}

const rest: Moment = { closed: [], loads: 'idle' };

function elementsOf({ analysis, circuit }: Bench, ...kinds: readonly string[]): ResolvedElement[] {
  const inside = new Set(circuit.circuit.elements);
  return [...analysis.elements.values()].filter(
    ({ id, element, present }) => present && kinds.includes(element.kind) && inside.has(id),
  );
}

/** "bell-tx a to b". */
function betweenWords(bench: Bench, { part, element }: ResolvedElement): string {
  return `${part} ${screwOf(bench, part, element.a)} to ${screwOf(bench, part, element.b)}`;
}

function screwOf({ analysis }: Bench, part: string, name: string): string {
  const terminal = analysis.parts.get(part)?.terminals.find((each) => each.name === name);
  return terminal === undefined ? name : screwWords(terminal);
}

/** Maintained contacts are on, others held. */
function whenWords({ analysis }: Bench, { closed, loads }: Moment): string {
  return stateLabel({ closed, loads, maintained: closed.filter((contact) => !analysis.momentary.has(contact)) });
}

function voltsRow(bench: Bench, section: TestRow['section'], when: string, where: string, volts: Expected): TestRow {
  const mark = 'reason' in volts || volts.most < 0.1 ? '' : bench.mark;
  return { section, when, where, volts, expected: `${bandWords(volts)}${mark}` };
}

/** Peak only where the circuit has one: elsewhere it is the same reading twice. */
function loadings({ circuit }: Bench): readonly Moment['loads'][] {
  return circuit.circuit.hasPeak ? ['idle', 'peak'] : ['idle'];
}

function supplyRows(bench: Bench): TestRow[] {
  return outputsOf(bench).flatMap(({ where, a, b, open, assumed }): TestRow[] => {
    const first: TestRow[] =
      open === undefined
        ? []
        : [
            {
              section: 'supply',
              when: 'Open: nothing on its screws',
              where,
              volts: open,
              expected: `${bandWords(open)}${assumed ? ' *' : ''}`,
            },
          ];
    const loaded = loadings(bench).map((loads) => {
      const moment: Moment = { closed: [], loads };
      return voltsRow(bench, 'supply', whenWords(bench, moment), where, expectedVolts(bench.circuit, moment, a, b));
    });
    return [...first, ...loaded];
  });
}

/** Two screws of a supply between which there is something to read. */
interface Output {
  readonly where: string;
  readonly a: string;
  readonly b: string;
  readonly open?: Expected;
  /** Whether its volts without a load are. */
  readonly assumed: boolean;
}

/** Each winding from end to end; one with taps from the first screw in use to each other in use. */
function outputsOf(bench: Bench): Output[] {
  const { analysis } = bench;
  const windings = new Map<string, ResolvedElement[]>();
  for (const section of elementsOf(bench, 'winding')) {
    const whole = section.sectionOf?.winding ?? section.id;
    windings.set(whole, [...(windings.get(whole) ?? []), section]);
  }
  return [...windings.values()].flatMap((sections) => {
    const screws = [sections[0]!.a, ...sections.map(({ b }) => b)];
    const inUse = screws.flatMap((screw, index) => (analysis.landedOn(screw).length > 0 ? [index] : []));
    const [from = 0, ...others] = inUse.length < 2 ? [0, screws.length - 1] : inUse;
    return others.map((to) => output(bench, sections.slice(from, to)));
  });
}

/** Of sections one after another, each from where the one before ends. */
function output(bench: Bench, sections: readonly ResolvedElement[]): Output {
  const [first, last] = [sections[0]!, sections.at(-1)!];
  const { part, a } = first;
  const { b } = last;
  const words = (point: string) => screwOf(bench, part, point.slice(part.length + 1));
  const open = sections
    .map((section) => openVolts(bench.analysis.installation.profile, section))
    .reduce((sum, each) => sum && each && { least: sum.least + each.least, most: sum.most + each.most });
  const assumed = sections.some((section) => section.assumed.some(({ what }) => what === 'no-load'));
  return { where: `${part} ${words(a)} to ${words(b)}`, a, b, assumed, ...(open && { open }) };
}

/** The label's (or assumed) no-load volts over the mains tolerance; a regulated supply holds its own. */
function openVolts(profile: string, { noLoadVolts, system }: ResolvedElement): Band | undefined {
  if (noLoadVolts === undefined) return undefined;
  const mains = Object.values(MAINS).find(({ name }) => name === profile) ?? MAINS['north-america'];
  const [below, above] = system === 'DC' ? [0, 0] : [mains.below, mains.above];
  return { least: noLoadVolts * (1 - below), most: noLoadVolts * (1 + above) };
}

/** Coils at rest: the volts at each, and what is heard. */
function restRows(bench: Bench): TestRow[] {
  const { circuit } = bench;
  const coils = elementsOf(bench, 'coil');
  const rows = coils.map((coil) =>
    voltsRow(bench, 'rest', 'At rest', betweenWords(bench, coil), expectedAcross(circuit, rest, coil)),
  );
  return [...rows, ...soundRows(bench, 'rest', 'At rest, listen', rest)];
}

/** One line for all that sounds: "hall-chime TRANS to FRONT sounds, TRANS to REAR silent" is what tells crossed buttons. */
function soundRows(bench: Bench, section: TestRow['section'], when: string, moment: Moment): TestRow[] {
  const coils = elementsOf(bench, 'coil');
  return [...new Set(coils.map(({ part }) => part))].map((part) => {
    const own = coils.filter((coil) => coil.part === part);
    const sounds = own.map((coil) => {
      const which = own.length === 1 ? '' : `${betweenWords(bench, coil).slice(part.length + 1)}: `;
      return `${which}${soundWords(bench.circuit, moment, coil)}`;
    });
    const isSeen = own.every((coil) => (coil.releasesBelowVolts ?? coil.pullsInFromVolts) !== undefined);
    return {
      section,
      when: isSeen ? when.replace(/, listen.*/, ', look') : when,
      where: part,
      expected: sounds.join('; '),
    };
  });
}

/** What is heard of a coil, or seen of what it works, at nominal mains. */
function soundWords(circuit: CircuitAnalysis, moment: Moment, coil: ResolvedElement): string {
  const solution = circuit.at('nominal', moment.closed, moment.loads)?.solution;
  const figures = solution?.element(coil.id);
  if (figures === undefined || solution?.problem !== undefined) return 'no figure';
  const volts = Math.hypot(figures.volts.re, figures.volts.im);
  const amps = figures.amps === null ? 0 : Math.hypot(figures.amps.re, figures.amps.im);
  if (coil.releasesBelowVolts !== undefined) return volts < coil.releasesBelowVolts ? 'lets go' : 'holds';
  if (coil.pullsInFromVolts !== undefined) return volts >= coil.pullsInFromVolts ? 'pulls in' : 'rests';
  if (coil.ringsFromVolts !== undefined && volts >= coil.ringsFromVolts) return 'sounds';
  if (coil.humsFromAmps !== undefined && amps >= coil.humsFromAmps) return 'may hum';
  return 'silent';
}

function buttonRows(bench: Bench, contact: string): TestRow[] {
  const { analysis, circuit } = bench;
  const section = 'button';
  const shorted = circuit.at('nominal', [contact], 'idle')?.solution.shorted ?? [];
  const idle: Moment = { closed: [contact], loads: 'idle' };
  const when = whenWords(bench, idle);
  if (shorted.length > 0) {
    return [
      {
        section,
        when,
        where: circuit.supplies.join(', '),
        expected: `do not ${analysis.momentary.has(contact) ? 'press' : 'switch it on'}: it shorts the supply`,
      },
    ];
  }
  const rows: TestRow[] = [];
  for (const loads of loadings(bench)) {
    const moment: Moment = { closed: [contact], loads };
    for (const coil of loads === 'idle' ? elementsOf(bench, 'coil') : []) {
      rows.push(voltsRow(bench, section, when, betweenWords(bench, coil), expectedAcross(circuit, moment, coil)));
    }
    // A part that plays by its own electronics takes its peak while it does.
    for (const load of loads === 'peak' ? wokenBy(bench, moment) : []) {
      const label = whenWords(bench, moment);
      rows.push(voltsRow(bench, section, label, betweenWords(bench, load), expectedAcross(circuit, moment, load)));
    }
  }
  const lamps = elementsOf(bench, 'lamp').map((lamp) =>
    voltsRow(bench, section, when, betweenWords(bench, lamp), expectedAcross(circuit, idle, lamp)),
  );
  const windings = outputsOf(bench).map(({ where, a, b }) =>
    voltsRow(bench, section, when, where, expectedVolts(circuit, idle, a, b)),
  );
  const listen = analysis.momentary.has(contact) ? 'listen: once, then held' : 'listen';
  const heard = soundRows(bench, section, `${when}, ${listen}`, idle);
  return [...windings, ...rows, ...lamps, ...heard];
}

/** Loads that are on in a moment and off at rest. */
function wokenBy(bench: Bench, moment: Moment): ResolvedElement[] {
  const on = (at: Moment, id: string) =>
    bench.circuit.at('nominal', at.closed, at.loads)?.solution.element(id)?.on === true;
  return elementsOf(bench, 'load').filter(({ id }) => on(moment, id) && !on({ closed: [], loads: moment.loads }, id));
}

/** What is fed all the time: at rest, at its peak, and while another door rings. */
function doorbellRows(bench: Bench): TestRow[] {
  const { circuit } = bench;
  const always = elementsOf(bench, 'load').filter(
    ({ id }) => circuit.at('nominal', [], 'idle')?.solution.element(id)?.on !== false,
  );
  return always.flatMap((load) => {
    const where = betweenWords(bench, load);
    const others = circuit.circuit.contacts.filter((contact) => contact.split('.')[0] !== load.part);
    const moments: Moment[] = [
      ...loadings(bench).map((loads): Moment => ({ closed: [], loads })),
      ...others.map((contact): Moment => ({ closed: [contact], loads: circuit.circuit.hasPeak ? 'peak' : 'idle' })),
    ];
    return moments.map((moment) =>
      voltsRow(bench, 'doorbell', whenWords(bench, moment), where, expectedAcross(circuit, moment, load)),
    );
  });
}
