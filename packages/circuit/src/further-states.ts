/**
 * Further states of a linear circuit. All that no contact touches is eliminated once for all states; of a state only the few nets at
 * contacts are solved, and only those volts are carried back that are asked for. Its own equations are checked with each state, those
 * that all states share with the first one, which is solved in full.
 */

import { IMPEDANCE, SOURCE, TINY_OHMS } from './columns.js';
import { ComplexLu } from './dense.js';
import { BALANCE_WITHIN } from './figures.js';
import { emfOf, isMade, type Layout, netsWhere } from './layout.js';
import type { CircuitState, Phasor, Solution } from './network.js';
import { Connections } from './connections.js';
import type { Reduced } from './nodal.js';
import { OneState } from './one-state.js';
import { UnionFind } from './union-find.js';

/** With more nets at contacts than this, what is left is no small matter. */
const MOST_AT_CONTACTS = 48;

type SolveInFull = (layout: Layout, state: CircuitState) => Solution;

/** What all states of a circuit share; `undefined` where it is not linear, or has ideal sources or the like that call for more care. */
export function furtherStatesOf(layout: Layout): FurtherStates | undefined {
  const { kind, loads, bypasses, diodes, hasFed, contacts, sources, circuit } = layout;
  if (contacts.length === 0 || sources.length === 0) return undefined;
  if (loads.length + bypasses.length + diodes.length > 0 || hasFed || circuit.system === 'mixed') return undefined;
  for (let e = 0; e < kind.length; e++) {
    if (kind[e] !== IMPEDANCE && kind[e] !== SOURCE) continue;
    if (layout.ideal[e] === 1) continue;
    if (layout.reactance[e]! < 0 || layout.ohms[e]! + layout.reactance[e]! < TINY_OHMS) return undefined;
  }
  const further = new FurtherStates(layout);
  return further.isUsable ? further : undefined;
}

export class FurtherStates {
  readonly isUsable: boolean;
  /** Per point: its net, of what is one whatever the contacts do. */
  private readonly netOf: Int32Array;
  /** Per net: its part, of what hangs together whatever the contacts do; and whether a source is in it. */
  private readonly partOf: Int32Array;
  private readonly isFed: Uint8Array;
  /** Per net: its set among those joined by bare wire. */
  private readonly bareOf: Int32Array;
  private readonly positionOf: Int32Array;
  private readonly reduced!: Reduced;
  /** Per position: what is injected once the eliminated nets have passed theirs on. */
  private readonly passedRe!: Float64Array;
  private readonly passedIm!: Float64Array;
  /** Volts by position of the state in whose hands they are. */
  private readonly voltsRe!: Float64Array;
  private readonly voltsIm!: Float64Array;
  private readonly stamps!: Int32Array;
  /** Positions on the way from a net to what its volts hang on, and the volts there, of a few at a time. */
  private readonly way!: Int32Array;
  private readonly nearRe!: Float64Array;
  private readonly nearIm!: Float64Array;
  private stamp = 0;
  private holder: OneState | undefined;
  /** Whether a state was asked for what only a solution in full has. */
  wasAskedInFull = false;

