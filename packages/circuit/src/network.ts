/**
 * A network as the solver takes it: two-terminal elements between named points, and what a solution of it says.
 * All figures are SI and RMS for AC. Nothing here knows what a chime or a cable is.
 */

/** A complex amplitude, RMS volts or amperes. DC networks use `im = 0`. */
export interface Phasor {
  readonly re: number;
  readonly im: number;
}

export type SystemKind = 'AC' | 'DC';

/** Whether the loads that have two draws draw the lesser or the greater one. */
export type LoadCondition = 'idle' | 'peak';

interface Between {
  /** Stable and unique in the network; ties are broken by it, so results do not depend on the order of elements. */
  readonly id: string;
  readonly a: string;
  readonly b: string;
}

/** An ideal connection: a jumper, a splice, a link. Merged, never a small resistance. */
export interface Short extends Between {
  readonly kind: 'short';
}

/** A winding or a power supply's output: an EMF from `a` (positive) to `b` behind ohms + j reactance; both 0 is an ideal source. */
export interface Source extends Between {
  readonly kind: 'source';
  readonly system: SystemKind;
  /** Hz; 0 for DC, and for AC whose frequency is not stated: that agrees with any. */
  readonly frequency: number;
  readonly volts: number;
  /** Degrees; 0 unless the winding is stated to oppose another. */
  readonly phase: number;
  readonly ohms: number;
  readonly reactance: number;
  /** The points that feed this winding when its primary hangs on another source: the EMF is then ratio x volts(a,b) and the primary carries ratio x amps. */
  readonly fedBy?: { readonly a: string; readonly b: string; readonly ratio: number };
}

/** Anything ohmic: a conductor, a coil, a lamp, a resistor. */
export interface Impedance extends Between {
  readonly kind: 'impedance';
  readonly ohms: number;
  readonly reactance: number;
  /** A conductor: counts as a bare path when shorts are looked for. */
  readonly wire: boolean;
}

/** A contact of a button or relay. Several elements may share one `contact` name (a changeover is two, with opposite `normally`). */
export interface Contact extends Between {
  readonly kind: 'contact';
  readonly contact: string;
  readonly normally: 'open' | 'closed';
}

/** A constant-VA load: current = VA / |V|, in phase with the volts; off (no current) below `staysOnFrom`. */
export interface PowerLoad extends Between {
  readonly kind: 'power';
  readonly voltAmperes: Readonly<Record<LoadCondition, number>>;
  /** Watts per VA, for reporting only: a rectifier's power factor does not turn the phasor. */
  readonly powerFactor: number;
  readonly staysOnFrom: number;
}

/** A constant-current load, in phase with the volts; off below `staysOnFrom`. */
export interface CurrentLoad extends Between {
  readonly kind: 'current';
  readonly amps: Readonly<Record<LoadCondition, number>>;
  readonly powerFactor: number;
  readonly staysOnFrom: number;
}

/** A bypass kit: ohms until its own current would pass `opensAbove`, then open; latched once per solution. */
export interface Bypass extends Between {
  readonly kind: 'bypass';
  readonly ohms: number;
  readonly opensAbove: number;
}

/** A rectifier diode: carries current from `a` (anode) to `b` (cathode, the end with the stripe) alone. */
export interface Diode extends Between {
  readonly kind: 'diode';
}

export type CircuitElement = Short | Source | Impedance | Contact | PowerLoad | CurrentLoad | Bypass | Diode;

export interface Network {
  readonly elements: readonly CircuitElement[];
}

/** Which contacts are actuated (pressed, switched over) and how the loads draw. */
export interface CircuitState {
  /** Names of the actuated contacts, sorted; `[]` when everything is at rest. */
  readonly closed: readonly string[];
  readonly loads: LoadCondition;
}

