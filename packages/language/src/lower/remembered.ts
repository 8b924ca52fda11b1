/** What statements mean by their own words, kept with their trees, which later texts of a file share. */

import type { CableType, PartType } from '@ohmstead/record';
import type { AstNode } from 'langium';
import type { Statement } from '../generated/ast.js';
import type { LoweringContext } from './context.js';
import type { Told } from './told.js';

interface Kept {
  readonly by: unknown;
  readonly value: unknown;
}

const kept = new WeakMap<AstNode, Kept>();

/**
 * What a stretch of a statement means by its own words and `by` alone. Where something was reported nothing is kept, so that it is
 * reported each time.
 */
export function remembered<T>(context: LoweringContext, node: AstNode, by: unknown, make: () => T): T {
  const known = kept.get(node);
  if (known && known.by === by) return known.value as T;
  const before = context.reports;
  const value = make();
  if (context.reports === before) kept.set(node, { by, value });
  return value;
}

/** What names mean beyond their own statements. */
export interface Meanings {
  readonly partTypes: ReadonlyMap<string, PartType>;
  readonly cableTypes: ReadonlyMap<string, CableType>;
  readonly typeOfPart: ReadonlyMap<string, string>;
}

interface KeptStatement {
  readonly value: unknown;
  readonly profile: string;
  readonly told: Told;
  /** What the names meant that were asked for, in the order in which they were asked for. */
  readonly meant: readonly unknown[];
}

const statements = new WeakMap<Statement, KeptStatement>();

/**
 * What a whole statement says, as long as the names in it mean what they meant: its places and uses of names are then noted anew
 * without its being read again.
 */
export function rememberedStatement<T>(
  context: LoweringContext,
  node: Statement,
  meanings: Meanings,
  make: () => T,
): T {
  const known = statements.get(node);
  if (known && known.profile === context.profile && meansTheSame(context, meanings, known)) {
    context.replay(node, known.told);
    return known.value as T;
  }
  const before = context.reports;
  const told = context.record();
  const value = make();
  context.endRecord();
  context.names.noteStatement(node, told.uses);
  if (context.reports !== before) statements.delete(node);
  else {
    const meant: unknown[] = [];
    eachMeaning(context, meanings, told, (meaning) => meant.push(meaning) > 0);
    statements.set(node, { value, profile: context.profile, told, meant });
  }
  return value;
}

function meansTheSame(context: LoweringContext, meanings: Meanings, { told, meant }: KeptStatement): boolean {
  let index = 0;
  return eachMeaning(context, meanings, told, (meaning) => meant[index++] === meaning);
}

/** Goes through all that a statement may have seen of the names it asked for, until `visit` answers false. */
function eachMeaning(
  { names, unreadNames }: LoweringContext,
  { partTypes, cableTypes, typeOfPart }: Meanings,
  { asked }: Told,
  visit: (meaning: unknown) => boolean,
): boolean {
  for (const { space, name } of asked) {
    const symbol = names.find(space, name);
    if (!visit(symbol?.kind)) return false;
    if (space === 'place') continue;
    const type = space === 'type' ? name : typeOfPart.get(name);
    if (!visit(type)) return false;
    if (type === undefined) continue;
    const declared = space === 'type' ? symbol : names.find('type', type);
    const isSame =
      visit(declared?.shipped) &&
      visit(partTypes.get(type)) &&
      visit(cableTypes.get(type)) &&
      visit(unreadNames.has(type));
    if (!isSame) return false;
  }
  return true;
}

const made = new WeakMap<AstNode, object>();

/** What was made of the node before if that was the same, so that what is made of it goes on to be one object. */
export function asBefore<T extends object>(node: AstNode, now: T): T {
  const before = made.get(node);
  if (before !== undefined && JSON.stringify(before) === JSON.stringify(now)) return before as T;
  made.set(node, now);
  return now;
}
