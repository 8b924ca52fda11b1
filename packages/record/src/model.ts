/**
 * An installation as plain data: what the notation's statements say, with names resolved to names and every figure in SI.
 * Nothing is concluded here. Types and parts keep their facts apart, so that what an instance states can override its type.
 */

import type { SystemKind } from '@ohmstead/circuit';
import type { ReadingBlock } from './readings-types.js';

/** A figure in SI. `about` marks one that was not measured. */
export interface Figure {
  readonly value: number;
  readonly about?: boolean;
}

/** From least to most, SI; equal for a single figure. */
export interface Range {
  readonly least: number;
  readonly most: number;
}

/** A conductor's size as the cable or label states it. */
export type ConductorSize =
  | { readonly kind: 'awg'; readonly awg: number }
  | { readonly kind: 'area'; readonly mm2: number }
  | { readonly kind: 'diameter'; readonly mm: number };

/** Sizes a terminal takes: `thickest` and `thinnest` are both optional. */
export interface SizeRange {
  readonly thinnest?: ConductorSize;
  readonly thickest?: ConductorSize;
}

export interface Rating {
  readonly volts?: Range;
  readonly system?: SystemKind;
  /** As many of these as the label gives. */
  readonly voltAmperes?: number;
  readonly watts?: number;
  readonly amps?: number;
}

/** One `output` line: of a single winding, or of a tap or one of several windings by name. */
export interface Output {
  readonly tap?: string;
  readonly volts?: number;
  readonly system?: SystemKind;
  readonly voltAmperes?: number;
  readonly amps?: number;
  readonly frequency?: number;
}

/** A terminal of a part, or a splice. */
export interface End {
  readonly part: string;
  /** Absent for a splice. */
  readonly terminal?: string;
}

/** The facts that a type and an instance may both state; an instance's override its type's. */
export interface PartFacts {
  readonly outputs: readonly Output[];
  readonly noLoadVolts?: number;
  readonly regulated?: boolean;
  readonly accepts?: SizeRange;
  readonly measuredOpenVolts?: number;
  readonly measuredLoaded?: { readonly volts: number; readonly amps: number };
  /** The supply the part's box asks for, VA; `most` only where a maximum is stated. */
  readonly needsSupply?: { readonly least: number; readonly most?: number };
  readonly ring?: 'mechanical' | 'electronic' | 'none';
  readonly rating?: Rating;
  /** Limits from a data sheet, held exactly, volts. */
  readonly limits?: Range;
  /** Of an instance alone: figures of its loads and coils that its own label or data sheet gives. */
  readonly figures?: OwnFigures;
  /** Of a supply: its battery in ampere hours, the hours it is wanted to last, and the watts its outputs share. */
  readonly batteryAmpereHours?: number;
  readonly standbyHours?: number;
  readonly budgetWatts?: number;
  readonly togetherAtMost?: number;
  readonly neverTogether?: readonly (readonly string[])[];
  readonly outdoor?: boolean;
  readonly listed?: readonly string[];
  /** Of a branch circuit: what its breaker lets through, amps, and its number in the panel. */
  readonly breakerAmps?: number;
  /** What else it feeds, amps; `continuous` for what is on for three hours or more. */
  readonly existingLoads?: readonly { readonly amps: number; readonly continuous: boolean }[];
  readonly circuit?: string;
  readonly notes: readonly string[];
  readonly labels: readonly string[];
  readonly photos: readonly string[];
  readonly installed?: string;
}

/** An instance's own figures; each overrides that of all elements of its type that have such a figure. */
export interface OwnFigures {
  readonly draws?: LoadElement['draws'];
  readonly peaks?: LoadElement['peaks'];
  readonly powerFactor?: number;
  readonly staysOnFrom?: number;
  readonly ringsFrom?: number;
  readonly humsFrom?: number | 'off';
  readonly dcOhms?: number;
  readonly pullsInFrom?: ShareOrVolts;
  readonly releasesBelow?: ShareOrVolts;
  readonly inrush?: CoilElement['inrush'];
}

/** A share of the rated volts, or volts. */
export type ShareOrVolts = { readonly share: number } | { readonly volts: number };

