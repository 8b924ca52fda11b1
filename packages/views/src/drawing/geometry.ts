/** A drawing as shapes on a sheet, before it becomes SVG. Lengths are in CSS pixels, y downwards, from the sheet's upper left. */

import type { PartElement, Severity } from '@ohmstead/record';

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Box extends Point {
  readonly width: number;
  readonly height: number;
}

/** One element of a part, standing upright between two rails: `top` and `bottom` are where it meets them. */
export interface Column {
  /** Its id in the network. */
  readonly id: string;
  readonly element: PartElement;
  readonly x: number;
  /** Middle of the symbol. */
  readonly y: number;
  readonly from: number;
  readonly to: number;
  /** Of a contact: whether it is closed in the state that is drawn. */
  readonly closed: boolean;
  readonly live: boolean;
  /** "16.7 V", where it is known; a jumper's name. */
  readonly caption: string;
  /** A jumper between two of the part's own screws. */
  readonly bridge: boolean;
}

/** A terminal at the part's edge, and the line inside that leads from it to its elements. */
export interface Rail {
  readonly terminal: string;
  readonly words: string;
  readonly side: 'WEST' | 'EAST';
  readonly y: number;
  /** How far it reaches from its edge. */
  readonly end: number;
  /** Where elements meet it short of its end: each gets a dot. */
  readonly dots: readonly number[];
  readonly live: boolean;
}

/** A part as it is drawn inside its own box, whose size it decides. */
export interface PartFigure {
  readonly width: number;
  readonly height: number;
  /** Where the body begins under the name. */
  readonly top: number;
  readonly name: string;
  readonly about: string;
  readonly columns: readonly Column[];
  readonly rails: readonly Rail[];
  /** Lines of a transformer's core, by x. */
  readonly core: readonly { readonly x: number; readonly from: number; readonly to: number }[];
}

export interface DrawnPart extends Box {
  readonly figure: PartFigure;
}

export interface DrawnSplice extends Box {
  readonly name: string;
  readonly label: Box;
}

export interface DrawnPlace extends Box {
  readonly words: string;
}

export interface DrawnWire {
  readonly id: string;
  readonly kind: 'conductor' | 'jumper' | 'lead';
  /** The run's or jumper's name. */
  readonly of: string;
  readonly colour?: string;
  readonly points: readonly Point[];
  readonly label: Box & { readonly text: string };
  readonly live: boolean;
}

export interface Mark {
  /** Counts the findings from 1. */
  readonly number: number;
  readonly severity: Severity;
  readonly at: Point;
}

export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  /** "porch-button held", and which circuit where not all are drawn. */
  readonly caption: string;
  readonly places: readonly DrawnPlace[];
  readonly parts: readonly DrawnPart[];
  readonly splices: readonly DrawnSplice[];
  readonly wires: readonly DrawnWire[];
  readonly marks: readonly Mark[];
  readonly notes: readonly { readonly number: number; readonly severity: Severity; readonly words: string }[];
}

/** About how wide text is in a sans-serif of a size; rather too wide than too narrow. */
export function textWidth(text: string, size: number): number {
  let units = 0;
  for (const letter of text) {
    const code = letter.codePointAt(0) ?? 0;
    units +=
      code > 0x2e80
        ? 1.05
        : /[ilj.,:;|'!]/.test(letter)
          ? 0.34
          : /[mwMW%@]/.test(letter)
            ? 0.98
            : /[A-Z]/.test(letter)
              ? 0.74
              : 0.62;
  }
  return Math.ceil(units * size);
}
