/** What is concluded from an installation before any check speaks: parts settled, circuits found, every condition solved. */

import type {
  Circuit,
  CircuitState,
  ElementFigures,
  LoadCondition,
  Phasor,
  PreparedNetwork,
  Solution,
  SystemKind,
} from '@ohmstead/circuit';
import type { FactName } from './place-in-record.js';
import type {
  CableType,
  End,
  Installation,
  Jumper,
  PartElement,
  PartFacts,
  PartType,
  Place,
  Rating,
  Run,
  Terminal,
} from './model.js';

/** Conditions the circuit is solved at. `labels`: every source ideal at its rated volts (for too much by the label). */
export type Condition = 'nominal' | 'low' | 'high' | 'labels';

/** A figure that was not read off a label or a meter, and where it came from instead. */
export interface Assumption {
  readonly part: string;
  /** As in the notation: `no-load`, `draws`, `peaks`, `power-factor`, `stays-on`, `rating`, `length`, `ring`, `diode`, `unsolved`. */
  readonly what: string;
  /** In words with the figure: "a no-load voltage of 20 V (25 % regulation, common practice for 10 VA)". */
  readonly words: string;
}

/** One element of a part as the circuit has it. `id` is its id in the network. */
export interface ResolvedElement {
  readonly id: string;
  readonly index: number;
  readonly part: string;
  readonly element: PartElement;
  /** Points of the network: `hall-chime.trans`. */
  readonly a: string;
  readonly b: string;
  readonly system?: SystemKind;
  /** Rated volts and amps that it was computed from, where it has them. */
  readonly ratedVolts?: number;
  readonly ratedVoltAmperes?: number;
  readonly ratedAmps?: number;
  /** Of a tapped winding's sections: the whole winding they share, and its VA. */
  readonly sectionOf?: { readonly winding: string; readonly voltAmperes?: number };
  /** A winding's EMF and resistance at nominal mains. */
  readonly noLoadVolts?: number;
  readonly ohms?: number;
  readonly reactance?: number;
  /** Hz, of a winding; 0 for DC. */
  readonly frequency?: number;
  /** A coil's ringing volts and hum amps; undefined where it is meant to buzz or states none. */
  readonly ringsFromVolts?: number;
  readonly humsFromAmps?: number;
  /** An armature's pull-in and release volts, and what it takes until it is home, VA. */
  readonly pullsInFromVolts?: number;
  readonly releasesBelowVolts?: number;
  readonly inrushVoltAmperes?: number;
  /** A load's VA (or amps) idle and at peak, and the volts below which it is off. */
  readonly draws?: { readonly unit: 'VA' | 'A'; readonly idle: number; readonly peak: number };
  readonly powerFactor?: number;
  readonly staysOnFrom?: number;
  /** A contact's name in states: `porch-button`, or `porch-cam.ring` where the part has several or it is named. */
  readonly contact?: string;
  /** False for a ring contact that the part's `ring` setting takes out of the circuit. */
  readonly present: boolean;
  /** What the element's figures lack, in words; its circuit then has no figures. */
  readonly missing?: string;
  readonly assumed: readonly Assumption[];
}

export interface ResolvedPart {
  readonly name: string;
  readonly kind: 'supply' | 'device';
  readonly type?: PartType;
  readonly role?: string;
  readonly place?: Place;
  /** The type's facts with the instance's over them. */
  readonly facts: PartFacts;
  /** Facts that the instance itself states. */
  readonly stated: ReadonlySet<FactName>;
  readonly terminals: readonly Terminal[];
  readonly rating?: Rating;
  /** The supply its label asks for; `by` tells whether `needs supply` says so or a rating's VA on a part whose load states its own draws. */
  readonly needs?: { readonly least: number; readonly most?: number; readonly by: 'needs' | 'rating' };
  readonly elements: readonly ResolvedElement[];
}

export interface ResolvedConductor {
  /** Id of its element in the network; undefined for spare, capped, unknown or one-ended conductors. */
  readonly id?: string;
  readonly run: string;
  /** Position among the run's stated conductors. */
  readonly index: number;
  readonly colour: string;
  readonly from?: End;
  readonly to?: End;
  /** Ohms of this conductor alone; undefined where the run states neither length nor loop. */
  readonly ohms?: Readonly<Record<'nominal' | 'low' | 'high', number>>;
}

export interface ResolvedRun {
  readonly run: Run;
  readonly cable?: CableType;
  readonly conductors: readonly ResolvedConductor[];
  readonly lengthMetres?: number;
  readonly assumed: readonly Assumption[];
}

/** A solved condition of one circuit. */
export interface Solved {
  readonly state: CircuitState;
  readonly condition: Condition;
  readonly solution: Solution;
}

export interface CircuitAnalysis {
  readonly circuit: Circuit;
  /** Names of parts, runs and jumpers in it, sorted. */
  readonly supplies: readonly string[];
  readonly devices: readonly string[];
  readonly runs: readonly string[];
  readonly jumpers: readonly string[];
  /** Touches a statement that could not be read: nothing electrical is said about it. */
  readonly held: boolean;
  /** Has a run without length: voltage limits are not judged in it. */
  readonly unmeasuredRuns: readonly string[];
  /** Why no figures are computed for it, part by part; `solved` is then empty. Empty for a circuit that is solved. */
  readonly unsolved: readonly { readonly part: string; readonly words: string }[];
  readonly states: readonly CircuitState[];
  /** All states at one condition, in the order of `states`; solved when first asked for and kept. */
  solved(condition: Condition): readonly Solved[];
  /** One state at one condition. */
  at(condition: Condition, closed: readonly string[], loads: LoadCondition): Solved | undefined;
}

export interface Analysis {
  readonly installation: Installation;
  readonly parts: ReadonlyMap<string, ResolvedPart>;
  readonly runs: ReadonlyMap<string, ResolvedRun>;
  readonly jumpers: ReadonlyMap<string, Jumper>;
  readonly elements: ReadonlyMap<string, ResolvedElement>;
  readonly circuits: readonly CircuitAnalysis[];
  readonly assumptions: readonly Assumption[];
  /** Names of the contacts that spring back: a state with none of them lasts. */
  readonly momentary: ReadonlySet<string>;
  network(this: Analysis, condition: Condition): PreparedNetwork;
  /** The circuit in which an element of the network lies. */
  circuitOfElement(this: Analysis, id: string): CircuitAnalysis | undefined;
  circuitsOfPart(this: Analysis, name: string): readonly CircuitAnalysis[];
  /** Everything landed on a point: conductor ends, jumpers, own leads, in order of name. */
  landedOn(this: Analysis, point: string): readonly Landed[];
}

/** What is landed on a terminal or in a splice. */
export type Landed =
  | {
      readonly kind: 'conductor';
      readonly run: string;
      readonly index: number;
      readonly colour: string;
      readonly end: 'from' | 'to';
    }
  | { readonly kind: 'jumper'; readonly jumper: string; readonly end: 'from' | 'to' }
  | { readonly kind: 'lead'; readonly part: string; readonly terminal: string };

export type { ElementFigures, Phasor };

/** The part or splice of a point, or the part of a contact: `hall-chime` of `hall-chime.trans`. */
export function partNameOf(name: string): string {
  return name.split('.', 1)[0] ?? name;
}

/** `hall-chime.trans`, or the splice's own name. */
export function pointOf(end: End): string {
  return end.terminal === undefined ? end.part : `${end.part}.${end.terminal}`;
}