export interface Terminal {
  readonly name: string;
  /** The words on the part: "TRANS". */
  readonly words?: string;
  readonly optional: boolean;
  readonly holds?: number;
  readonly lineSide?: 'hot' | 'neutral' | 'ground';
}

/** Figures of an element may be its own or follow the part's rating (`as rated`). */
interface ElementBase {
  readonly a: string;
  readonly b: string;
  readonly asRated: boolean;
}

export interface WindingElement extends ElementBase {
  readonly kind: 'winding';
  readonly volts?: number;
  readonly voltAmperes?: number;
  readonly amps?: number;
  readonly system?: SystemKind;
  readonly frequency?: number;
  readonly noLoadVolts?: number;
  readonly phase?: number;
  readonly reactance?: number;
  /** Volts at each of the winding's tapped terminals, `a` first. */
  readonly taps?: readonly { readonly terminal: string; readonly volts: number }[];
}
export interface PrimaryElement extends ElementBase {
  readonly kind: 'primary';
  readonly volts?: number;
  readonly system?: SystemKind;
  readonly frequency?: number;
}
export interface CoilElement extends ElementBase {
  readonly kind: 'coil';
  readonly volts?: number;
  readonly voltAmperes?: number;
  readonly amps?: number;
  readonly powerFactor?: number;
  /** Shares of the rated volts (rings) and amps (hums), 0..1. */
  readonly ringsFrom?: number;
  readonly humsFrom?: number | 'off';
  readonly dcOhms?: number;
  /** The volts from which an armature pulls in, and those below which it lets go. */
  readonly pullsInFrom?: ShareOrVolts;
  readonly releasesBelow?: ShareOrVolts;
  /** What the coil takes until its armature is home. */
  readonly inrush?: { readonly unit: 'VA' | 'A'; readonly value: number };
  readonly system?: SystemKind;
}
export interface LoadElement extends ElementBase {
  readonly kind: 'load';
  readonly draws?: { readonly unit: 'W' | 'VA' | 'A'; readonly value: number };
  readonly peaks?: { readonly unit: 'W' | 'VA' | 'A'; readonly value: number };
  readonly powerFactor?: number;
  readonly staysOnFrom?: number;
  /** The volts below which what it holds is let go: a magnetic lock. */
  readonly releasesBelow?: ShareOrVolts;
  readonly system?: SystemKind;
}
export interface ResistorElement extends ElementBase {
  readonly kind: 'resistor';
  readonly ohms?: number;
  readonly watts?: number;
}
export interface LampElement extends ElementBase {
  readonly kind: 'lamp';
  readonly volts?: number;
  readonly watts?: number;
}
export interface ImpedanceElement extends ElementBase {
  readonly kind: 'impedance';
  readonly ohms?: number;
  readonly reactance?: number;
}
export interface ContactElement extends ElementBase {
  readonly kind: 'contact';
  /** Absent where the part has a single unnamed contact. */
  readonly name?: string;
  readonly maintained: boolean;
  readonly normallyClosed: boolean;
  /** For a changeover (`contact c to no or nc`): the terminal reached at rest; `b` is the one reached when actuated. */
  readonly restTo?: string;
}
export interface BypassElement extends ElementBase {
  readonly kind: 'bypass';
  readonly ohms?: number;
  readonly opensAbove?: number;
}
export interface DiodeElement extends ElementBase {
  readonly kind: 'diode';
}
export interface LinkElement extends ElementBase {
  readonly kind: 'link';
}
export type PartElement =
  | WindingElement
  | PrimaryElement
  | CoilElement
  | LoadElement
  | ResistorElement
  | LampElement
  | ImpedanceElement
  | ContactElement
  | BypassElement
  | DiodeElement
  | LinkElement;

/** A type as the library or the record declares it. `role` says what a part is for, as far as words depend on it: `chime`, `button`. */
export interface PartType {
  readonly name: string;
  readonly of: 'supply' | 'device';
  readonly words?: string;
  readonly terminals: readonly Terminal[];
  readonly elements: readonly PartElement[];
  readonly facts: PartFacts;
  readonly role?: string;
  /** True for a type of the shipped library. */
  readonly shipped: boolean;
}

