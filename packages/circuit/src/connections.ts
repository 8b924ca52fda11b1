/** Equations of a network that is given admittance by admittance. */

import { Eliminations, NOWHERE } from './elimination.js';
import { NodalSystem } from './nodal.js';

/** Stands for late nets: there are none. */
const NONE_LATE = new Uint8Array(0);

/** Admittances between nets, gathered one by one. */
export class Connections {
  private from: Int32Array;
  private to: Int32Array;
  private givenRe: Float64Array;
  private givenIm: Float64Array;
  private given = 0;
  private readonly pinned: Uint8Array;
  private isReal = true;

  /** `reference` marks the nets held at zero volts (one an island, and all dead ones); `admittances` is how many there will be, about. */
  constructor(
    private readonly nets: number,
    private readonly reference: Uint8Array,
    admittances = 16,
  ) {
    this.pinned = new Uint8Array(nets);
    this.from = new Int32Array(admittances);
    this.to = new Int32Array(admittances);
    this.givenRe = new Float64Array(admittances);
    this.givenIm = new Float64Array(admittances);
  }

  /** An admittance between two different nets. */
  connect(x: number, y: number, re: number, im: number): void {
    if (this.given === this.from.length) this.grow();
    const k = this.given++;
    this.from[k] = x;
    this.to[k] = y;
    this.givenRe[k] = re;
    this.givenIm[k] = im;
    if (im !== 0) this.isReal = false;
  }

  private grow(): void {
    const length = 2 * this.from.length + 16;
    const longer = <T extends Int32Array | Float64Array>(list: T, copy: T): T => {
      copy.set(list);
      return copy;
    };
    this.from = longer(this.from, new Int32Array(length));
    this.to = longer(this.to, new Int32Array(length));
    this.givenRe = longer(this.givenRe, new Float64Array(length));
    this.givenIm = longer(this.givenIm, new Float64Array(length));
  }

  /** Leaves a net to the part that is solved with pivoting. */
  pin(net: number): void {
    this.pinned[net] = 1;
  }

  /** The equations, not factored yet. */
  system(eliminations = new Eliminations()): NodalSystem {
    const { nets, reference, pinned, given, givenRe, givenIm } = this;
    const from = this.from.subarray(0, given);
    const to = this.to.subarray(0, given);
    const plan = eliminations.of({ nets, reference, pinned, late: NONE_LATE, from, to });
    const system = new NodalSystem(plan, nets, [], this.isReal);
    for (let k = 0; k < given; k++) {
      const entry = plan.entryOf[k]!;
      if (entry !== NOWHERE) system.enter(entry, givenRe[k]!, givenIm[k]!);
    }
    return system;
  }
}
