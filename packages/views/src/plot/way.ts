/** The way of the current from a supply through a device and back, and the volts that are left at each point of it. */

import { type Analysis, type CircuitAnalysis, pointOf, type ResolvedElement, type Solved } from '@ohmstead/record';
import { colourWords } from '../papers/colour-letters.js';
import { endWords } from '../papers/trade-words.js';
import { stateLabel } from '../words.js';

export interface WayStep {
  /** What leads to the point from the one before: "red RD of tx-to-hall", "hall-chime coil"; empty at the start. */
  readonly by: string;
  /** The network's id of it. */
  readonly id: string;
  readonly point: string;
  readonly words: string;
  /** Of a run. */
  readonly metres?: number;
}

export interface WaySeries {
  readonly state: string;
  /** RMS volts between each point and the way's end, in the order of the steps. */
  readonly volts: readonly number[];
}

export interface Way {
  readonly device: string;
  readonly steps: readonly WayStep[];
  readonly series: readonly WaySeries[];
}

interface Link {
  readonly id: string;
  readonly a: string;
  readonly b: string;
  readonly by: string;
  readonly metres?: number;
}

/** Below this an element is no part of a way. */
const LEAST_AMPS = 1e-4;

/** One way for each element of the device and each path that its current takes; states that share one stand in it side by side. */
export function waysTo(analysis: Analysis, device: string): Way[] {
  const ways = new Map<string, { steps: readonly WayStep[]; series: WaySeries[] }>();
  const loads = analysis.parts.get(device)?.elements.filter(({ element }) => takers.has(element.kind)) ?? [];
  for (const element of loads) {
    const circuit = analysis.circuitOfElement(element.id);
    if (circuit === undefined || circuit.held || circuit.unsolved.length > 0) continue;
    const links = linksOf(analysis, circuit);
    for (const solved of circuit.solved('nominal')) {
      // Several held at once add ways that nobody looks for.
      if (solved.state.closed.length > 1) continue;
      const steps = wayThrough(analysis, element, links, solved);
      const volts = steps && voltsAlong(steps, solved);
      if (steps === undefined || volts === undefined) continue;
      const key = steps.map(({ id, point }) => `${id}>${point}`).join(' ');
      const way = ways.get(key) ?? { steps, series: [] };
      way.series.push({ state: stateLabel(solved.state), volts });
      ways.set(key, way);
    }
  }
  return [...ways.values()].map((way) => ({ device, ...way }));
}

const takers = new Set(['coil', 'load', 'lamp', 'resistor', 'impedance']);

function linksOf(analysis: Analysis, { circuit }: CircuitAnalysis): Link[] {
  const inside = new Set(circuit.elements);
  const conductors = [...analysis.runs.values()].flatMap(({ run, conductors: all, lengthMetres }) =>
    all.flatMap(({ id, colour, from, to }): Link[] =>
      id === undefined || from === undefined || to === undefined
        ? []
        : [{ id, a: pointOf(from), b: pointOf(to), by: `${colourWords(colour)} of ${run.name}`, metres: lengthMetres }],
    ),
  );
  const jumpers = [...analysis.jumpers.values()].map(
    ({ name, named, kind, from, to }): Link => ({
      id: `jumper/${name}`,
      a: pointOf(from),
      b: pointOf(to),
      by: named ? name : kind,
    }),
  );
  const leads = [...analysis.installation.supplies, ...analysis.installation.devices].flatMap(({ name, lands }) =>
    lands.map(
      ({ terminal, on }, index): Link => ({
        id: `lead/${name}/${index}`,
        a: `${name}.${terminal}`,
        b: pointOf(on),
        by: `lead of ${name}`,
      }),
    ),
  );
  const elements = [...analysis.elements.values()].flatMap(({ id, part, element, a, b, present }): Link[] =>
    !present || element.kind === 'winding' || element.kind === 'primary'
      ? []
      : [{ id, a, b, by: `${part} ${element.kind}` }],
  );
  return [...conductors, ...jumpers, ...leads, ...elements].filter(({ id }) => inside.has(id));
}

/** From a supply's screw to the element, through it, and on to another screw of a supply; undefined where no current goes that way. */
function wayThrough(
  analysis: Analysis,
  element: ResolvedElement,
  links: readonly Link[],
  { solution }: Solved,
): WayStep[] | undefined {
  if (solution.problem !== undefined) return undefined;
  const carries = (id: string): boolean => {
    const figures = solution.element(id);
    if (figures === undefined || !figures.on) return false;
    return figures.amps === null || Math.hypot(figures.amps.re, figures.amps.im) > LEAST_AMPS;
  };
  const own = links.find(({ id }) => id === element.id);
  if (own === undefined || !carries(own.id)) return undefined;
  const live = links.filter(({ id }) => id !== own.id && carries(id));
  const before = shortest(analysis, live, element.a, new Set([element.b]));
  if (before === undefined) return undefined;
  const after = shortest(analysis, live, element.b, new Set([element.a, ...before.map(({ point }) => point)]));
  if (after === undefined) return undefined;
  const start = before.at(-1)?.point ?? element.a;
  const there = before.map(({ link }, index) => ({ link, point: before[index - 1]?.point ?? element.a })).reverse();
  const made = [...there, { link: own, point: element.b }, ...after];
  const words = (point: string) => {
    const [part = '', terminal] = point.split('.');
    return endWords(analysis, { part, terminal });
  };
  return [
    { by: '', id: '', point: start, words: words(start) },
    ...made.map(
      ({ link, point }): WayStep => ({ by: link.by, id: link.id, point, words: words(point), metres: link.metres }),
    ),
  ];
}

interface Hop {
  readonly link: Link;
  /** Where it leads. */
  readonly point: string;
}

/** Fewest hops from a point to a supply's screw; empty where the point is one. */
function shortest(
  { parts }: Analysis,
  links: readonly Link[],
  from: string,
  barred: ReadonlySet<string>,
): Hop[] | undefined {
  const isSupply = (point: string) => parts.get(point.split('.')[0] ?? '')?.kind === 'supply';
  const ways = new Map<string, Hop[]>([[from, []]]);
  const queue = [from];
  for (let at = queue.shift(); at !== undefined; at = queue.shift()) {
    const way = ways.get(at) ?? [];
    if (isSupply(at)) return way;
    for (const link of links) {
      const next = link.a === at ? link.b : link.b === at ? link.a : undefined;
      if (next === undefined || ways.has(next) || barred.has(next)) continue;
      ways.set(next, [...way, { link, point: next }]);
      queue.push(next);
    }
  }
  return undefined;
}

function voltsAlong(steps: readonly WayStep[], { solution }: Solved): number[] | undefined {
  const end = steps.at(-1)?.point ?? '';
  const volts = steps.map(({ point }) => solution.between(point, end));
  return volts.every((each) => each !== null) ? volts.map(({ re, im }) => Math.hypot(re, im)) : undefined;
}
