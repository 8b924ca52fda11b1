/** Plain data alike to the last figure; what is one and the same object is not looked into. */
export function isSame(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return Object.is(one, other);
  if (Array.isArray(one)) return Array.isArray(other) && isSameList(one, other);
  if (Array.isArray(other)) return false;
  const [mine, its] = [Object.keys(one), Object.keys(other)];
  return (
    mine.length === its.length &&
    mine.every((key) => Object.hasOwn(other, key) && isSame(one[key as keyof object], other[key as keyof object]))
  );
}

function isSameList(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((item, index) => isSame(item, other[index]));
}

export interface Between<T> {
  readonly before: readonly T[];
  readonly after: readonly T[];
}

/** What two lists have between a beginning and an end that are the same in both. */
export function between<T>(before: readonly T[], after: readonly T[]): Between<T> {
  const shorter = Math.min(before.length, after.length);
  let first = 0;
  while (first < shorter && isSame(before[first], after[first])) first++;
  let last = 0;
  while (last < shorter - first && isSame(before[before.length - 1 - last], after[after.length - 1 - last])) last++;
  return { before: before.slice(first, before.length - last), after: after.slice(first, after.length - last) };
}
