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

const SPACES = ['part', 'place', 'type'] as const satisfies readonly NameSpace[];

/** All that a statement can see of other statements, without the texts they stand in. One object stands for it as long as it stays the same. */
export class Meanings {
  readonly #profile: string;
  readonly #kinds: Readonly<Record<NameSpace, ReadonlyMap<string, NameKind>>>;
  readonly #types: TypesOfNames;
  readonly #unread: ReadonlySet<string>;

  constructor({ names, unreadNames, profile }: LoweringContext, types: TypesOfNames) {
    this.#profile = profile;
    const kindsIn = (space: NameSpace) => new Map([...names.declared(space)].map(({ name, kind }) => [name, kind]));
    this.#kinds = { part: kindsIn('part'), place: kindsIn('place'), type: kindsIn('type') };
    this.#types = types;
    this.#unread = unreadNames;
  }

  /** Names of whatever space that mean something else now; undefined where all may. */
  changedTo({ names, unreadNames, profile }: LoweringContext, now: TypesOfNames): ReadonlySet<string> | undefined {
    if (profile !== this.#profile) return undefined;
    const changed = new Set<string>();
    const types = new Set<string>();
    for (const space of SPACES) this.#addOtherKinds(names, space, space === 'type' ? types : changed);
    addDiffering(now.typeOfPart, this.#types.typeOfPart, changed);
    addDiffering(now.partTypes, this.#types.partTypes, types);
    addDiffering(now.cableTypes, this.#types.cableTypes, types);
    for (const name of unreadNames) if (!this.#unread.has(name)) types.add(name);
    for (const name of this.#unread) if (!unreadNames.has(name)) types.add(name);
    if (types.size === 0) return changed;
    for (const name of types) changed.add(name);
    for (const [part, type] of now.typeOfPart) if (types.has(type)) changed.add(part);
    return changed;
  }

  #addOtherKinds(names: NameIndex, space: NameSpace, to: Set<string>): void {
    const before = this.#kinds[space];
    let alike = 0;
    for (const { name, kind } of names.declared(space)) {
      if (before.get(name) === kind) alike++;
      else to.add(name);
    }
    if (alike === before.size) return;
    for (const name of before.keys()) if (!names.declares(space, name)) to.add(name);
  }
}

/** Adds the keys under which the two hold different values, or that only one of them has. */
function addDiffering<T>(now: ReadonlyMap<string, T>, before: ReadonlyMap<string, T>, to: Set<string>): void {
  let alike = 0;
  for (const [key, value] of now) {
    if (before.get(key) === value) alike++;
    else to.add(key);
  }
  if (alike === before.size) return;
  for (const key of before.keys()) if (!now.has(key)) to.add(key);
}
