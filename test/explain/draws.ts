/** Numbers drawn from a seed, the same in every run. */

export interface Draws {
  /** Evenly from 0 to below 1. */
  next(): number;
  between(least: number, most: number): number;
  /** Evenly on a scale of factors. */
  factor(least: number, most: number): number;
  pick<T>(list: readonly T[]): T;
}

/** Mulberry32, in the public domain. */
export function drawsFrom(seed: number): Draws {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  return {
    next,
    between: (least, most) => least + (most - least) * next(),
    factor: (least, most) => least * (most / least) ** next(),
    pick: (list) => list[Math.floor(next() * list.length)]!,
  };
}
