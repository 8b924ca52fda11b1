/** Figures of habit that the fault finder goes by. All of them: common practice, no source. */

import type { FaultKind } from './types.js';

/** What may be off in a sound house, each as half the width of its band, as a share. */
export const spreads = {
  mains: 0.05,
  regulatedOutput: 0.03,
  assumedRegulation: 0.4,
  /** Of a winding's ohms where the label gives a no-load figure. */
  statedRegulation: 0.2,
  coil: 0.3,
  aboutLength: 0.2,
  /** A measured length still leaves temperature, slack and the wire's own tolerance. */
  measuredLength: 0.15,
  /** Of the stand-in for a run without length. */
  unknownLength: 0.9,
  lamp: 0.2,
  resistor: 0.05,
  closedContact: 1.5,
  /** Of a sound joint's ohms. */
  joint: 2,
} as const;

/** Of the meter: a share of the reading and figures in the reading's unit. */
export const meter = { share: 0.02, volts: 0.2, amps: 0.02, ohms: 0.5, ohmsInput: 1e7 } as const;

/** Ohms of what is sound, and of what is open. */
export const sound = {
  joint: 0.05,
  contact: 0.1,
  unknownWire: 0.3,
  bridge: 0.05,
  source: 1e-3,
  open: 1e10,
  never: 1e11,
} as const;

/** From this many ohms on a meter shows OL; from this a point counts as hanging free; below this it is a short. */
export const ohmLimits = { overRange: 2e7, floating: 5e7, short: 2, someUpTo: 1e6 } as const;

/** Half the width, as a share, of the limits at which coils ring and hum and lamps are seen. */
export const signSpread = { rings: 0.2, hums: 0.5, lit: 0.6, stays: 0.15 } as const;

/** Share of rated volts from which a lamp is seen to glow, and of rated amps from which a coil that states no limit hums. */
export const glowsFrom = 0.3;
export const humsFromShare = 0.25;
/** A sounder without stated limits rings from this share of its rated volts. */
export const ringsFromShare = 0.6;
/** How often a person hears or sees wrongly. */
export const misheard = 0.01;

/** How bad faults are: ohms, or factors on what is recorded. Each lies in a step of its own on a scale of factors. */
export const severities = {
  corrodedOhms: [5, 100],
  looseOhms: [5, 500],
  leakOhms: [100, 10_000],
  tiredFactor: [3, 12],
  shortedTurnsFactor: [0.08, 0.4],
  longRunFactor: [2.5, 10],
  shortOhms: 0.05,
} as const;

/** Volts that supplies are found with. */
export const otherVolts: readonly number[] = [8, 10, 12, 16, 18, 24];

export type FaultClass = 'button' | 'joint' | 'supply' | 'chime' | 'cable' | 'setting' | 'rest';

/** Of a hundred call-backs. */
export const classShares: Readonly<Record<FaultClass, number>> = {
  button: 35,
  joint: 20,
  supply: 20,
  chime: 12,
  cable: 6,
  setting: 5,
  rest: 2,
};

/** After recent work half of all is swaps, jumpers and settings. */
export const classSharesAfterWork: Readonly<Record<FaultClass, number>> = {
  button: 17,
  joint: 12,
  supply: 10,
  chime: 6,
  cable: 4,
  setting: 20,
  rest: 31,
};

/** What a kind belongs to, and its weight beside the others of its class. */
export const kindWeights: Readonly<Record<FaultKind, readonly [FaultClass, number]>> = {
  'contact-corroded': ['button', 4],
  'contact-stuck-open': ['button', 4],
  'contact-stuck-closed': ['button', 2],
  'joint-loose': ['joint', 1],
  'supply-dead': ['supply', 4],
  'supply-off': ['supply', 4],
  'supply-tired': ['supply', 2],
  'supply-other-volts': ['setting', 2],
  'supply-wrong-tap': ['setting', 2],
  'coil-open': ['chime', 3],
  'coil-turns-shorted': ['chime', 1],
  'plunger-stuck': ['chime', 5],
  'load-dead': ['chime', 3],
  'conductor-open': ['cable', 3],
  'pair-shorted': ['cable', 2],
  'pair-leaking': ['cable', 1],
  'run-longer-or-thinner': ['cable', 1],
  'ring-setting': ['setting', 3],
  'bypass-left-in': ['setting', 2],
  'bypass-left-out': ['setting', 2],
  'bypass-failed-open': ['rest', 1],
  'bypass-failed-closed': ['rest', 1],
  'diode-missing': ['rest', 1],
  'diode-reversed': ['rest', 1],
  'ends-swapped': ['rest', 2],
};

/** Belief that nothing is wrong before anything is read. */
export const soundBefore = 0.25;

/** What a step costs beside the step itself. */
export const effort = { samePlace: 1, anotherPlace: 4, openBox: 4, liftWire: 3, secondPerson: 4 } as const;

/** From this belief in the first, and in the first three together, nothing more needs to be measured; below so many bits nothing more is worth it. */
export const sureFrom = 0.9;
export const sureOfThreeFrom = 0.97;
export const sureSoundFrom = 0.97;
export const leastBits = 0.01;
