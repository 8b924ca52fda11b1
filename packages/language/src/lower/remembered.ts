/** What statements mean by their own words, kept with their trees, which later texts of a file share. */

import type { AstNode } from 'langium';
import type { Statement } from '../generated/ast.js';
import type { ReadSlice } from '../reading/parser.js';
import type { LoweringContext } from './context.js';
import { Meanings, type TypesOfNames } from './meanings.js';
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

interface KeptStatement {
  readonly value: unknown;
  readonly profile: string;
  readonly told: Told;
  /** What the names meant that were asked for, in the order in which they were asked for. */
  readonly meant: readonly unknown[];
  /** With which it was last found to hold. */
  meanings: Meanings;
}

/** What is kept of a statement from one text of its file to the next. */
export interface StatementMemory {
  kept?: KeptStatement | undefined;
}

/** What the names of a record mean now, and which of them meant something else in its text before. */
export class NamesOfNow {
  readonly types: TypesOfNames;
  /** The earlier ones where they are all the same. */
  readonly meanings: Meanings;
  readonly #before: Meanings | undefined;
  /** Since then; undefined where that is not known. */
  readonly #changed: ReadonlySet<string> | undefined;

  /** `before`: of the last statement of the record that was lowered. */
  constructor(context: LoweringContext, types: TypesOfNames, before: Meanings | undefined) {
    this.types = types;
    this.#before = before;
    this.#changed = before?.changedTo(context, types);
    this.meanings = before !== undefined && this.#changed?.size === 0 ? before : new Meanings(context, types);
  }

  /** Whether none of the names that a statement asked for means something else since it was found to hold. */
  hold({ meanings, told }: KeptStatement): boolean {
    if (meanings === this.meanings) return true;
    const changed = this.#changed;
    if (changed === undefined || meanings !== this.#before) return false;
    return !told.asked.some(({ name }) => changed.has(name));
  }
}

/** What the names of a record meant when the first of its statements that is kept was last lowered. */
export function meaningsBefore(slices: readonly ReadSlice[]): Meanings | undefined {
  return slices.find(({ memory }) => memory.kept !== undefined)?.memory.kept?.meanings;
}

/**
 * What a whole statement says, as long as the names in it mean what they meant: its places and uses of names are then noted anew
 * without its being read again.
 */
export function rememberedStatement<T>(
  context: LoweringContext,
  { node, memory }: { readonly node: Statement; readonly memory: StatementMemory },
  now: NamesOfNow,
  make: () => T,
): T {
  const known = memory.kept;
  const { meanings, types } = now;
  if (known && (now.hold(known) || meansTheSame(context, types, known))) {
    known.meanings = meanings;
    context.replay(node, known.told);
    return known.value as T;
  }
  const before = context.reports;
  const told = context.record();
  const value = make();
  context.endRecord();
  context.names.noteStatement(node, told.uses);
  if (context.reports !== before) memory.kept = undefined;
  else {
    const meant: unknown[] = [];
    eachMeaning(context, types, told, (meaning) => meant.push(meaning) > 0);
    memory.kept = { value, profile: context.profile, told, meant, meanings };
  }
  return value;
}

function meansTheSame(context: LoweringContext, types: TypesOfNames, { told, meant, profile }: KeptStatement): boolean {
  if (profile !== context.profile) return false;
  let index = 0;
  return eachMeaning(context, types, told, (meaning) => meant[index++] === meaning);
}

/** Goes through all that a statement may have seen of the names it asked for, until `visit` answers false. */
function eachMeaning(
  { names, unreadNames }: LoweringContext,
  { partTypes, cableTypes, typeOfPart }: TypesOfNames,
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
