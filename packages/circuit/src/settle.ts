/** Which loads stay on and which bypasses stay closed: drop-outs, cycling, collapse and the latch of bypass kits. */

import type { Layout, Nets } from './layout.js';
import type { CurrentLoad, LoadCondition, PowerLoad, SolveProblem } from './network.js';
import { MANY_PORTS } from './ports.js';
import { endsOf, leakingOverCycle, operateOverCycle, rmsAcross } from './cycle.js';
import { contradictedDiode, diodesAtWork, mostTurns } from './diodes.js';
import { drawOf, leakingVolts, NO_VOLTS, type Operating, operate } from './operate.js';

export interface Settled {
  readonly operating: Operating;
  /** Per element: loads that draw, bypasses that are closed and, on DC, diodes that conduct. */
  readonly on: Uint8Array;
  readonly droppedOut: readonly number[];
  readonly cycling: readonly number[];
}

/** A load at its lowest volts, but for rounding, is still on. */
const AT_LIMIT = 1 - 1e-8;

/** Up to this many loads are dropped one by one, and tried one by one for who is to blame for a collapse; of more, several at a time. */
const ONE_BY_ONE_UP_TO = MANY_PORTS;
const DROPPED_AT_ONCE = 1 / 8;

/** Through a diode that blocks a load sees some volts and gets nothing: behind diodes this share of the circuit's scale is none. */
const NO_VOLTS_BEHIND_DIODES = 0.05;

/** Below this share of the draw there is no operating point at any load: the loads stand in each other's way. */
const NO_SHARE = 1e-6;

interface Sized {
  readonly re: number;
  readonly im: number;
}

function across(layout: Layout, nets: Nets, point: Operating, e: number): Sized {
  const a = nets.netOf[layout.a[e]!]!;
  const b = nets.netOf[layout.b[e]!]!;
  if (point.cycle !== undefined) return { re: rmsAcross(layout, nets, point.cycle, e), im: 0 };
  const { part, live } = point.equations;
  if (live[a] !== 1 || part[a] !== part[b]) return { re: 0, im: 0 };
  return { re: point.netRe[a]! - point.netRe[b]!, im: point.netIm[a]! - point.netIm[b]! };
}

function sizeOf({ re, im }: Sized): number {
  return Math.sqrt(re * re + im * im);
}

/** What a load draws at these volts; `share` scales it. */
export function loadAmps(layout: Layout, e: number, condition: LoadCondition, volts: Sized, share = 1): Sized {
  const size = sizeOf(volts);
  if (size === 0) return { re: 0, im: 0 };
  const draw = share * drawOf(layout, e, condition);
  const factor = layout.elementAt(e).kind === 'power' ? draw / (size * size) : draw / size;
  return { re: factor * volts.re, im: factor * volts.im };
}

function lowestVolts(layout: Layout, e: number): number {
  return (layout.elementAt(e) as PowerLoad | CurrentLoad).staysOnFrom;
}

class Settling {
  /** The candidates: loads that draw anything in this condition. */
  private drawing: readonly number[];
  /** Loads taken off for good, since diodes turn over for as long as they come and go. */
  private readonly barred: number[] = [];
  private readonly diodes: readonly number[];
  /** Diodes cut the waves of AC; on DC each of them just conducts or blocks. */
  private readonly overCycle: boolean;
  private readonly noVolts: number;

  constructor(
    private readonly layout: Layout,
    private readonly nets: Nets,
    private readonly condition: LoadCondition,
  ) {
    this.drawing = layout.loads.filter((e) => drawOf(layout, e, condition) > 0);
    this.diodes = diodesAtWork(layout, nets);
    this.overCycle = this.diodes.length > 0 && layout.circuit.system !== 'DC';
    this.noVolts = layout.scaleVolts * (this.diodes.length > 0 ? NO_VOLTS_BEHIND_DIODES : NO_VOLTS);
  }

  settle(): Settled | SolveProblem {
    const closed = new Uint8Array(this.layout.kind.length);
    for (const e of this.layout.bypasses) closed[e] = 1;
    if (!this.overCycle) for (const e of this.diodes) closed[e] = 1;
    for (let turns = 0; ; ) {
      const settled = this.settleLoads(closed);
      const reached = 'kind' in settled ? undefined : settled;
      const last = reached?.settled.operating;
      const diode = last === undefined || this.overCycle ? -1 : this.contradicted(last, closed);
      if (diode >= 0) {
        if (turns++ > 2 * mostTurns(this.diodes)) return { kind: 'singular', points: endsOf(this.layout, this.diodes) };
        if (turns > mostTurns(this.diodes) && reached !== undefined) this.bar(reached.settled.on);
        closed[diode] = closed[diode] === 1 ? 0 : 1;
        continue;
      }
      const opening = last === undefined ? -1 : this.bypassOverLimit(last, closed);
      if (opening < 0) return reached === undefined ? (settled as SolveProblem) : this.withBarred(reached);
      closed[opening] = 0;
    }
  }

