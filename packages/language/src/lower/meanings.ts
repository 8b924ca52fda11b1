/** What all names of a record mean, kept from text to text, so that a statement is looked at again only where one of its names changed. */

import type { CableType, PartType } from '@ohmstead/record';
import type { LoweringContext } from './context.js';
import type { NameIndex, NameKind, NameSpace } from './names.js';

/** What names mean beyond their own statements. */
export interface TypesOfNames {
  readonly partTypes: ReadonlyMap<string, PartType>;
  readonly cableTypes: ReadonlyMap<string, CableType>;
  readonly typeOfPart: ReadonlyMap<string, string>;
}

const SPACES: readonly NameSpace[] = ['part', 'place', 'type'];

/** All that a statement can see of other statements, without the texts they stand in. One object stands for it as long as it stays the same. */
export class Meanings {
  readonly profile: string;
  readonly #kinds: readonly ReadonlyMap<string, NameKind>[];
  readonly #types: TypesOfNames;
  readonly #unread: ReadonlySet<string>;

  constructor({ names, unreadNames, profile }: LoweringContext, types: TypesOfNames) {
    this.profile = profile;
    this.#kinds = SPACES.map((space) => kindsIn(names, space));
    this.#types = types;
    this.#unread = unreadNames;
  }

  /** Names of whatever space that mean something else here than there; undefined where all may. */
  changedSince(earlier: Meanings): ReadonlySet<string> | undefined {
    if (this.profile !== earlier.profile) return undefined;
    const [parts, places, types] = SPACES.map((_, index) => differing(this.#kinds[index]!, earlier.#kinds[index]!)) as [
      Set<string>,
      Set<string>,
      Set<string>,
    ];
    const [mine, its] = [this.#types, earlier.#types];
    for (const name of differing(mine.partTypes, its.partTypes)) types.add(name);
    for (const name of differing(mine.cableTypes, its.cableTypes)) types.add(name);
    for (const name of this.#unread) if (!earlier.#unread.has(name)) types.add(name);
    for (const name of earlier.#unread) if (!this.#unread.has(name)) types.add(name);
    const changed = new Set([...parts, ...places, ...types, ...differing(mine.typeOfPart, its.typeOfPart)]);
    if (types.size === 0) return changed;
    for (const [part, type] of mine.typeOfPart) if (types.has(type)) changed.add(part);
    return changed;
  }
}

function kindsIn(names: NameIndex, space: NameSpace): ReadonlyMap<string, NameKind> {
  const kinds = new Map<string, NameKind>();
  for (const { name, kind } of names.declared(space)) kinds.set(name, kind);
  return kinds;
}

/** Keys under which the two hold different values, or that only one of them has. */
function differing<T>(one: ReadonlyMap<string, T>, other: ReadonlyMap<string, T>): Set<string> {
  const keys = new Set<string>();
  for (const [key, value] of one) if (other.get(key) !== value) keys.add(key);
  for (const key of other.keys()) if (!one.has(key)) keys.add(key);
  return keys;
}
