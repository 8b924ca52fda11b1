/** What of an installation hangs together: by wire, by a distance, by a box that things are in, and by being told of together. */

import { pointOf } from '../analysis-types.js';
import type { End, Ground, Installation, Jumper, Landing, Part, PartType, Run, Splice } from '../model.js';
import type { Surroundings } from './surroundings.js';

/** What hangs together or does not. */
export interface Members {
  readonly supplies: readonly Part[];
  readonly devices: readonly Part[];
  readonly splices: readonly Splice[];
  readonly runs: readonly Run[];
  readonly jumpers: readonly Jumper[];
  readonly grounds: readonly Ground[];
}

export const KINDS = ['supplies', 'devices', 'splices', 'runs', 'jumpers', 'grounds'] as const;

export function membersOf({ supplies, devices, splices, runs, jumpers, grounds = [] }: Installation): Members {
  return { supplies, devices, splices, runs, jumpers, grounds };
}

export interface Group {
  readonly own: Members;
  /** Whether something in it is told of together with all that is loose, wherever it is. */
  readonly isLoose: boolean;
}

type Types = ReadonlyMap<string, PartType>;

/** In order of their first members. Every member is in one of them, those with one name in the same. */
export function groupsOf(members: Members, types: Types, around: Surroundings): readonly Group[] {
  const names = new Names();
  for (const kind of KINDS) {
    for (const member of members[kind]) {
      const [first, ...others] = namesOf(kind, member, around);
      names.add(first!);
      for (const other of others) names.join(first!, other);
    }
  }
  const loose = looseAmong(members, types);
  for (const name of loose) names.join(loose[0]!, name);
  const groups = new Map<number, { own: { -readonly [Kind in keyof Members]: Members[Kind][number][] } }>();
  for (const kind of KINDS) {
    for (const member of members[kind]) {
      const root = names.rootOf(nameOf(member));
      let group = groups.get(root);
      if (group === undefined) {
        group = { own: { supplies: [], devices: [], splices: [], runs: [], jumpers: [], grounds: [] } };
        groups.set(root, group);
      }
      (group.own[kind] as (typeof member)[]).push(member);
    }
  }
  const looseRoot = loose.length === 0 ? undefined : names.rootOf(loose[0]!);
  return [...groups].map(([root, { own }]) => ({ own, isLoose: root === looseRoot }));
}

export type Member = Members[keyof Members][number];

/** A bond is known by what is bonded. */
export function nameOf(member: Member): string {
  return 'name' in member ? member.name : member.end.part;
}

/** Its own name first, then all that it hangs together with by what it says itself: also ends that nothing declares. */
export function namesOf(kind: keyof Members, member: Member, around: Surroundings): readonly string[] {
  const names = [nameOf(member)];
  const land = (landing: Landing | undefined): void => {
    if (landing?.kind === 'on') names.push(landing.end.part);
  };
  const standIn = (place: string | undefined): void => {
    const box = around.boxAround(place);
    if (box !== undefined) names.push(inBox(box.name));
  };
  switch (kind) {
    case 'supplies':
    case 'devices': {
      const { lands, place } = member as Part;
      for (const { on } of lands) names.push(on.part);
      standIn(place);
      break;
    }
    case 'splices':
      standIn((member as Splice).place);
      break;
    case 'runs': {
      const { beside = [], conductors, fromPlace, toPlace } = member as Run;
      for (const { run } of beside) names.push(run);
      for (const { from, to } of conductors) {
        land(from);
        land(to);
      }
      standIn(fromPlace);
      standIn(toPlace);
      break;
    }
    case 'jumpers': {
      const { from, to } = member as Jumper;
      names.push(from.part, to.part);
      break;
    }
    case 'grounds':
      names.push(inBox((member as Ground).box));
  }
  return names;
}

/** A name that nothing has but what is in the box. */
export function inBox(box: string): string {
  return `in ${box}`;
}

/** A part with nothing on it is told together with every splice that holds a single conductor, wherever that is: the names of both. */
export function looseIn(installation: Installation): readonly string[] {
  return looseAmong(membersOf(installation), installation.partTypes);
}

function looseAmong({ supplies, devices, splices, runs, jumpers }: Members, types: Types): readonly string[] {
  const landed = new Map<string, number>();
  const land = (end: End): void => {
    const point = pointOf(end);
    landed.set(point, (landed.get(point) ?? 0) + 1);
  };
  for (const { conductors } of runs) {
    for (const { from, to, spare } of conductors) {
      if (spare) continue;
      if (from?.kind === 'on') land(from.end);
      if (to?.kind === 'on') land(to.end);
    }
  }
  for (const { from, to } of jumpers) {
    land(from);
    land(to);
  }
  for (const parts of [supplies, devices]) for (const { lands } of parts) for (const { on } of lands) land(on);
  const loose: string[] = [];
  for (const { name } of splices) if (landed.get(name) === 1) loose.push(name);
  for (const parts of [supplies, devices]) {
    for (const part of parts) if (hasNothingOnIt(types, part, landed)) loose.push(part.name);
  }
  return loose;
}

function hasNothingOnIt(types: Types, part: Part, landed: ReadonlyMap<string, number>): boolean {
  const type = part.type === undefined ? undefined : types.get(part.type);
  return (type?.terminals ?? []).every(({ name }) => {
    const isLead = part.lands.some(({ terminal }) => terminal === name);
    return !isLead && !landed.has(pointOf({ part: part.name, terminal: name }));
  });
}

/** Names that hang together, by numbers. */
class Names {
  readonly #numbers = new Map<string, number>();
  readonly #above: number[] = [];

  add(name: string): number {
    const known = this.#numbers.get(name);
    if (known !== undefined) return known;
    const number = this.#above.length;
    this.#numbers.set(name, number);
    this.#above.push(number);
    return number;
  }

  join(one: string, other: string): void {
    const [first, second] = [this.#top(this.add(one)), this.#top(this.add(other))];
    if (first !== second) this.#above[Math.max(first, second)] = Math.min(first, second);
  }

  rootOf(name: string): number {
    return this.#top(this.add(name));
  }

  #top(number: number): number {
    let top = number;
    while (this.#above[top] !== top) top = this.#above[top]!;
    for (let at = number; at !== top; ) {
      const above = this.#above[at]!;
      this.#above[at] = top;
      at = above;
    }
    return top;
  }
}
