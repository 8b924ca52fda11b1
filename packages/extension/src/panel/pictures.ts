/** What the panel asks of the extension's own server beyond the budget: pictures of a record, and its papers. Plain data only. */

import type { Budget, ChosenValues } from '@ohmstead/record';
import type { Sketch } from '@ohmstead/views/drawing';

/** Request, PicturesParams -> PicturesAnswer. */
export const PICTURES_REQUEST = 'ohmstead/pictures';
/** Request, PapersParams -> PapersAnswer. */
export const PAPERS_REQUEST = 'ohmstead/papers';

export interface PicturesAsk {
  /** By circuit key, the id of the state that is shown. */
  readonly shown: Readonly<Record<string, string>>;
  /** In place of the nominal ones. */
  readonly values: ChosenValues;
  /** The circuit that is drawn, by the name of a part of it; absent: all, where they fit on one sheet. */
  readonly circuitOf?: string;
  /** Parts and runs at which the cursor was, latest first. */
  readonly near: readonly string[];
  /** The device to which the volts are followed; absent: one of `near`, else the first. */
  readonly along?: string;
  /** The run whose length is varied; absent: one of `near`, else the first. */
  readonly howFar?: string;
}

export interface PicturesParams extends PicturesAsk {
  readonly uri: string;
}

/** A plot of one of several subjects, as SVG without a sheet of styles, with its table. */
export interface Plot {
  readonly subject: string;
  readonly subjects: readonly string[];
  readonly pictures: readonly { readonly svg: string; readonly table: string }[];
}

export interface PicturesAnswer {
  readonly sketch: Sketch | null;
  /** Where values were chosen: the budget with the figures of its states at them. */
  readonly budget: Budget | null;
  readonly along: Plot;
  readonly howFar: Plot;
}

export type PapersForm = 'page' | 'html' | 'md' | 'csv';

export interface PapersParams {
  readonly uri: string;
  readonly form: PapersForm;
  /** Of CSV: the one paper that it holds. */
  readonly only?: string;
  /** "2026-11-25". */
  readonly date: string;
  readonly withoutAddress: boolean;
  /** Of a page: what its styles are marked with. */
  readonly nonce?: string;
}

export interface PapersAnswer {
  /** Null where there is no record to read, or no such table in it. */
  readonly text: string | null;
  /** Papers of this record that are a table. */
  readonly tables: readonly { readonly name: string; readonly title: string }[];
}
