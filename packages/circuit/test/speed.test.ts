import { describe, expect, it } from 'vitest';
import { type CircuitElement, type CircuitState, prepare, statesOf } from '../src/index.js';
import { ac, contact, watts, wire, z } from './networks.js';

/** Feed and return bridged by loads every few points, as two-conductor cable networks are. */
function cableNetwork(pairs: number, loads: number, contacts: number): CircuitElement[] {
  const elements: CircuitElement[] = [ac('tx', 'f0', 'r0', 27, { ohms: 0.4, reactance: 0.2 })];
  for (let i = 0; i < pairs; i++) {
    elements.push(wire(`f${i}-`, `f${i}`, `f${i + 1}`, 0.02), wire(`r${i}-`, `r${i}`, `r${i + 1}`, 0.02));
  }
  for (let i = 0; i < loads; i++) {
    const at = 1 + Math.floor((i * (pairs - 1)) / loads);
    elements.push(watts(`load${i}`, `f${at}`, `r${at}`, 0.3, 8, 0.6));
  }
  for (let i = 0; i < contacts; i++) {
    const at = 2 + Math.floor((i * (pairs - 2)) / contacts);
    elements.push(z(`coil${i}`, `f${at}`, `c${i}`, 200, 150), contact(`push${i}`, `c${i}`, `r${at}`));
  }
  return elements;
}

/** The best of several rounds, since other work on the machine only ever adds. */
function millisecondsPerState(
  elements: readonly CircuitElement[],
  states: (all: readonly CircuitState[]) => readonly CircuitState[],
) {
  const prepared = prepare({ elements });
  const [circuit] = prepared.circuits;
  const wanted = states(statesOf(circuit!));
  for (const state of wanted) expect(prepared.solve(circuit!, state).problem).toBeUndefined();
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 15; round++) {
    const start = performance.now();
    for (const state of wanted) prepared.solve(circuit!, state);
    best = Math.min(best, (performance.now() - start) / wanted.length);
  }
  return best;
}

describe('speed', () => {
  it('solves a doorbell circuit of 40 points in a few milliseconds a state at most', () => {
    const taken = millisecondsPerState(cableNetwork(17, 3, 5), (all) => all);
    console.info(`40 points, 3 loads: ${taken.toFixed(3)} ms a state`);
    expect(taken).toBeLessThan(5);
  });

  it('solves 300 points with 30 loads in well under 0.2 s a state', () => {
    const taken = millisecondsPerState(cableNetwork(145, 30, 8), (all) => all.slice(0, 10));
    console.info(`300 points, 30 loads: ${taken.toFixed(2)} ms a state`);
    expect(taken).toBeLessThan(200);
  });
});
