/** A general-purpose circuit simulator, compiled to WebAssembly, as a reference that nobody here wrote: networks written in its language. */

import { Simulation } from 'eecircuit-engine';
import type { InParts } from './complex-parts.js';
import type { CircuitElement, CircuitState, Phasor, Solution } from '../../packages/circuit/src/index.js';

/** Its own tolerances, as tight as they go without its iterations giving up. */
const OPTIONS = '.options reltol=1e-10 vntol=1e-12 abstol=1e-14 gmin=1e-15 itl1=2000';

/** Through the bends of diodes it does not get with the tolerances above. */
const OPTIONS_IN_TIME = '.options reltol=1e-5 vntol=1e-7 abstol=1e-10 gmin=1e-9';

/** Its memory grows with every run; a new one starts after so many. */
const RUNS_OF_ONE = 120;

/** After so many milliseconds a run counts as failed: it never comes back from some errors. */
const LONGEST_RUN = 8_000;

/** Volts by point; undefined where the simulator gave no answer. */
export type Reference = ReadonlyMap<string, Phasor> | undefined;

export class Simulator {
  #simulation: Simulation | undefined;
  #runs = 0;

  /** Runs one netlist; the values of its variables, or undefined when it failed. Earlier results that it hands back on failure are not taken. */
  async run(
    lines: readonly string[],
    expected: readonly string[],
    options = OPTIONS,
  ): Promise<Map<string, Phasor[]> | undefined> {
    if (this.#simulation === undefined || this.#runs >= RUNS_OF_ONE) {
      this.#simulation = new Simulation();
      await this.#simulation.start();
      this.#runs = 0;
    }
    this.#runs++;
    const simulation = this.#simulation;
    simulation.setNetList(['reference', ...lines, options, '.end', ''].join('\n'));
    const timeout = new Promise<undefined>((done) => setTimeout(done, LONGEST_RUN, undefined));
    const result = await Promise.race([simulation.runSim().catch(() => undefined), timeout]);
    const failed =
      result === undefined || simulation.getError().some((line) => /error|singular|failed|no conv/i.test(line));
    const names = new Set(result?.variableNames ?? []);
    if (failed || !expected.every((name) => names.has(name))) {
      this.#simulation = undefined;
      return undefined;
    }
    return new Map(
      result.data.map(({ name, values }) => [
        name,
        values.map((value) => (typeof value === 'number' ? { re: value, im: 0 } : { re: value.real, im: value.img })),
      ]),
    );
  }

  /** Volts of every point of an AC network written as real and imaginary parts. */
  async inParts({ lines, points }: InParts): Promise<Reference> {
    const named = [...points].filter(([, name]) => name !== '0');
    const values = await this.run(
      [...lines, '.op'],
      named.flatMap(([, name]) => [`v(${name}r)`, `v(${name}i)`]),
    );
    if (values === undefined) return undefined;
    const part = (name: string, which: 'r' | 'i'): number => values.get(`v(${name}${which})`)![0]!.re;
    return new Map(
      [...points].map(([point, name]) => [
        point,
        name === '0' ? { re: 0, im: 0 } : { re: part(name, 'r'), im: part(name, 'i') },
      ]),
    );
  }

  /** RMS of the volts between pairs of points over the second of two cycles. */
  async overACycle(
    lines: readonly string[],
    pairs: readonly (readonly [string, string])[],
    frequency: number,
  ): Promise<readonly number[] | undefined> {
    const cycle = 1 / frequency;
    const step = cycle / 2000;
    const names = [...new Set(pairs.flat())].filter((name) => name !== '0').map((name) => `v(${name})`);
    const values = await this.run(
      [...lines, `.tran ${step} ${2 * cycle} ${cycle} ${step}`],
      ['time', ...names],
      OPTIONS_IN_TIME,
    );
    if (values === undefined) return undefined;
    const times = values.get('time')!.map(({ re }) => re);
    const volts = (name: string, k: number): number => (name === '0' ? 0 : values.get(`v(${name})`)![k]!.re);
    return pairs.map(([a, b]) => {
      let sum = 0;
      for (let k = 1; k < times.length; k++) {
        const before = volts(a, k - 1) - volts(b, k - 1);
        const after = volts(a, k) - volts(b, k);
        sum += ((before * before + after * after) / 2) * (times[k]! - times[k - 1]!);
      }
      return Math.sqrt(sum / (times.at(-1)! - times[0]!));
    });
  }

  /** Volts of every point against its part's reference, one frequency of AC or DC, for a network without nonlinear loads on AC. */
  async linear(network: Written): Promise<Reference> {
    const { lines, points, frequency } = network;
    const analysis = frequency === 0 ? '.op' : `.ac lin 1 ${frequency} ${frequency}`;
    const names = [...points.values()].filter((name) => name !== '0').map((name) => `v(${name})`);
    const values = await this.run([...lines, analysis], names);
    if (values === undefined) return undefined;
    return new Map(
      [...points].map(([point, name]) => [point, name === '0' ? { re: 0, im: 0 } : values.get(`v(${name})`)![0]!]),
    );
  }
}

export interface Written {
  readonly lines: readonly string[];
  /** The simulator's name of each point; `0` for references. */
  readonly points: ReadonlyMap<string, string>;
  readonly frequency: number;
}

