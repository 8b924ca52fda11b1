/**
 * What a record's circuits do, from their solutions alone and not from any finding: which pushes ring which chimes, what hums or is driven at
 * rest, which loads run, which lamps are lit, and what is in danger. The shares are those of the checks' limits, written out here.
 */

import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../../packages/record/src/index.js';

export interface Behaviour {
  /** What somebody in the house notices, one line each: "porch-button rings hall-chime". */
  readonly does: ReadonlySet<string>;
  /** What is wrong or harmful: "hall-chime is driven at rest". */
  readonly harms: ReadonlySet<string>;
  /** Everything that is solved, to six digits: equal for equal circuits. */
  readonly figures: string;
  /** Contacts and lamps that there are. */
  readonly has: ReadonlySet<string>;
}

const volts = (solved: Solved, id: string) => magnitude(solved.solution.element(id)?.volts);
const amps = (solved: Solved, id: string) => magnitude(solved.solution.element(id)?.amps);

function magnitude(phasor: { readonly re: number; readonly im: number } | null | undefined): number {
  return phasor === null || phasor === undefined ? 0 : Math.hypot(phasor.re, phasor.im);
}

export function behaviourOf(analysis: Analysis): Behaviour {
  const does = new Set<string>();
  const harms = new Set<string>();
  const seen: Seen = { does, harms, stops: new Set(), held: [] };
  const figures: string[] = [];
  for (const circuit of analysis.circuits) {
    const elements = circuit.circuit.elements.flatMap((id) => analysis.elements.get(id) ?? []);
    const nominal = circuit.solved('nominal');
    for (const solved of nominal) {
      judgeState(analysis, elements, solved, seen);
      const state = `${solved.state.closed.join('+')} ${solved.state.loads}`;
      for (const { id } of elements)
        figures.push(`${state} ${id} ${volts(solved, id).toPrecision(6)} ${amps(solved, id).toPrecision(6)}`);
    }
    judgeLabels(analysis, circuit, elements, harms);
  }
  for (const one of seen.stops) does.delete(one);
  // Told against what a load does at rest, since that holds for the contacts of every other circuit too.
  const runs = new Set(seen.held.filter((one) => one.runs).map(({ part, contact }) => `${part} ${contact}`));
  for (const { part, contact } of seen.held) {
    const held = runs.has(`${part} ${contact}`);
    if (held !== does.has(`${part} runs`)) does.add(`${part} ${held ? 'runs' : 'stops'} while ${contact} is held`);
  }
  return { does, harms, has: thingsIn(analysis), figures: figures.sort().join('\n') };
}

/** What is gathered state by state. */
interface Seen {
  readonly does: Set<string>;
  readonly harms: Set<string>;
  /** What is not so in some state at rest. */
  readonly stops: Set<string>;
  /** Loads while one contact alone is held. */
  readonly held: { readonly part: string; readonly contact: string; readonly runs: boolean }[];
}

function judgeState(analysis: Analysis, elements: readonly ResolvedElement[], solved: Solved, seen: Seen): void {
  const { does, harms } = seen;
  const { state, solution } = solved;
  if (solution.shorted.length > 0) {
    harms.add('a supply is shorted');
    return;
  }
  const lasts = state.closed.every((contact) => !analysis.momentary.has(contact));
  const alone = state.closed.length === 1 && !lasts ? state.closed[0] : undefined;
  for (const element of elements) {
    const { id, part } = element;
    switch (element.element.kind) {
      case 'coil': {
        const rings = volts(solved, id) >= (element.ringsFromVolts ?? Number.POSITIVE_INFINITY);
        if (rings && alone !== undefined) does.add(`${alone} rings ${part}`);
        if (rings && state.closed.length === 0) harms.add(`${part} is driven at rest`);
        const hums = amps(solved, id) >= (element.humsFromAmps ?? Number.POSITIVE_INFINITY);
        if (hums && state.closed.length === 0) harms.add(`${part} hums at rest`);
        break;
      }
      case 'load': {
        const least =
          analysis.parts.get(part)?.facts.limits?.least ?? 0.9 * (analysis.parts.get(part)?.rating?.volts?.least ?? 0);
        const runs = solution.element(id)?.on === true && amps(solved, id) > 0 && volts(solved, id) >= least;
        const itself = state.closed.some((contact) => contact === part || contact.startsWith(`${part}.`));
        if (alone !== undefined && !itself) seen.held.push({ part, contact: alone, runs });
        if (runs && state.closed.length === 0) does.add(`${part} runs`);
        if (!runs && state.closed.length === 0) seen.stops.add(`${part} runs`);
        break;
      }
      case 'lamp':
        if (state.closed.length === 0 && volts(solved, id) > 0.5 * (element.ratedVolts ?? 0))
          does.add(`${part} is lit`);
        break;
      case 'winding': {
        const share = amps(solved, id) / (element.ratedAmps ?? Number.POSITIVE_INFINITY);
        if (share > (lasts ? 1.2 : state.closed.length > 1 ? Number.POSITIVE_INFINITY : 2))
          harms.add(`${part} is overloaded`);
        break;
      }
      case 'resistor': {
        const { watts } = element.element;
        if (lasts && watts !== undefined && volts(solved, id) * amps(solved, id) > watts)
          harms.add(`${part} overheats`);
        break;
      }
      default:
    }
  }
}

/** Volts above what the labels allow, every supply at its rated volts. */
function judgeLabels(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  elements: readonly ResolvedElement[],
  harms: Set<string>,
): void {
  for (const solved of circuit.solved('labels')) {
    if (solved.state.loads === 'peak' || solved.solution.shorted.length > 0) continue;
    for (const { id, part, element, ratedVolts } of elements) {
      if (element.kind !== 'coil' && element.kind !== 'load') continue;
      const { rating, facts } = analysis.parts.get(part) ?? {};
      const most = facts?.limits?.most ?? 1.15 * (rating?.volts?.most ?? ratedVolts ?? Number.POSITIVE_INFINITY);
      if (volts(solved, id) > most + 1e-6) harms.add(`${part} sees too many volts`);
    }
  }
}

/** `porch-button`, `porch-cam.ring`, `porch-button is lit` for a part with a lamp and `porch-cam runs` for one with a load. */
function thingsIn({ elements }: Analysis): ReadonlySet<string> {
  const things = [...elements.values()].flatMap(({ element, contact, present, part }) => {
    if (element.kind === 'lamp') return [`${part} is lit`];
    if (element.kind === 'load') return [`${part} runs`];
    return contact !== undefined && present ? [contact] : [];
  });
  return new Set(things);
}
