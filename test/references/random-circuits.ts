/** Circuits as they are in houses, drawn at random but the same every time: two-conductor cables that branch, with everything on them. */

import type { CircuitElement } from '../../packages/circuit/src/index.js';

/** Numbers from 0 to 1, the same for the same seed (mulberry32, public domain). */
export function numbersFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export interface Drawn {
  readonly system: 'AC' | 'DC';
  /** About so many points. */
  readonly points: number;
  readonly seed: number;
  /** Whether there are loads that draw so many VA or amperes whatever their volts. */
  readonly loads: boolean;
}

export const FREQUENCY = 60;

/** Feed and return that branch and come together again, coils and capacitors between them, buttons, jumpers, a second source, a transformer. */
export function drawCircuit({ system, points, seed, loads }: Drawn): CircuitElement[] {
  const next = numbersFrom(seed);
  const between = (least: number, most: number): number => least * (most / least) ** next();
  const pick = (count: number): number => Math.floor(next() * count);
  const reactance = (size: number): number => (system === 'AC' && next() < 0.5 ? size : 0);
  const elements: CircuitElement[] = [];
  const add = (element: CircuitElement): void => {
    elements.push({ ...element, id: `${element.kind}-${String(elements.length).padStart(5, '0')}` });
  };
  const source = (a: string, b: string, volts: number, ohms: number): void =>
    add({
      kind: 'source',
      id: '',
      a,
      b,
      system,
      frequency: system === 'AC' ? FREQUENCY : 0,
      volts,
      phase: system === 'AC' && next() < 0.3 ? Math.round(next() * 40 - 20) : 0,
      ohms,
      reactance: reactance(ohms / 2),
    });
  const impedance = (a: string, b: string, ohms: number, x: number, wire: boolean): void =>
    add({ kind: 'impedance', id: '', a, b, ohms, reactance: x, wire });
  const scale = Math.max(1, points / 40);
  const pairs = Math.max(2, Math.floor(points / 2.4));
  source('f0', 'r0', between(12, 30), next() < 0.3 ? 0 : between(0.2, 2) / scale);
  for (let i = 1; i < pairs; i++) {
    const from = next() < 0.7 ? i - 1 : pick(i);
    for (const side of ['f', 'r']) {
      if (next() < 0.04) add({ kind: 'short', id: '', a: `${side}${from}`, b: `${side}${i}` });
      else impedance(`${side}${from}`, `${side}${i}`, between(0.01, 0.6) / scale, reactance(0.01), true);
    }
    if (next() < 0.4)
      impedance(`f${i}`, `r${i}`, between(40, 4000) * scale, reactance(between(20, 900) * scale), false);
    if (next() < 0.02) impedance(`f${i}`, `r${i}`, between(1, 50) * scale, -between(100, 2000) * scale, false);
    if (next() < 0.1) impedance(`f${i}`, `f${pick(pairs)}`, between(0.05, 2), 0, true);
  }
  for (let button = 0; button < 3; button++) {
    const at = 1 + pick(pairs - 1);
    impedance(`f${at}`, `c${button}`, between(15, 60) * scale, reactance(between(10, 40) * scale), false);
    const normally = next() < 0.3 ? 'closed' : 'open';
    add({ kind: 'contact', id: '', a: `c${button}`, b: `r${at}`, contact: `push-${button}`, normally });
    impedance(`c${button}`, `r${at}`, between(200, 3000), 0, false);
  }
  if (next() < 0.6) source(`f${pick(pairs)}`, `r${pick(pairs)}`, between(10, 20), between(1, 10));
  if (system === 'AC') {
    const at = pick(pairs);
    add({
      kind: 'source',
      id: '',
      a: 's0',
      b: 's1',
      system,
      frequency: FREQUENCY,
      volts: 8,
      phase: 0,
      ohms: next() < 0.3 ? 0 : between(0.5, 5),
      reactance: 0,
      fedBy: { a: `f${at}`, b: `r${at}`, ratio: between(0.1, 0.6) },
    });
    impedance('s0', 's2', between(0.1, 1), 0, true);
    impedance('s2', 's1', between(20, 200) * scale, between(5, 100), false);
  }
  const bypassAt = 1 + pick(pairs - 1);
  add({ kind: 'bypass', id: '', a: `f${bypassAt}`, b: 'k0', ohms: 3, opensAbove: next() < 0.5 ? 0.001 : 5 });
  impedance('k0', `r${bypassAt}`, between(60, 200) * scale, 0, false);
  if (loads) {
    for (let load = 0; load < Math.min(24, 2 + points / 10); load++) {
      const at = 1 + pick(pairs - 1);
      const ends = { id: '', a: `f${at}`, b: `r${at}`, powerFactor: 1, staysOnFrom: next() < 0.2 ? 15 : 4 };
      const size = between(0.05, 1) / scale;
      if (next() < 0.7) add({ kind: 'power', ...ends, voltAmperes: { idle: size, peak: 2 * size } });
      else add({ kind: 'current', ...ends, amps: { idle: size / 20, peak: size / 10 } });
    }
  }
  return elements;
}
