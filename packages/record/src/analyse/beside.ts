/** Gives an object itself to the fields of a subclass. */
class Itself {
  constructor(object: object) {
    // biome-ignore lint/correctness/noConstructorReturn: so that a field can be added to an object that is there already
    return object;
  }
}

/** What is kept beside an object, in a field of its own that nobody else sees or copies. */
class Keeper extends Itself {
  readonly #kept = new Map<object, unknown>();

  static of(object: object): Map<object, unknown> | undefined {
    return #kept in object ? object.#kept : undefined;
  }

  static make(object: object): Map<object, unknown> {
    return Keeper.of(object) ?? (new Keeper(object) as Keeper).#kept;
  }
}

/**
 * Values beside objects, kept as long as these, as in a `WeakMap`: but whatever an old `WeakMap` holds is taken for live, with all that it
 * leads to, until all memory is gone through, so that what every keystroke makes and drops is carried along for seconds.
 */
export class Beside<K extends object, V> {
  get(key: K): V | undefined {
    return Keeper.of(key)?.get(this) as V | undefined;
  }

  set(key: K, value: V): void {
    Keeper.make(key).set(this, value);
  }
}