/** A part of the network that shares current paths when all contacts are closed either way. Points of different circuits hang free of one another. */
export interface Circuit {
  /** The smallest element id in it. */
  readonly id: string;
  readonly elements: readonly string[];
  readonly points: readonly string[];
  /** Contact names, sorted. */
  readonly contacts: readonly string[];
  readonly sources: readonly string[];
  readonly system: 'AC' | 'DC' | 'mixed' | 'none';
  /** Whether peak differs from idle anywhere in it. */
  readonly hasPeak: boolean;
}

/** Figures of one element in one state: volts across a to b, amps from a to b through it. */
export interface ElementFigures {
  readonly volts: Phasor;
  /** `null` where it cannot be known: an ideal connection that is one of a loop of them. */
  readonly amps: Phasor | null;
  /** False for a load that dropped out, a bypass that opened, an open contact, a diode that blocks, or an element in a part without a source. */
  readonly on: boolean;
}

/** A source's ends joined by nothing but wire, joints, closed contacts and diodes that let one direction through. */
export interface ShortedSource {
  readonly source: string;
  /** Element ids along one shortest such path, from the source's `a` to its `b`; empty when both ends are one point. */
  readonly path: readonly string[];
}

export type SolveProblem =
  /** An ideal source whose ends are one point: no finite current. */
  | { readonly kind: 'ideal-source-shorted'; readonly source: string }
  /** Ideal sources that contradict one another. */
  | { readonly kind: 'ideal-sources-parallel'; readonly sources: readonly string[] }
  /** Loads that ask more than the source and wire can give: no operating point with them on. */
  | {
      readonly kind: 'collapses';
      readonly loads: readonly string[] /** Share of the asked VA that could be had, 0..1. */;
      readonly available: number;
    }
  /** AC and DC, or two frequencies, in one circuit. */
  | { readonly kind: 'mixed-systems'; readonly sources: readonly string[] }
  /** Figures that are not finite or absurd in the network itself (negative ohms, NaN …). */
  | { readonly kind: 'bad-figure'; readonly element: string; readonly what: string }
  /** The equations have no single answer at these points. */
  | { readonly kind: 'singular'; readonly points: readonly string[] }
  /** The answer failed its own check: a fault of the program, never to be shown as a figure. */
  | { readonly kind: 'self-check-failed'; readonly residual: number };

/** One circuit solved in one state. */
export interface Solution {
  readonly state: CircuitState;
  /** Set when there are no figures to trust; `element` and `between` then answer undefined and null. */
  readonly problem: SolveProblem | undefined;
  /** Set when the figures are an approximation: why, in words. RMS without phases then, a source's amps negative where it delivers. */
  readonly approximate?: string;
  readonly shorted: readonly ShortedSource[];
  /** Loads that are off because their volts are below `staysOnFrom` although they would be on with their load taken away. */
  readonly droppedOut: readonly string[];
  /** Loads that would turn on again as soon as they are off: they would cycle. */
  readonly cycling: readonly string[];
  element(id: string): ElementFigures | undefined;
  /** Volts from point a to point b; null where one hangs free of the other. */
  between(a: string, b: string): Phasor | null;
}

/** A network made ready: shorts merged, circuits found, equations laid out once and reused for every state. */
export interface PreparedNetwork {
  readonly circuits: readonly Circuit[];
  readonly problems: readonly SolveProblem[];
  /** The circuit a point belongs to. */
  circuitOf(this: PreparedNetwork, point: string): Circuit | undefined;
  /** The name of the merged net a point is in (ideal connections only): equal names, same potential always. */
  netOf(this: PreparedNetwork, point: string): string | undefined;
  solve(this: PreparedNetwork, circuit: Circuit, state: CircuitState): Solution;
}

/** Which combinations of contacts a record allows. */
export interface ContactLimits {
  /** Groups of contacts of which at most `most` are closed together. */
  readonly together: readonly { readonly contacts: readonly string[]; readonly most: number }[];
  /** Pairs or sets that are never closed all at once. */
  readonly never: readonly (readonly string[])[];
}
