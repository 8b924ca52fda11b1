/** What the panel's host and its page say to one another. */

import type { LocatedFinding, ProtocolRange } from '@ohmstead/language/protocol';
import type { Budget, ChosenValues } from '@ohmstead/record';
import type { PicturesAnswer, PicturesAsk } from './pictures.js';

export type ToPage =
  | {
      readonly kind: 'budget';
      readonly uri: string;
      /** Null where nothing could be computed yet. */
      readonly budget: Budget | null;
      readonly stale: boolean;
      readonly findings: readonly LocatedFinding[];
      readonly marked: string | null;
    }
  /** The cursor has moved to another part, or off all of them. */
  | { readonly kind: 'marked'; readonly name: string | null }
  | { readonly kind: 'pictures'; readonly uri: string; readonly answer: PicturesAnswer | null }
  /** The layout library's script, for a worker; null where it can't be read. */
  | { readonly kind: 'layout'; readonly script: string | null }
  /** Somebody asked for this part of the panel. */
  | { readonly kind: 'show'; readonly section: 'drawing' };

export type ToHost =
  /** The page listens from now on. */
  | { readonly kind: 'ready'; readonly pinned: boolean }
  | { readonly kind: 'pin'; readonly pinned: boolean }
  | { readonly kind: 'pictures'; readonly uri: string; readonly ask: PicturesAsk }
  | { readonly kind: 'layout' }
  | { readonly kind: 'reveal-part'; readonly name: string }
  | { readonly kind: 'reveal-range'; readonly uri: string; readonly range: ProtocolRange };

/** What survives a reload of the window. */
export interface KeptState {
  readonly uri: string;
  /** By circuit, the state whose figures are shown. */
  readonly shown: Readonly<Record<string, string>>;
  readonly scroll: number;
  readonly pinned: boolean;
  readonly values: ChosenValues;
  readonly picked: Picked;
  /** Of the drawing, whatever room there is. */
  readonly fullSize: boolean;
  /** Pictures and tables that were opened or folded. */
  readonly open: Readonly<Record<string, boolean>>;
}

/** From the lists of circuits, devices and runs; absent: by the cursor. */
export interface Picked {
  readonly circuit?: string;
  readonly along?: string;
  readonly 'how-far'?: string;
}
