/** What the host of the fault finder and its page say to one another. */

import type { ExplainAnswer } from '@ohmstead/language/protocol';
import type { ReadingDraft } from '@ohmstead/views';

export type ToExplainPage =
  | {
      readonly kind: 'explained';
      readonly uri: string;
      /** Null where nothing could be worked out yet. */
      readonly explained: ExplainAnswer['explained'];
      readonly stale: boolean;
    }
  | { readonly kind: 'taken'; readonly line: string }
  /** Why the reading was not written. */
  | { readonly kind: 'refused'; readonly message: string };

export type ToExplainHost =
  /** The page listens from now on. */
  | { readonly kind: 'ready'; readonly recentWork: boolean }
  | { readonly kind: 'recent-work'; readonly recentWork: boolean }
  /** A line of a `readings` block to be written into the record. */
  | { readonly kind: 'take'; readonly line: string }
  | { readonly kind: 'reveal-part'; readonly name: string }
  /** By `block/index`. */
  | { readonly kind: 'reveal-reading'; readonly reading: string };

/** What survives a reload of the window. */
export interface KeptExplanation {
  readonly uri: string;
  readonly draft: ReadingDraft;
  readonly typed: string | null;
  readonly recentWork: boolean;
}
