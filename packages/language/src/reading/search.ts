/** Searching what is in order by halves. */

/** The first index from which on something holds; `count` where it never does. */
export function firstIndex(count: number, holds: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The last index up to which something holds; -1 where it never does. */
export function lastIndex(count: number, holds: (index: number) => boolean): number {
  return firstIndex(count, (index) => !holds(index)) - 1;
}
