/** Work that is done when it is first asked for, and kept. */

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
  const made = new WeakMap<K, { readonly value: T }>();
  return (key) => {
    const known = made.get(key) ?? { value: make(key) };
    made.set(key, known);
    return known.value;
  };
}
