/** Loads, and what lets go by itself, brought to rest in an island that is otherwise straight lines. */

import {
  type BranchEdit,
  type CycleDiode,
  type CycleNetworks,
  EditedCycle,
  type EditedNetwork,
  magnitude,
} from '@ohmstead/circuit';
import { CutOperating, type Effect, LinearOperating, type Operating } from './operating.js';
import { ohmLimits, sound } from './practice.js';

const MOST_ROUNDS = 25;
const SETTLED = 1e-3;
const UNSETTLED = 0.02;
/** A load that holds with less than this share of the volts it would have without drawing, or this near its least, may as well let go. */
const HELD_FROM = 0.6;
const CLEAR_OF_LEAST = 1.15;
/** Half the width of what is then possible, as a share of those volts. */
const DOUBT = 0.5;

/** So many times its own volts a load in series with another may be off by, twice over. */
const IN_SERIES = 4;

/** A solution with loads as plain ohms. */
export interface Working {
  size(a: number, b: number): number;
  behind(a: number, b: number): number;
  amps(branch: number): number;
  operating(running: ReadonlySet<number>, doubt: number): Operating;
}

export function workingStraight(network: EditedNetwork, effects: readonly Effect[], groups: number): Working {
  return {
    size: (a, b) => magnitude(network.volts(a, b)),
    behind: (a, b) => magnitude(network.ohms(a, b)),
    amps: (branch) => magnitude(network.amps(branch)),
    operating: (running, doubt) => new LinearOperating(network, running, doubt, effects, groups),
  };
}

export function workingOverCycle(
  networks: CycleNetworks,
  edits: readonly [readonly BranchEdit[], readonly BranchEdit[]],
  diodes: readonly CycleDiode[],
  effects: readonly Effect[],
  groups: number,
): Working {
  const cycle = new EditedCycle(networks, edits, diodes, effects, groups);
  return {
    size: (a, b) => cycle.across(a, b).size,
    behind: (a, b) => cycle.ohms(a, b),
    amps: (branch) => cycle.amps(branch),
    operating: (running, doubt) => new CutOperating(cycle, running, doubt),
  };
}

/** `own`, `a` and `b` are numbers within the island, `branch` is the house's. */
interface Load {
  readonly branch: number;
  readonly own: number;
  readonly a: number;
  readonly b: number;
  readonly lowest: number;
  /** VA, or amps. */
  readonly draw: number;
  readonly isByAmps: boolean;
}

interface Restless {
  readonly loads: readonly Load[];
  readonly bypasses: readonly { readonly own: number; readonly opensAbove: number }[];
}

export function settle(solve: (more: readonly BranchEdit[]) => Working, { loads, bypasses }: Restless): Operating {
  const running = new Set<Load>();
  const volts = new Map<Load, number>();
  /** A load at the volts it has, as the ohms that draw the same. */
  const drawing = (): BranchEdit[] =>
    [...running].map((load) => {
      const size = volts.get(load)!;
      const siemens = load.isByAmps ? load.draw / size : load.draw / (size * size);
      return { branch: load.own, re: siemens, im: 0, emfRe: 0, emfIm: 0 };
    });
  let working = solve([]);
  for (const load of loads) {
    const size = working.size(load.a, load.b);
    if (size >= load.lowest) volts.set(load, size);
  }
  const unloaded = new Map(volts);
  // Fed through nothing but what is open, or another load.
  const cutOff = new Set([...volts.keys()].filter(({ a, b }) => working.behind(a, b) > ohmLimits.floating));
  for (const load of volts.keys()) running.add(load);
  let moved = Number.POSITIVE_INFINITY;
  for (let round = 0; running.size > 0 && round < MOST_ROUNDS; round++) {
    working = solve(drawing());
    moved = 0;
    for (const load of [...running]) {
      const size = working.size(load.a, load.b);
      moved = Math.max(moved, Math.abs(size - volts.get(load)!) / Math.max(size, 1e-9));
      volts.set(load, size);
      if (size < load.lowest) running.delete(load);
    }
    if (moved < SETTLED) break;
  }
  // Loads that find no rest ask more than there is: they let go.
  if (moved >= UNSETTLED) running.clear();
  // A load that let go is still in the last solution.
  if (unloaded.size > 0) working = solve(drawing());
  let doubted = 0;
  for (const [load, open] of unloaded) {
    const held = running.has(load) ? volts.get(load)! : 0;
    if (cutOff.has(load)) {
      // Of loads in series nobody knows which gets what.
      if (held > 0) doubted = Math.max(doubted, IN_SERIES * open);
      continue;
    }
    const isClear = held >= HELD_FROM * open && held >= CLEAR_OF_LEAST * load.lowest;
    if (!isClear) doubted = Math.max(doubted, open);
  }
  const letGo = bypasses.filter(({ own, opensAbove }) => working.amps(own) > opensAbove);
  if (letGo.length > 0) {
    const open = letGo.map(({ own }) => ({ branch: own, re: 1 / sound.open, im: 0, emfRe: 0, emfIm: 0 }));
    working = solve([...open, ...drawing()]);
  }
  return working.operating(new Set([...running].map(({ branch }) => branch)), DOUBT * doubted);
}
