/** Whether two columns hold the same. */
export function isEqual(one: Uint8Array | Int32Array, other: Uint8Array | Int32Array): boolean {
  if (one === other) return true;
  if (one.length !== other.length) return false;
  for (let k = 0; k < one.length; k++) if (one[k] !== other[k]) return false;
  return true;
}

/** Of things kept, the last used first, the one wanted, or one made anew; at most so many are kept. */
export function keptOr<T>(kept: T[], isWanted: (one: T) => boolean, most: number, make: () => T): T {
  const at = kept.findIndex(isWanted);
  if (at === 0) return kept[0]!;
  const found = at < 0 ? make() : kept.splice(at, 1)[0]!;
  kept.unshift(found);
  if (kept.length > most) kept.pop();
  return found;
}
