/** What the comparison's host and its page say to one another. */

import type { CompareAnswer, ProtocolLocation } from '@ohmstead/language/protocol';
import type { Pair } from '@ohmstead/record';

/** What a record is set against, in a form that outlives the window. */
export type Against =
  | { readonly kind: 'base' }
  | { readonly kind: 'record'; readonly uri: string }
  | { readonly kind: 'last-commit' };

export interface ComparedPair {
  readonly uri: string;
  readonly against: Against;
}

/** What survives a reload of the window. */
export interface KeptComparison extends ComparedPair {
  readonly scroll: number;
}

export type Compared = Extract<CompareAnswer, { readonly kind: 'compared' }>;

export type ToComparePage =
  | {
      readonly kind: 'compared';
      readonly pair: ComparedPair;
      readonly compared: Compared;
      readonly labels: Pair<string>;
    }
  /** Why there is nothing to be seen, in one sentence. */
  | { readonly kind: 'refused'; readonly pair: ComparedPair; readonly message: string };

export type ToCompareHost =
  /** The page listens from now on. */
  { readonly kind: 'ready' } | { readonly kind: 'reveal'; readonly location: ProtocolLocation };
