/** Work that is done when it is first asked for, and kept. */

import { Beside } from './beside.js';

export function lazily<K, T>(make: (key: K) => T): (key: K) => T {
  const made = new Map<K, { readonly value: T }>();
  return (key) => {
    const known = made.get(key) ?? { value: make(key) };
    made.set(key, known);
    return known.value;
  };
}

export function once<T>(make: () => T): () => T {
  const made = lazily<undefined, T>(make);
  return () => made(undefined);
}

/** The same for objects, kept as long as they are. */
export function keptWith<K extends object, T>(make: (key: K) => T): (key: K) => T {
  const made = new Beside<K, { readonly value: T }>();
  return (key) => {
    const known = made.get(key) ?? { value: make(key) };
    made.set(key, known);
    return known.value;
  };
}

/** What is made of a list and one thing more, kept as long as both stay; an empty list makes nothing. */
export function keptWithAll<T extends object, M, V>(
  make: (items: readonly T[], more: M) => V,
): (items: readonly T[], more: M) => V | undefined {
  const made = new Beside<T, { readonly items: readonly T[]; readonly more: M; readonly value: V }>();
  return (items, more) => {
    const [first] = items;
    if (first === undefined) return undefined;
    const known = made.get(first);
    const isAsItWas =
      known !== undefined &&
      known.more === more &&
      known.items.length === items.length &&
      items.every((item, index) => item === known.items[index]);
    if (isAsItWas) return known.value;
    const value = make(items, more);
    made.set(first, { items, more, value });
    return value;
  };
}
