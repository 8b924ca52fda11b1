/** Things by what they have in common. */

export type Group<T> = [T, ...T[]];

/** Each group in the order of its things, the groups in that of their first. */
export function grouped<T, Key>(things: Iterable<T>, keyOf: (thing: T) => Key): Map<Key, Group<T>> {
  const groups = new Map<Key, Group<T>>();
  for (const thing of things) putUnder(groups, keyOf(thing), thing);
  return groups;
}

export function putUnder<T, Key>(groups: Map<Key, Group<T>>, key: Key, thing: T): void {
  const group = groups.get(key);
  if (group === undefined) groups.set(key, [thing]);
  else group.push(thing);
}

/** The group with that one in front whose figure is least; of equals, to a billionth, the first. */
export function leastFirst<T>(group: Group<T>, figure: (thing: T) => number): Group<T> {
  const least = group.reduce((so, thing) => (figure(thing) < figure(so) - 1e-9 ? thing : so));
  return [least, ...group.filter((thing) => thing !== least)];
}
