/** How far a run could go: the volts that a device gets against the run's length, for each size of conductor. */

import {
  type CircuitElement,
  CONDUCTOR_TEMPERATURE,
  type ConductorSize,
  formatGauge,
  ohmsPerMetre,
  prepare,
} from '@ohmstead/circuit';
import { type Analysis, type Budget, type BudgetElement, buildNetwork, type ResolvedRun } from '@ohmstead/record';

export interface ReachLine {
  readonly gauge: string;
  /** Metres and RMS volts, by length; ends where the device lets go. */
  readonly points: readonly { readonly metres: number; readonly volts: number }[];
  /** The longest run at which it still gets the least volts; undefined where even none is too long, Infinity beyond 300 m. */
  readonly farthestMetres: number | undefined;
}

export interface Reach {
  readonly run: string;
  readonly device: string;
  readonly closed: readonly string[];
  readonly loads: 'idle' | 'peak';
  /** The least volts that it is judged by. */
  readonly least: number;
  readonly longestMetres: number;
  readonly lines: readonly ReachLine[];
  readonly present: { readonly metres: number; readonly volts: number } | undefined;
}

const sizes: Readonly<Record<'awg' | 'metric', readonly ConductorSize[]>> = {
  awg: [22, 20, 18, 16, 14].map((awg) => ({ awg })),
  metric: [0.22, 0.5, 0.75, 1, 1.5].map((mm2) => ({ mm2 })),
};

const STEPS = 24;
/** Nobody runs bell wire farther. */
const FARTHEST = 300;
/** A crossing is found to a tenth of a metre. */
const FOUND_WITHIN = 0.1;

/** For the device that the run's circuit leaves nearest its least volts, or the one that is named, in its worst moment at nominal mains. */
export function reachOf(analysis: Analysis, budget: Budget, runName: string, deviceName?: string): Reach | undefined {
  const run = analysis.runs.get(runName);
  const target = run && targetOf(analysis, budget, runName, deviceName);
  if (run === undefined || target === undefined) return undefined;
  const { device, id, least, closed, loads } = target;
  const circuit = analysis.circuitOfElement(id)?.circuit;
  if (circuit === undefined) return undefined;
  const inIt = new Set(circuit.elements);
  const recorded = buildNetwork(analysis.installation, analysis, 'nominal').elements.filter((each) =>
    inIt.has(each.id),
  );
  const voltsAt = (size: ConductorSize | undefined, metres: number): number | undefined => {
    const elements = size === undefined ? recorded : withRun(recorded, run, size, metres);
    const solution = prepare({ elements }).solve(circuit, { closed, loads });
    const figures = solution.problem === undefined ? solution.element(id) : undefined;
    return figures?.on === true ? Math.hypot(figures.volts.re, figures.volts.im) : undefined;
  };
  const { lengthMetres } = run;
  const longestMetres = Math.max(60, (lengthMetres ?? 0) * 3);
  const metric = budget.profile === 'north-america' ? sizes.awg : sizes.metric;
  const lines = metric.map((size): ReachLine => {
    const points = Array.from({ length: STEPS + 1 }, (_, step) => (longestMetres * step) / STEPS).flatMap((metres) => {
      const volts = voltsAt(size, metres);
      return volts === undefined ? [] : [{ metres, volts }];
    });
    return {
      gauge: formatGauge(size),
      points,
      farthestMetres: farthest((metres) => voltsAt(size, metres), least),
    };
  });
  const volts = lengthMetres === undefined ? undefined : voltsAt(undefined, lengthMetres);
  const present = lengthMetres === undefined || volts === undefined ? undefined : { metres: lengthMetres, volts };
  return { run: runName, device, closed, loads, least, longestMetres, lines, present };
}

function targetOf(analysis: Analysis, budget: Budget, run: string, wanted: string | undefined) {
  const names = new Set(analysis.circuits.filter(({ runs }) => runs.includes(run)).flatMap(({ devices }) => devices));
  const targets = budget.devices.flatMap(({ name, band, elements }) => {
    const { least } = band;
    if (least === null || !names.has(name) || (wanted !== undefined && name !== wanted)) return [];
    return elements.flatMap((element) => {
      const id = idOf(analysis, name, element);
      const worst = worstMoment(element);
      return id === undefined || worst === undefined
        ? []
        : [{ device: name, id, least, ...worst, margin: worst.volts / least }];
    });
  });
  return targets.sort((one, other) => one.margin - other.margin)[0];
}

function idOf({ elements }: Analysis, part: string, { kind, from, to }: BudgetElement): string | undefined {
  const bare = (point: string) => point.slice(point.indexOf('.') + 1);
  return [...elements.values()].find(
    (each) =>
      each.part === part && each.element.kind === kind && each.element.a === bare(from) && each.element.b === bare(to),
  )?.id;
}

/** The state at nominal mains in which it works with the fewest volts, one contact at most. */
function worstMoment({ kind, solved, leastWorking }: BudgetElement) {
  if (leastWorking === null || (kind !== 'load' && kind !== 'coil' && kind !== 'lamp')) return undefined;
  const most = Math.max(0, ...solved.map(({ volts }) => Math.abs(volts ?? 0)));
  const working = solved.flatMap(({ closed, loads, volts, on }) =>
    volts === null || !on || closed.length > 1 || Math.abs(volts) < most / 2
      ? []
      : [{ closed, loads, volts: Math.abs(volts) }],
  );
  return working.sort((one, other) => one.volts - other.volts)[0];
}

/** The run's conductors with another length, in plain solid copper of a size. */
function withRun(
  elements: readonly CircuitElement[],
  { conductors }: ResolvedRun,
  size: ConductorSize,
  metres: number,
): readonly CircuitElement[] {
  const copper = { size, stranded: false, material: 'copper', resistancePerKm20: undefined } as const;
  const ohms = (ohmsPerMetre(copper, CONDUCTOR_TEMPERATURE.nominal) ?? 0) * metres;
  const own = new Set(conductors.map((conductor) => conductor.id));
  return elements.map((element): CircuitElement => {
    if (!own.has(element.id)) return element;
    const { id, a, b } = element;
    return ohms === 0 ? { kind: 'short', id, a, b } : { kind: 'impedance', id, a, b, ohms, reactance: 0, wire: true };
  });
}

function farthest(voltsAt: (metres: number) => number | undefined, least: number): number | undefined {
  const holds = (metres: number) => (voltsAt(metres) ?? 0) >= least;
  if (!holds(0)) return undefined;
  if (holds(FARTHEST)) return Number.POSITIVE_INFINITY;
  let [held, failed] = [0, FARTHEST];
  while (failed - held > FOUND_WITHIN) {
    const middle = (held + failed) / 2;
    if (holds(middle)) held = middle;
    else failed = middle;
  }
  return held;
}