  constructor(readonly layout: Layout) {
    const { a, b, contacts, kind, sources } = layout;
    const { netOf, count: nets } = netsWhere(layout, layout.ideal);
    this.netOf = netOf;
    const parts = new UnionFind(nets);
    const bare = new UnionFind(nets);
    for (let e = 0; e < kind.length; e++) {
      if (kind[e] === IMPEDANCE || kind[e] === SOURCE) parts.join(netOf[a[e]!]!, netOf[b[e]!]!);
    }
    for (const e of layout.bare) bare.join(netOf[a[e]!]!, netOf[b[e]!]!);
    this.partOf = parts.flatten();
    this.bareOf = bare.flatten();
    this.isFed = new Uint8Array(nets);
    for (const e of sources) this.isFed[this.partOf[netOf[a[e]!]!]!] = 1;

    const connections = new Connections(nets, new Uint8Array(nets), kind.length);
    const atContacts = new Set<number>();
    for (const e of contacts) {
      for (const net of [netOf[a[e]!]!, netOf[b[e]!]!]) {
        atContacts.add(net);
        connections.pin(net);
      }
    }
    const pinnedParts = new Set([...atContacts].map((net) => this.partOf[net]!));
    this.positionOf = new Int32Array(nets);
    this.isUsable =
      atContacts.size <= MOST_AT_CONTACTS &&
      this.partOf.every((part) => pinnedParts.has(part)) &&
      sources.every((e) => this.bareOf[netOf[a[e]!]!] !== this.bareOf[netOf[b[e]!]!]);
    if (!this.isUsable) return;
    const injectedRe = new Float64Array(nets);
    const injectedIm = new Float64Array(nets);
    for (let e = 0; e < kind.length; e++) {
      if (layout.ideal[e] === 1 || (kind[e] !== IMPEDANCE && kind[e] !== SOURCE)) continue;
      const x = netOf[a[e]!]!;
      const y = netOf[b[e]!]!;
      if (x === y) continue;
      const zRe = layout.ohms[e]!;
      const zIm = layout.reactance[e]!;
      const square = zRe * zRe + zIm * zIm;
      connections.connect(x, y, zRe / square, -zIm / square);
      if (kind[e] !== SOURCE) continue;
      const emf = emfOf(layout, e);
      const re = (emf.re * zRe + emf.im * zIm) / square;
      const im = (emf.im * zRe - emf.re * zIm) / square;
      injectedRe[x]! += re;
      injectedIm[x]! += im;
      injectedRe[y]! -= re;
      injectedIm[y]! -= im;
    }
    this.reduced = connections.system(layout.eliminations).reduced();
    const { size, netAt } = this.reduced.plan;
    this.passedRe = new Float64Array(size);
    this.passedIm = new Float64Array(size);
    for (let position = 0; position < size; position++) {
      const net = netAt[position]!;
      this.positionOf[net] = position;
      this.passedRe[position] = injectedRe[net]!;
      this.passedIm[position] = injectedIm[net]!;
    }
    this.passOn();
    this.voltsRe = new Float64Array(size);
    this.voltsIm = new Float64Array(size);
    this.stamps = new Int32Array(size);
    this.way = new Int32Array(size);
    this.nearRe = new Float64Array(size + 1);
    this.nearIm = new Float64Array(size + 1);
  }

  private passOn(): void {
    const { passedRe, passedIm, reduced } = this;
    const { entryRe, entryIm, plan } = reduced;
    for (let position = 0; position < plan.eliminated; position++) {
      const jr = passedRe[position]!;
      const ji = passedIm[position]!;
      if (jr === 0 && ji === 0) continue;
      for (let k = plan.starts[position]!; k < plan.starts[position + 1]!; k++) {
        const row = plan.rows[k]!;
        passedRe[row]! += entryRe[k]! * jr - entryIm[k]! * ji;
        passedIm[row]! += entryRe[k]! * ji + entryIm[k]! * jr;
      }
    }
  }

  /** `undefined` where the state is one to be solved in full: a supply is shorted, or its equations do not come out. */
  solve(state: CircuitState, inFull: SolveInFull): Solution | undefined {
    const actuated = new Set(state.closed);
    const made = this.layout.contacts.filter((e) => isMade(this.layout, e, actuated));
    if (this.shortsASource(made)) return undefined;
    const { eliminated, size, netAt } = this.reduced.plan;
    const left = size - eliminated;
    const joined = new UnionFind(left);
    const parts = new Map<number, number>();
    for (const e of made) {
      const x = this.netAtEnd(e, this.layout.a);
      const y = this.netAtEnd(e, this.layout.b);
      joined.join(this.positionOf[x]! - eliminated, this.positionOf[y]! - eliminated);
      const px = rootOf(parts, this.partOf[x]!);
      const py = rootOf(parts, this.partOf[y]!);
      if (px !== py) parts.set(py, px);
    }
    const fed = new Set<number>();
    for (let k = 0; k < left; k++) {
      const part = this.partOf[netAt[eliminated + k]!]!;
      if (this.isFed[part] === 1) fed.add(rootOf(parts, part));
    }
    const solved = this.solveLeft(joined, parts, fed);
    if (solved === undefined) return undefined;
    return new OneState(this, state, parts, fed, solved.re, solved.im, inFull).solution;
  }

  private netAtEnd(e: number, ends: Int32Array): number {
    return this.netOf[ends[e]!]!;
  }