  private operate(on: Uint8Array, trace = true): Operating | SolveProblem {
    return (this.overCycle ? operateOverCycle : operate)(this.layout, this.nets, on, this.condition, trace);
  }

  private bar(on: Uint8Array): void {
    this.barred.push(...this.drawing.filter((e) => on[e] !== 1));
    this.drawing = this.drawing.filter((e) => on[e] === 1);
  }

  private withBarred({ settled, problem }: { settled: Settled; problem?: SolveProblem }): Settled | SolveProblem {
    if (problem !== undefined || this.barred.length === 0) return problem ?? settled;
    const also = (loads: readonly number[]): readonly number[] => this.inOrder([...loads, ...this.barred]);
    return { ...settled, droppedOut: also(settled.droppedOut), cycling: also(settled.cycling) };
  }

  private contradicted(point: Operating, closed: Uint8Array): number {
    return contradictedDiode(this.layout, this.diodes, closed, (e) => across(this.layout, this.nets, point, e).re);
  }

  private isAlive(e: number, volts: Sized): boolean {
    const size = sizeOf(volts);
    return size > this.noVolts && size >= lowestVolts(this.layout, e) * AT_LIMIT;
  }

  private withLoads(closed: Uint8Array, loads: Iterable<number>): Uint8Array {
    const on = closed.slice();
    for (const e of loads) on[e] = 1;
    return on;
  }

  /** Loads by their ids. */
  private inOrder(loads: Iterable<number>): readonly number[] {
    const held = new Set(loads);
    return this.layout.loads.filter((e) => held.has(e));
  }

  /** Loads that are too low, worst first: by the share of the volts they need, then as they are given. */
  private worstFirst(point: Operating, loads: readonly number[]): readonly number[] {
    const share = (e: number): number => {
      const needed = lowestVolts(this.layout, e);
      const size = sizeOf(across(this.layout, this.nets, point, e));
      return needed > 0 ? size / needed : Number.POSITIVE_INFINITY;
    };
    const shares = new Map(loads.map((e) => [e, share(e)]));
    return [...loads].sort((x, y) => {
      const sx = shares.get(x)!;
      const sy = shares.get(y)!;
      return sx === sy ? 0 : sx - sy;
    });
  }

  private settleLoads(closed: Uint8Array): { settled: Settled; problem?: SolveProblem } | SolveProblem {
    const all = this.withLoads(closed, this.drawing);
    const first = this.operate(all, false);
    if ('kind' in first) return first;
    const fine =
      first.share === 1 && this.drawing.every((e) => this.isAlive(e, across(this.layout, this.nets, first, e)));
    if (fine) return { settled: { operating: first, on: all, droppedOut: [], cycling: [] } };

    const starting = new Set<number>();
    const unloaded = this.idleVolts(closed, undefined);
    if ('kind' in unloaded) return unloaded;
    for (const e of this.drawing) if (this.isAlive(e, across(this.layout, this.nets, unloaded, e))) starting.add(e);
    for (;;) {
      const result = this.dropLoads(closed, starting);
      if ('kind' in result) return result;
      if (result.problem !== undefined) return result;
      const late = this.drawing.filter(
        (e) => !starting.has(e) && this.isAlive(e, across(this.layout, this.nets, result.settled.operating, e)),
      );
      if (late.length === 0) return result;
      for (const e of late) starting.add(e);
    }
  }

  /** Volts with every load idle but those that run, which keep drawing what they do. */
  private idleVolts(running: Uint8Array, point: Operating | undefined): Operating | SolveProblem {
    const { layout, nets, condition } = this;
    if (this.overCycle) return leakingOverCycle(layout, nets, running, point?.cycle, condition);
    return leakingVolts(
      layout,
      nets,
      running,
      (e) => (point === undefined ? null : loadAmps(layout, e, condition, across(layout, nets, point, e))),
      condition,
    );
  }

