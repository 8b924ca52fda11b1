/** What a paper is made of, before it becomes HTML, Markdown or CSV. */

/** Names as `--only` takes them, in the order in which the papers are laid out. */
export const paperNames = [
  'head',
  'work-order',
  'terminations',
  'cut-list',
  'materials',
  'test-sheet',
  'labels',
  'cautions',
] as const;

export type PaperName = (typeof paperNames)[number];

/** Words, a conductor's colour (shown with its letters), or room to write by hand. */
export type Cell = string | { readonly colour: string } | { readonly write: 'narrow' | 'wide' };

/** A row whose first cell is empty belongs to the row above. */
export interface Table {
  readonly kind: 'table';
  readonly head: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
  /** Of columns that hold figures. */
  readonly numbers?: readonly number[];
  /** Shares of the sheet's width, so that tables of one kind line up down the page. */
  readonly widths?: readonly number[];
}

/** A label to be cut out: its first line stands large. */
export interface Card {
  readonly title: string;
  /** What it is stuck on; said outside the label. */
  readonly goesOn: string;
  readonly lines: readonly string[];
}

export type Block =
  | Table
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'words'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[]; readonly tick?: boolean; readonly numbered?: boolean }
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [string, readonly Cell[]])[] }
  | { readonly kind: 'cards'; readonly cards: readonly Card[] };

export interface Paper {
  readonly name: PaperName;
  readonly title: string;
  readonly blocks: readonly Block[];
  /** The paper as one table, for CSV; absent where it is no table. */
  readonly table?: Table;
}

/** A box to be ticked by hand. */
export const tick: Cell = { write: 'narrow' };
export const write: Cell = { write: 'wide' };
