/** An island of the house as it works under one hypothesis in one state: what a meter finds in it, and what that leans on. */

import { type EditedCycle, type EditedNetwork, magnitude, type Responses } from '@ohmstead/circuit';
import type { Gauged } from './gauge.js';

/** Volts between two nodes. `direct`: on the DC setting. `cut`: how far meters on the AC setting differ, where diodes cut the waves. */
export interface Across {
  readonly size: number;
  readonly direct: number;
  readonly cut: number;
}

export interface Operating {
  /** Loads that run, by their branch in the house. */
  readonly running: ReadonlySet<number>;
  /** Volts by which figures may be off because a load may as well hold as let go; none where all is clear. */
  readonly doubt: number;
  /** What has been gauged in it already, by the spot's number. */
  readonly gauged: (Gauged | undefined)[];
  /** Numbers of nodes and branches are the island's own. */
  across(a: number, b: number): Across;
  /** Ohms behind two nodes. */
  behind(a: number, b: number): number;
  /** By how much the figure changes for a whole half-width of each nuisance of the island, put into a list; last the hypothesis's own spread. */
  slopes(a: number, b: number, signed: boolean, into: number[]): void;
  amps(branch: number): number;
  ampSlopes(branch: number, into: number[]): void;
}

/** A branch whose ohms or EMF are not known for sure: shares of them for half the width, and the group that moves together. */
export interface Effect {
  readonly group: number;
  readonly branch: number;
  readonly ohms: number;
  readonly emf: number;
}

/** Volts without a direction. */
const NOTHING = 1e-6;
const NO_AMPS = 1e-7;
/** Filled anew each time. */
const changeRe: number[] = [];
const changeIm: number[] = [];

export class LinearOperating implements Operating {
  readonly gauged: (Gauged | undefined)[] = [];
  #responses: Responses | undefined;

  /** `groups`: how many, the hypothesis's own among them. */
  constructor(
    readonly network: EditedNetwork,
    readonly running: ReadonlySet<number>,
    readonly doubt: number,
    private readonly effects: readonly Effect[],
    private readonly groups: number,
  ) {}

  across(a: number, b: number): Across {
    const volts = this.network.volts(a, b);
    return { size: magnitude(volts), direct: volts.re, cut: 0 };
  }

  behind(a: number, b: number): number {
    return magnitude(this.network.ohms(a, b));
  }

  amps(branch: number): number {
    return magnitude(this.network.amps(branch));
  }

  slopes(a: number, b: number, signed: boolean, into: number[]): void {
    const { re, im } = this.network.volts(a, b);
    this.#slopes(a, b, re, im, signed, into);
  }

  /** Amps are the volts that drive the branch over its own ohms. */
  ampSlopes(branch: number, into: number[]): void {
    const { re, im, emfRe, emfIm } = this.network.figures(branch);
    const { a, b } = this.network.network.branches[branch]!;
    const volts = this.network.volts(a, b);
    this.#slopes(a, b, volts.re - emfRe, volts.im - emfIm, false, into);
    const siemens = Math.sqrt(re * re + im * im);
    for (let group = 0; group < this.groups; group++) into[group]! *= siemens;
    // More ohms in the branch itself raise its volts, and lower its amps by as much as they are more.
    const own = this.effects.find((effect) => effect.branch === branch);
    if (own !== undefined) into[own.group]! -= this.amps(branch) * own.ohms;
  }

  #slopes(a: number, b: number, atRe: number, atIm: number, signed: boolean, into: number[]): void {
    this.#responses ??= this.network.responses(this.#drives());
    this.#responses.between(a, b, changeRe, changeIm);
    const [alongRe, alongIm] = signed ? [1, 0] : this.#direction(atRe, atIm);
    for (let group = 0; group < this.groups; group++) {
      into[group] = changeRe[group]! * alongRe + changeIm[group]! * alongIm;
    }
  }

  /** The figure's own direction; of one that is less than it may change by, and may turn anywhere, the one that it mostly changes in. */
  #direction(re: number, im: number): readonly [number, number] {
    let [xx, xy, yy] = [0, 0, 0];
    for (let group = 0; group < this.groups; group++) {
      xx += changeRe[group]! ** 2;
      xy += changeRe[group]! * changeIm[group]!;
      yy += changeIm[group]! ** 2;
    }
    const size = Math.sqrt(re * re + im * im);
    if (size > NOTHING && size * size >= xx + yy) return [re / size, im / size];
    const angle = Math.atan2(2 * (xy + re * im), xx + re * re - yy - im * im) / 2;
    const [alongRe, alongIm] = [Math.cos(angle), Math.sin(angle)];
    return alongRe * re + alongIm * im < 0 ? [-alongRe, -alongIm] : [alongRe, alongIm];
  }

  /** The currents that stand in for more ohms or more EMF in the branches. */
  #drives() {
    const drives = {
      count: this.groups,
      groups: [] as number[],
      branches: [] as number[],
      re: [] as number[],
      im: [] as number[],
    };
    for (const { group, branch, ohms, emf } of this.effects) {
      const amps = this.network.amps(branch);
      const { re, im, emfRe, emfIm } = this.network.figures(branch);
      const driveRe = amps.re * ohms + (re * emfRe - im * emfIm) * emf;
      const driveIm = amps.im * ohms + (re * emfIm + im * emfRe) * emf;
      if (Math.abs(driveRe) + Math.abs(driveIm) < NO_AMPS) continue;
      drives.groups.push(group);
      drives.branches.push(branch);
      drives.re.push(driveRe);
      drives.im.push(driveIm);
    }
    return drives;
  }
}

/** With diodes that cut the waves: figures are RMS over a cycle. */
export class CutOperating implements Operating {
  readonly gauged: (Gauged | undefined)[] = [];

  constructor(
    private readonly cycle: EditedCycle,
    readonly running: ReadonlySet<number>,
    readonly doubt: number,
  ) {}

  across(a: number, b: number): Across {
    const { size, mean } = this.cycle.across(a, b);
    // Some meters leave out what is steady, some count it in.
    return { size, direct: mean, cut: size - Math.sqrt(Math.max(size * size - mean * mean, 0)) };
  }

  behind(a: number, b: number): number {
    return this.cycle.ohms(a, b);
  }

  amps(branch: number): number {
    return this.cycle.amps(branch);
  }

  slopes(a: number, b: number, signed: boolean, into: number[]): void {
    this.cycle.slopes(a, b, signed, into);
  }

  ampSlopes(branch: number, into: number[]): void {
    this.cycle.ampSlopes(branch, into);
  }
}