  private shortsASource(made: readonly number[]): boolean {
    if (made.length === 0) return false;
    const sets = new Map<number, number>();
    for (const e of made) {
      const x = rootOf(sets, this.bareOf[this.netAtEnd(e, this.layout.a)]!);
      const y = rootOf(sets, this.bareOf[this.netAtEnd(e, this.layout.b)]!);
      if (x !== y) sets.set(y, x);
    }
    return this.layout.sources.some((e) => {
      const x = this.bareOf[this.netAtEnd(e, this.layout.a)]!;
      return rootOf(sets, x) === rootOf(sets, this.bareOf[this.netAtEnd(e, this.layout.b)]!);
    });
  }

  /** Volts of the nets that are left, each fed part against the first of its own; `undefined` where they fail their own balance. */
  private solveLeft(
    joined: UnionFind,
    parts: ReadonlyMap<number, number>,
    fed: ReadonlySet<number>,
  ): { re: Float64Array; im: Float64Array } | undefined {
    const { plan, entryRe, entryIm } = this.reduced;
    const { eliminated, size, starts, rows, netAt } = plan;
    const left = size - eliminated;
    const unknownOf = new Int32Array(left).fill(-1);
    const referred = new Set<number>();
    let unknowns = 0;
    for (let k = 0; k < left; k++) {
      if (joined.find(k) !== k) continue;
      const part = rootOf(parts, this.partOf[netAt[eliminated + k]!]!);
      if (!fed.has(part)) continue;
      if (referred.has(part)) unknownOf[k] = unknowns++;
      else referred.add(part);
    }
    const lu = new ComplexLu(unknowns);
    const re = new Float64Array(unknowns);
    const im = new Float64Array(unknowns);
    for (let k = 0; k < left; k++) {
      const row = unknownOf[joined.find(k)]!;
      if (row >= 0) {
        re[row]! += this.passedRe[eliminated + k]!;
        im[row]! += this.passedIm[eliminated + k]!;
      }
      for (let at = starts[eliminated + k]!; at < starts[eliminated + k + 1]!; at++) {
        const column = unknownOf[joined.find(rows[at]! - eliminated)]!;
        if (row === column) continue;
        const yr = entryRe[at]!;
        const yi = entryIm[at]!;
        if (row >= 0) lu.add(row, row, yr, yi);
        if (column >= 0) lu.add(column, column, yr, yi);
        if (row < 0 || column < 0) continue;
        lu.add(row, column, -yr, -yi);
        lu.add(column, row, -yr, -yi);
      }
    }
    if (lu.factor() >= 0) return undefined;
    lu.solve(re, im);
    const leftRe = new Float64Array(left);
    const leftIm = new Float64Array(left);
    for (let k = 0; k < left; k++) {
      const unknown = unknownOf[joined.find(k)]!;
      if (unknown < 0) continue;
      leftRe[k] = re[unknown]!;
      leftIm[k] = im[unknown]!;
    }
    return this.balances(joined, leftRe, leftIm, unknownOf) ? { re: leftRe, im: leftIm } : undefined;
  }

  /** Whether what flows into each joined set of nets that are left flows out again. */
  private balances(joined: UnionFind, re: Float64Array, im: Float64Array, unknownOf: Int32Array): boolean {
    const { plan, entryRe, entryIm } = this.reduced;
    const { eliminated, starts, rows } = plan;
    const missingRe = new Float64Array(re.length);
    const missingIm = new Float64Array(re.length);
    let largest = 0;
    for (let k = 0; k < re.length; k++) {
      const one = joined.find(k);
      missingRe[one]! += this.passedRe[eliminated + k]!;
      missingIm[one]! += this.passedIm[eliminated + k]!;
      largest = Math.max(largest, Math.abs(this.passedRe[eliminated + k]!), Math.abs(this.passedIm[eliminated + k]!));
      for (let at = starts[eliminated + k]!; at < starts[eliminated + k + 1]!; at++) {
        const far = rows[at]! - eliminated;
        const other = joined.find(far);
        if (one === other) continue;
        const vr = re[k]! - re[far]!;
        const vi = im[k]! - im[far]!;
        const ir = entryRe[at]! * vr - entryIm[at]! * vi;
        const ii = entryRe[at]! * vi + entryIm[at]! * vr;
        missingRe[one]! -= ir;
        missingIm[one]! -= ii;
        missingRe[other]! += ir;
        missingIm[other]! += ii;
        largest = Math.max(largest, Math.abs(ir), Math.abs(ii));
      }
    }
    for (let k = 0; k < re.length; k++) {
      if (unknownOf[k]! < 0) continue;
      if (!(Math.abs(missingRe[k]!) + Math.abs(missingIm[k]!) <= BALANCE_WITHIN * largest)) return false;
    }
    return true;
  }