  private dropLoads(
    closed: Uint8Array,
    starting: ReadonlySet<number>,
  ): { settled: Settled; problem?: SolveProblem } | SolveProblem {
    const { layout, nets } = this;
    const running = new Set(starting);
    const dropped: number[] = [];
    const forced = new Set<number>();
    let collapse: { loads: readonly number[]; point: Operating } | undefined;
    for (;;) {
      const on = this.withLoads(closed, running);
      const point = this.operate(on);
      if ('kind' in point) return point;
      const loads = this.inOrder(running);
      if (point.share === 1) {
        const low = loads.filter((e) => !this.isAlive(e, across(layout, nets, point, e)));
        if (low.length > 0) {
          const most = loads.length > ONE_BY_ONE_UP_TO ? Math.ceil(low.length * DROPPED_AT_ONCE) : 1;
          for (const worst of this.worstFirst(point, low).slice(0, most)) {
            running.delete(worst);
            dropped.push(worst);
          }
          continue;
        }
        const idle = dropped.length === 0 ? point : this.idleVolts(on, point);
        if ('kind' in idle) return idle;
        const droppedOut = this.inOrder(dropped);
        const cycling = droppedOut.filter((e) => this.isAlive(e, across(layout, nets, idle, e)));
        const settled: Settled = { operating: point, on, droppedOut, cycling };
        if (collapse === undefined || !cycling.some((e) => forced.has(e))) return { settled };
        return {
          settled: { ...settled, operating: collapse.point },
          problem: {
            kind: 'collapses',
            loads: this.guilty(closed, collapse.loads).map((e) => layout.elementAt(e).id),
            available: collapse.point.share,
          },
        };
      }
      if (point.share > NO_SHARE) collapse ??= { loads, point };
      for (const victim of this.inTheWay(closed, point, loads)) {
        running.delete(victim);
        dropped.push(victim);
        if (point.share > NO_SHARE) forced.add(victim);
      }
    }
  }

  /** The loads to drop where there is no operating point: the worst one, or of many as few of the worst as lets the rest run. */
  private inTheWay(closed: Uint8Array, point: Operating, loads: readonly number[]): readonly number[] {
    const worst = this.worstFirst(point, this.drawnDown(point, loads));
    if (worst.length <= ONE_BY_ONE_UP_TO) return worst.slice(0, 1);
    let few = 1;
    let many = worst.length;
    while (few < many) {
      const middle = Math.floor((few + many) / 2);
      const out = new Set(worst.slice(0, middle));
      const rest = this.withLoads(
        closed,
        loads.filter((e) => !out.has(e)),
      );
      const found = this.operate(rest, false);
      if ('kind' in found || found.share === 1) many = middle;
      else few = middle + 1;
    }
    return worst.slice(0, few);
  }

  /** The loads that see any volts: the others have no part in a collapse. */
  private drawnDown(point: Operating, loads: readonly number[]): readonly number[] {
    const seen = loads.filter((e) => sizeOf(across(this.layout, this.nets, point, e)) > this.noVolts);
    return seen.length > 0 ? seen : loads;
  }

  /** The loads without any one of which the rest could run; all of them where no single one is to blame. */
  private guilty(closed: Uint8Array, loads: readonly number[]): readonly number[] {
    if (loads.length > ONE_BY_ONE_UP_TO) return loads;
    const alone = loads.filter((e) => {
      const others = loads.filter((other) => other !== e);
      const rest = this.operate(this.withLoads(closed, others));
      return !('kind' in rest) && rest.share === 1;
    });
    return alone.length > 0 ? alone : loads;
  }

  /** The closed bypass furthest above its limit, or -1. */
  private bypassOverLimit(point: Operating, closed: Uint8Array): number {
    let worst = -1;
    let furthest = 1;
    for (const e of this.layout.bypasses) {
      const element = this.layout.elementAt(e);
      if (closed[e] !== 1 || element.kind !== 'bypass') continue;
      const branch = point.equations.branchOf[e]!;
      const amps =
        branch >= 0 && point.cycle === undefined
          ? sizeOf({ re: point.branchRe[branch]!, im: point.branchIm[branch]! })
          : sizeOf(across(this.layout, this.nets, point, e)) / this.layout.ohms[e]!;
      const over = element.opensAbove > 0 ? amps / element.opensAbove : amps > 0 ? Number.POSITIVE_INFINITY : 0;
      if (over > furthest) {
        furthest = over;
        worst = e;
      }
    }
    return worst;
  }
}

export function settle(layout: Layout, nets: Nets, condition: LoadCondition): Settled | SolveProblem {
  return new Settling(layout, nets, condition).settle();
}
