/** Pieces of budgets made by hand. Their figures are chosen to be told apart, not computed. */

import type { BudgetConductor, BudgetElement, SolvedFigures, StateKey } from '@ohmstead/record';

export const rest: StateKey = { closed: [], loads: 'idle' };
export const held: StateKey = { closed: ['porch-button'], loads: 'idle' };
export const backHeld: StateKey = { closed: ['back-button'], loads: 'idle' };
export const bothHeld: StateKey = { closed: ['back-button', 'porch-button'], loads: 'idle' };
export const restPeak: StateKey = { closed: [], loads: 'peak' };

export function figures(state: StateKey, volts: number, amps: number, watts = volts * amps * 0.7): SolvedFigures {
  return { ...state, volts, amps, va: volts * amps, watts };
}

export function unsolved(state: StateKey, reason?: string): SolvedFigures {
  return { ...state, volts: null, amps: null, va: null, watts: null, ...(reason !== undefined && { reason }) };
}

export type On = BudgetElement['solved'][number];
export const on = (solved: SolvedFigures): On => ({ ...solved, on: true });
export const off = (solved: SolvedFigures): On => ({ ...solved, on: false });

export function conductor(
  colour: string,
  from: string,
  to: string,
  ohms: number | null,
  drops: [StateKey, number, number][],
): BudgetConductor {
  return { colour, from, to, ohms, solved: drops.map(([state, amps, dropVolts]) => ({ ...state, amps, dropVolts })) };
}