  netOfPoint(point: number): number {
    return this.netOf[point]!;
  }

  /** Whether a net is in a part that a source feeds in this state, and in which. */
  partIn(parts: ReadonlyMap<number, number>, net: number): number {
    return rootOf(parts, this.partOf[net]!);
  }

  /** Volts of a net against the first net of its part, carried back from the nets that are left. */
  voltsAt(holder: OneState, net: number): Phasor {
    const { plan } = this.reduced;
    if (this.holder !== holder) {
      this.holder = holder;
      this.stamp++;
      for (let position = plan.eliminated; position < plan.size; position++) {
        this.voltsRe[position] = holder.leftRe[position - plan.eliminated]!;
        this.voltsIm[position] = holder.leftIm[position - plan.eliminated]!;
        this.stamps[position] = this.stamp;
      }
    }
    const wanted = this.positionOf[net]!;
    if (this.stamps[wanted] !== this.stamp) this.carryBack(wanted);
    return { re: this.voltsRe[wanted]!, im: this.voltsIm[wanted]! };
  }

  /** All that a net's volts hang on is on the way along the first rows of columns, from it to what is known already. */
  private carryBack(wanted: number): void {
    const { starts, rows, eliminated } = this.reduced.plan;
    const { way, stamps, stamp } = this;
    let length = 0;
    for (let position = wanted; position < eliminated && stamps[position] !== stamp; ) {
      way[length++] = position;
      const start = starts[position]!;
      if (start === starts[position + 1]) break;
      position = rows[start]!;
    }
    while (length > 0) {
      // Columns that follow one another and have the same rows are gone through with the volts of these side by side.
      let first = --length;
      const last = way[length]!;
      while (first > 0 && isJoined(way[first - 1]!, way[first]!, starts)) first--;
      this.carryBackTo(way[first]!, last);
      length = first;
    }
  }

  private carryBackTo(first: number, last: number): void {
    const { plan, isReal, entryRe, entryIm, inverseRe, inverseIm } = this.reduced;
    const { voltsRe, voltsIm, nearRe, nearIm, stamps, stamp } = this;
    const { starts, rows } = plan;
    const end = starts[last + 1]!;
    for (let k = starts[last]!, at = last - first + 1; k < end; k++, at++) {
      nearRe[at] = voltsRe[rows[k]!]!;
      nearIm[at] = voltsIm[rows[k]!]!;
    }
    for (let position = last; position >= first; position--) {
      const jr = this.passedRe[position]!;
      const ji = this.passedIm[position]!;
      const ir = inverseRe[position]!;
      const ii = inverseIm[position]!;
      let re = jr * ir - ji * ii;
      let im = jr * ii + ji * ir;
      const far = starts[position + 1]!;
      let at = position - first + 1;
      if (isReal) {
        for (let k = starts[position]!; k < far; k++, at++) {
          re += entryRe[k]! * nearRe[at]!;
          im += entryRe[k]! * nearIm[at]!;
        }
      } else {
        for (let k = starts[position]!; k < far; k++, at++) {
          re += entryRe[k]! * nearRe[at]! - entryIm[k]! * nearIm[at]!;
          im += entryRe[k]! * nearIm[at]! + entryIm[k]! * nearRe[at]!;
        }
      }
      nearRe[position - first] = re;
      nearIm[position - first] = im;
      voltsRe[position] = re;
      voltsIm[position] = im;
      stamps[position] = stamp;
    }
  }
}

/** Whether the rows of a column are those of the next one and that itself. */
function isJoined(position: number, next: number, starts: Int32Array): boolean {
  return next === position + 1 && starts[next + 1]! - starts[next]! === starts[next]! - starts[position]! - 1;
}

function rootOf(sets: ReadonlyMap<number, number>, of: number): number {
  let root = of;
  for (let above = sets.get(root); above !== undefined; above = sets.get(root)) root = above;
  return root;
}