/** Which contacts are made, and which loads and bypasses conduct (as the solution that is held against it says). */
export interface Settings {
  readonly state: CircuitState;
  readonly solution: Solution;
  readonly frequency: number;
}

export function isMade(element: CircuitElement, { closed }: CircuitState): boolean {
  return element.kind === 'contact' && closed.includes(element.contact) === (element.normally === 'open');
}

/** The elements that carry current, as joined pairs of points. */
function conducting(element: CircuitElement, { state, solution, frequency }: Settings): boolean {
  switch (element.kind) {
    case 'contact':
      return isMade(element, state);
    case 'power':
    case 'current':
    case 'bypass':
      return solution.element(element.id)?.on === true;
    case 'impedance':
      return frequency > 0 || element.reactance >= 0;
    default:
      return true;
  }
}

/** Points of parts that a source reaches, each part with one reference named 0. */
export function namesOf(elements: readonly CircuitElement[], settings: Settings): Map<string, string> {
  const around = new Map<string, Set<string>>();
  const join = (a: string, b: string): void => {
    for (const [x, y] of [
      [a, b],
      [b, a],
    ] as const) {
      const known = around.get(x) ?? new Set();
      known.add(y);
      around.set(x, known);
    }
  };
  for (const element of elements) {
    if (!conducting(element, settings)) continue;
    join(element.a, element.b);
    if (element.kind === 'source' && element.fedBy !== undefined) join(element.fedBy.a, element.fedBy.b);
  }
  const names = new Map<string, string>();
  for (const element of elements) {
    if (element.kind !== 'source' || names.has(element.b)) continue;
    names.set(element.b, '0');
    const queue = [element.b];
    for (let head = 0; head < queue.length; head++) {
      for (const next of around.get(queue[head]!) ?? []) {
        if (names.has(next)) continue;
        names.set(next, `p${names.size}`);
        queue.push(next);
      }
    }
  }
  return names;
}

/** A network as the simulator reads it; jumpers as sources of 0 V, since 0 ohm is written as a small resistance there. */
export function written(elements: readonly CircuitElement[], settings: Settings): Written {
  const { frequency, state, solution } = settings;
  const points = namesOf(elements, settings);
  const lines: string[] = [];
  const omega = 2 * Math.PI * frequency;
  let count = 0;
  /** Ohms and reactance in series between two names. */
  const series = (a: string, b: string, ohms: number, reactance: number): void => {
    const id = count++;
    const reactive = frequency > 0 ? reactance : 0;
    const middle = ohms > 0 && reactive !== 0 ? `m${id}` : b;
    if (ohms > 0) lines.push(`r${id} ${a} ${middle} ${ohms}`);
    const from = ohms > 0 ? middle : a;
    if (reactive > 0) lines.push(`l${id} ${from} ${b} ${reactive / omega}`);
    if (reactive < 0) lines.push(`c${id} ${from} ${b} ${-1 / (reactive * omega)}`);
    if (ohms === 0 && reactive === 0) lines.push(`v${id} ${a} ${b} dc 0 ac 0`);
  };
  for (const element of elements) {
    if (!conducting(element, settings)) continue;
    const a = points.get(element.a);
    const b = points.get(element.b);
    if (a === undefined || b === undefined) continue;
    switch (element.kind) {
      case 'short':
      case 'contact':
        series(a, b, 0, 0);
        break;
      case 'impedance':
        series(a, b, element.ohms, element.reactance);
        break;
      case 'bypass':
        series(a, b, element.ohms, 0);
        break;
      case 'source': {
        const inner = `e${count}`;
        series(inner, a, element.ohms, element.system === 'DC' ? 0 : element.reactance);
        const id = count++;
        if (element.fedBy === undefined) {
          const value = frequency === 0 ? `dc ${element.volts}` : `dc 0 ac ${element.volts} ${element.phase}`;
          lines.push(`v${id} ${inner} ${b} ${value}`);
        } else {
          const fa = points.get(element.fedBy.a)!;
          const fb = points.get(element.fedBy.b)!;
          lines.push(`v${id} ${inner} x${id} dc 0 ac 0`, `e${id} x${id} ${b} ${fa} ${fb} ${element.fedBy.ratio}`);
          lines.push(`f${id} ${fa} ${fb} v${id} ${-element.fedBy.ratio}`);
        }
        break;
      }
      case 'power':
      case 'current': {
        const id = count++;
        const across = a === '0' ? `(-v(${b}))` : b === '0' ? `v(${a})` : `(v(${a})-v(${b}))`;
        const draw =
          element.kind === 'power'
            ? `${element.voltAmperes[state.loads]}/${across}`
            : `${element.amps[state.loads]}*${across}/abs(${across})`;
        lines.push(`b${id} ${a} ${b} i=${draw}`);
        break;
      }
    }
  }
  for (const [point, name] of points) {
    const reference = [...points].find(
      ([other, known]) => known === '0' && solution.between(point, other) !== null,
    )?.[0];
    const guess = reference === undefined ? null : solution.between(point, reference);
    if (name !== '0' && guess !== null && hasLoads(elements)) lines.push(`.nodeset v(${name})=${guess.re.toFixed(2)}`);
  }
  return { lines, points, frequency };
}

function hasLoads(elements: readonly CircuitElement[]): boolean {
  return elements.some(({ kind }) => kind === 'power' || kind === 'current');
}
