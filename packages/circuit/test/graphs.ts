/** Graphs for tests of elimination, the same in every run. */

import type { Topology } from '../src/elimination.js';

export type Pairs = readonly (readonly [number, number])[];

export interface Given {
  readonly nets: number;
  readonly pairs: Pairs;
  readonly reference?: readonly number[];
  readonly pinned?: readonly number[];
  readonly late?: readonly number[];
}

export function topologyOf({ nets, pairs, reference = [], pinned = [], late = [] }: Given): Topology {
  const flags = (of: readonly number[]) => {
    const all = new Uint8Array(nets);
    for (const net of of) all[net] = 1;
    return all;
  };
  return {
    nets,
    reference: flags(reference),
    pinned: flags(pinned),
    late: late.length === 0 ? new Uint8Array(0) : flags(late),
    from: Int32Array.from(pairs, ([x]) => x),
    to: Int32Array.from(pairs, ([, y]) => y),
  };
}

export function grid(width: number, height = width): Pairs {
  const pairs: [number, number][] = [];
  for (let x = 0; x < width; x++) {
    for (let y = 0; y < height; y++) {
      if (x + 1 < width) pairs.push([x * height + y, (x + 1) * height + y]);
      if (y + 1 < height) pairs.push([x * height + y, x * height + y + 1]);
    }
  }
  return pairs;
}

/** Numbers from 0 up to 1, the same in every run. */
export function drawn(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 4_294_967_296;
  };
}

export function shuffled<T>(list: readonly T[], random: () => number): T[] {
  const all = [...list];
  for (let k = all.length - 1; k > 0; k--) {
    const other = Math.floor(random() * (k + 1));
    [all[k], all[other]] = [all[other]!, all[k]!];
  }
  return all;
}

/** Entries that taking out a net with the fewest neighbours, again and again, makes: gone through net by net. */
export function entriesByLeastDegree(nets: number, pairs: Pairs): number {
  const joined = Array.from({ length: nets }, () => new Set<number>());
  for (const [x, y] of pairs) {
    joined[x]!.add(y);
    joined[y]!.add(x);
  }
  const left = new Set(joined.keys());
  let entries = 0;
  while (left.size > 0) {
    let least = -1;
    for (const net of left) if (least < 0 || joined[net]!.size < joined[least]!.size) least = net;
    left.delete(least);
    entries += joined[least]!.size;
    for (const one of joined[least]!) {
      joined[one]!.delete(least);
      for (const other of joined[least]!) if (one !== other) joined[one]!.add(other);
    }
  }
  return entries;
}

export function randomPairs(nets: number, count: number, random: () => number): Pairs {
  const pairs: [number, number][] = [];
  for (let k = 0; k < count; k++) {
    const x = Math.floor(random() * nets);
    const y = Math.floor(random() * nets);
    if (x !== y) pairs.push([x, y]);
  }
  return pairs;
}

export function someOf(nets: number, share: number, random: () => number): number[] {
  return [...Array(nets).keys()].filter(() => random() < share);
}
