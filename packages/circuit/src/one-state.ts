/** What is asked of one further state of a linear circuit. */

import { IMPEDANCE, SOURCE } from './columns.js';
import { ampsThrough } from './figures.js';
import type { FurtherStates } from './further-states.js';
import { emfOf, type Layout } from './layout.js';
import type { CircuitState, ElementFigures, Phasor, Solution } from './network.js';
import { ZERO } from './phasor.js';

/** One state: figures are worked out as they are asked for, those of what is joined in full. */
export class OneState {
  readonly solution: Solution;
  private full: Solution | undefined;

  constructor(
    private readonly shared: FurtherStates,
    private readonly state: CircuitState,
    private readonly parts: ReadonlyMap<number, number>,
    private readonly fed: ReadonlySet<number>,
    readonly leftRe: Float64Array,
    readonly leftIm: Float64Array,
    private readonly inFull: (layout: Layout, state: CircuitState) => Solution,
  ) {
    this.solution = {
      state,
      problem: undefined,
      shorted: [],
      droppedOut: [],
      cycling: [],
      element: (id) => this.figuresOf(id),
      between: (a, b) => this.between(a, b),
    };
  }

  private between(a: string, b: string): Phasor | null {
    const { layout } = this.shared;
    const pa = layout.pointOf(a);
    const pb = layout.pointOf(b);
    if (pa === undefined || pb === undefined) return null;
    const x = this.shared.netOfPoint(pa);
    const y = this.shared.netOfPoint(pb);
    return x === y ? ZERO : this.across(x, y);
  }

  /** Volts from one net to another; `null` where they hang free of each other. */
  private across(x: number, y: number): Phasor | null {
    const { shared, parts } = this;
    const part = shared.partIn(parts, x);
    if (part !== shared.partIn(parts, y)) return null;
    if (!this.fed.has(part)) return ZERO;
    const one = shared.voltsAt(this, x);
    const other = shared.voltsAt(this, y);
    return { re: one.re - other.re, im: one.im - other.im };
  }

  private figuresOf(id: string): ElementFigures | undefined {
    const { layout } = this.shared;
    const e = layout.numberOf(id);
    if (e === undefined) return undefined;
    const code = layout.kind[e];
    const x = this.shared.netOfPoint(layout.a[e]!);
    const y = this.shared.netOfPoint(layout.b[e]!);
    if (layout.ideal[e] === 1 || x === y || (code !== IMPEDANCE && code !== SOURCE)) {
      this.shared.wasAskedInFull = true;
      this.full ??= this.inFull(layout, this.state);
      return this.full.element(id);
    }
    const volts = this.across(x, y)!;
    if (!this.fed.has(this.shared.partIn(this.parts, x))) return { volts: ZERO, amps: ZERO, on: false };
    const emf = code === SOURCE ? emfOf(layout, e) : ZERO;
    const height = this.heightOf(x) + this.heightOf(y) + Math.abs(emf.re) + Math.abs(emf.im);
    const amps = ampsThrough(volts.re - emf.re, volts.im - emf.im, layout.ohms[e]!, layout.reactance[e]!, height);
    return { volts, amps, on: true };
  }

  private heightOf(net: number): number {
    const { re, im } = this.shared.voltsAt(this, net);
    return Math.abs(re) + Math.abs(im);
  }
}
