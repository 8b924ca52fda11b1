/** What the panel's host and its page say to one another. */

import type { LocatedFinding, ProtocolRange } from '@ohmstead/language/protocol';
import type { Budget } from '@ohmstead/record';

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
  | { readonly kind: 'marked'; readonly name: string | null };

export type ToHost =
  /** The page listens from now on. */
  | { readonly kind: 'ready' }
  | { readonly kind: 'reveal-part'; readonly name: string }
  | { readonly kind: 'reveal-range'; readonly uri: string; readonly range: ProtocolRange };

/** What survives a reload of the window. */
export interface KeptState {
  readonly uri: string;
  /** By circuit, the state whose figures are shown. */
  readonly shown: Readonly<Record<string, string>>;
  readonly scroll: number;
}