export interface CableType {
  readonly name: string;
  readonly words?: string;
  readonly size?: ConductorSize;
  readonly colours: readonly string[];
  /** Per conductor at 20 degC. */
  readonly ohmsPerMetre?: number;
  readonly stranded: boolean;
  readonly material: 'copper' | 'copper-clad-aluminium';
  readonly listed: readonly string[];
  readonly withGround: boolean;
  readonly shielded: boolean;
  readonly outdoor: boolean;
  readonly directBurial: boolean;
  readonly shipped: boolean;
}

export interface Place {
  readonly name: string;
  readonly words?: string;
  readonly within?: string;
  readonly outdoor: boolean;
  readonly wet: boolean;
  readonly concealed: boolean;
  /** degC */
  readonly temperature?: number;
}

export interface Part {
  readonly name: string;
  readonly kind: 'supply' | 'device';
  /** The name of its type; absent when the type could not be found (reported by the reader). */
  readonly type?: string;
  readonly place?: string;
  readonly facts: PartFacts;
  /** A part's own leads on other terminals: `lands a on hall-chime.trans`. */
  readonly lands: readonly { readonly terminal: string; readonly on: End }[];
}

export interface Splice {
  readonly name: string;
  readonly place?: string;
  readonly holds?: { readonly least: number; readonly most: number; readonly size?: ConductorSize };
  readonly notes: readonly string[];
}

/** Where one end of a conductor is. */
export type Landing =
  | { readonly kind: 'on'; readonly end: End }
  | { readonly kind: 'capped' }
  | { readonly kind: 'unknown' };

/** One coloured conductor of a run, as stated. Conductors not stated are spare. */
export interface Conductor {
  /** As in the cable's colours: `red`, `red/white`, `1`. */
  readonly colour: string;
  /** Absent for one written with nothing after the colour's first end (a broken or half-written line). */
  readonly from?: Landing;
  readonly to?: Landing;
  readonly spare: boolean;
}

export interface Run {
  readonly name: string;
  /** Always resolved: a cable type's data or one built from a spelling such as `18/2`. */
  readonly cable?: CableType;
  /** The words as written: `18/2`. */
  readonly cableWords: string;
  readonly fromPlace?: string;
  readonly toPlace?: string;
  /** Metres, one way. */
  readonly length?: Figure;
  /** Ohms out and back, in place of a length. */
  readonly loopOhms?: Figure;
  /** Line-voltage runs that it lies beside, and how far from them, metres. */
  readonly beside?: readonly { readonly run: string; readonly metres: number }[];
  /** Drawn into a raceway or conduit. */
  readonly raceway?: boolean;
  readonly conductors: readonly Conductor[];
  readonly notes: readonly string[];
}

export interface Jumper {
  /** Given, or `jumper-1` … in order of their ends. */
  readonly name: string;
  readonly named: boolean;
  readonly kind: 'jumper' | 'pigtail';
  readonly from: End;
  readonly to: End;
}

/** An enclosure for line-voltage joints; it is also among the places, and what stands in it is its contents. */
export interface Box {
  readonly name: string;
  readonly place?: string;
  /** Cubic centimetres. */
  readonly volume?: number;
  readonly metal: boolean;
  readonly clamps: boolean;
  readonly barrier: boolean;
  readonly notes: readonly string[];
}

/** Equipment grounding: a terminal or splice bonded to a box. */
export interface Ground {
  readonly end: End;
  readonly box: string;
}

export interface Acceptance {
  readonly code: string;
  readonly on?: string;
  readonly because: string;
}

export interface Installation {
  readonly title?: string;
  readonly profile: string;
  readonly places: readonly Place[];
  readonly supplies: readonly Part[];
  readonly devices: readonly Part[];
  readonly splices: readonly Splice[];
  readonly runs: readonly Run[];
  readonly jumpers: readonly Jumper[];
  readonly accepts: readonly Acceptance[];
  /** Absent is none. */
  readonly boxes?: readonly Box[];
  readonly grounds?: readonly Ground[];
  /** What was read with a meter, heard and seen; absent is none. */
  readonly readings?: readonly ReadingBlock[];
  /** Types used or declared, by name; the shipped library's included. */
  readonly partTypes: ReadonlyMap<string, PartType>;
  /**
   * Names mentioned in statements that could not be read. Circuits that touch one of them are not judged, and a name in it is
   * never reported as unknown.
   */
  readonly broken: ReadonlySet<string>;
}
