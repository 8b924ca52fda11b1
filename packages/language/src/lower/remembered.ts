import type { AstNode } from 'langium';
import type { LoweringContext } from './context.js';

interface Kept {
  readonly by: unknown;
  readonly value: unknown;
}

const kept = new WeakMap<AstNode, Kept>();

/**
 * What a stretch of a statement means by its own words and `by` alone: kept with its tree, which later texts of the file share.
 * Where something was reported nothing is kept, so that it is reported each time.
 */
export function remembered<T>(context: LoweringContext, node: AstNode, by: unknown, make: () => T): T {
  const known = kept.get(node);
  if (known && known.by === by) return known.value as T;
  const before = context.reports;
  const value = make();
  if (context.reports === before) kept.set(node, { by, value });
  return value;
}
