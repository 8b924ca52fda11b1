/**
 * An edited network whose diodes cut the waves, followed over one cycle: as `cycle.ts` does, on networks made for many what-ifs. An impedance
 * counts as its size; what alternates and what is steady are solved apart, and as long as the same diodes conduct both are as they are.
 */

import { DIODE_LEAK_SIEMENS, DIODE_OHMS, DIODE_VOLTS, mostTurns } from './diodes.js';
import type { BranchEdit, EditableNetwork, EditedNetwork } from './edited-network.js';
import {
  addInstant,
  INSTANTS,
  type Instants,
  mean,
  noInstants,
  rms,
  type Wave,
  waveAt,
  sumOfProduct,
  sumOfWave,
} from './instants.js';
import type { Drives, Responses } from './responses.js';

/** The same branches twice, all without reactance: driven by what alternates, and by what is steady. A diode's branch holds its leak. */
export interface CycleNetworks {
  readonly alternating: EditableNetwork;
  readonly steady: EditableNetwork;
}

/** Conducts from its branch's `a` to its `b`, or the other way round where it is `reversed`. */
export interface CycleDiode {
  readonly branch: number;
  readonly reversed: boolean;
}

/** The instants at which the same diodes conduct, as sums over them. */
interface Span extends Instants {
  readonly alternating: EditedNetwork;
  readonly steady: EditedNetwork;
  responses?: { readonly alternating: Responses; readonly steady: Responses };
}

/** Volts by which a diode may be on the wrong side of its forward volts. */
const SLACK = 1e-6;
const CONDUCTING = DIODE_LEAK_SIEMENS + 1 / DIODE_OHMS;

/** A branch as a diode that blocks. */
export const BLOCKING = { re: DIODE_LEAK_SIEMENS, im: 0, emfRe: 0, emfIm: 0 } as const;

/** A branch whose ohms or EMF may be other by these shares; those of one group move together. Groups count from 0. */
export interface CycleLean {
  readonly group: number;
  readonly branch: number;
  readonly ohms: number;
  readonly emf: number;
}

export class EditedCycle {
  private readonly spans: readonly Span[];

  /** `edits`: of what alternates, then of what is steady; with the same siemens, and none of the diodes. `groups`: how many `leans` has. */
  constructor(
    private readonly networks: CycleNetworks,
    edits: readonly [readonly BranchEdit[], readonly BranchEdit[]],
    diodes: readonly CycleDiode[],
    private readonly leans: readonly CycleLean[] = [],
    private readonly groups = 0,
  ) {
    this.spans = follow(networks, edits, diodes);
  }

  /** RMS volts, and their mean from a to b. */
  across(a: number, b: number): { readonly size: number; readonly mean: number } {
    const waveOf = (span: Span): Wave => waveAcross(span, a, b);
    return { size: rms(this.spans, waveOf), mean: mean(this.spans, waveOf) };
  }

  /** RMS. */
  amps(branch: number): number {
    return rms(this.spans, (span) => this.driving(span, branch)) * this.siemens(branch);
  }

  /** The mean over the cycle. */
  ohms(a: number, b: number): number {
    return this.spans.reduce((sum, { alternating, count }) => sum + alternating.ohms(a, b).re * count, 0) / INSTANTS;
  }

  /** By how much the RMS volts from a to b change, or their mean, per group of what it leans on; into a list. */
  slopes(a: number, b: number, isMean: boolean, into: number[]): void {
    this.change(a, b, isMean, (span) => waveAcross(span, a, b), into);
  }

  /** The same of a branch's amps; what it leans on of its own ohms is what changes the volts that drive it. */
  ampSlopes(branch: number, into: number[]): void {
    const { a, b } = this.networks.alternating.branches[branch]!;
    this.change(a, b, false, (span) => this.driving(span, branch), into);
    const siemens = this.siemens(branch);
    for (let group = 0; group < this.groups; group++) into[group]! *= siemens;
    const own = this.leans.find((lean) => lean.branch === branch);
    if (own !== undefined) into[own.group]! -= this.amps(branch) * own.ohms;
  }

  private siemens(branch: number): number {
    return this.spans[0]!.alternating.figures(branch).re;
  }

  private change(a: number, b: number, isMean: boolean, at: (span: Span) => Wave, into: number[]): void {
    for (let group = 0; group < this.groups; group++) into[group] = 0;
    const size = isMean ? 1 : Math.max(rms(this.spans, at), 1e-9);
    const re: number[] = [];
    const im: number[] = [];
    const steady: number[] = [];
    for (const span of this.spans) {
      span.responses ??= this.responsesIn(span);
      span.responses.alternating.between(a, b, re, im);
      span.responses.steady.between(a, b, steady, []);
      const wave = at(span);
      for (let group = 0; group < this.groups; group++) {
        const change = { re: re[group]!, im: im[group]!, steady: steady[group]! };
        into[group]! += (isMean ? sumOfWave(span, change) : sumOfProduct(span, wave, change)) / (INSTANTS * size);
      }
    }
  }

  /** To the currents that stand in for other ohms and EMFs. */
  private responsesIn(span: Span): NonNullable<Span['responses']> {
    const groups = this.leans.map(({ group }) => group);
    const branches = this.leans.map(({ branch }) => branch);
    const driven = this.leans.map(({ branch, ohms, emf }): Wave => {
      const { re: siemens } = span.alternating.figures(branch);
      const volts = this.driving(span, branch);
      const own = emfOf(span, branch);
      return {
        re: siemens * (volts.re * ohms + own.re * emf),
        im: siemens * (volts.im * ohms + own.im * emf),
        steady: siemens * (volts.steady * ohms + own.steady * emf),
      };
    });
    const [re, im, steady] = [
      driven.map((one) => one.re),
      driven.map((one) => one.im),
      driven.map((one) => one.steady),
    ];
    const drives = (real: readonly number[], imaginary: readonly number[]): Drives => ({
      count: this.groups,
      groups,
      branches,
      re: real,
      im: imaginary,
    });
    const none = groups.map(() => 0);
    return {
      alternating: span.alternating.responses(drives(re, im)),
      steady: span.steady.responses(drives(steady, none)),
    };
  }

  private driving(span: Span, branch: number): Wave {
    const { a, b } = this.networks.alternating.branches[branch]!;
    const volts = waveAcross(span, a, b);
    const emf = emfOf(span, branch);
    return { re: volts.re - emf.re, im: volts.im - emf.im, steady: volts.steady - emf.steady };
  }
}

function waveAcross({ alternating, steady }: Span, a: number, b: number): Wave {
  const { re, im } = alternating.volts(a, b);
  return { re, im, steady: steady.volts(a, b).re };
}

function emfOf({ alternating, steady }: Span, branch: number): Wave {
  const { emfRe, emfIm } = alternating.figures(branch);
  return { re: emfRe, im: emfIm, steady: steady.figures(branch).emfRe };
}

function follow(
  networks: CycleNetworks,
  edits: readonly [readonly BranchEdit[], readonly BranchEdit[]],
  diodes: readonly CycleDiode[],
): readonly Span[] {
  const spans = new Map<string, Span>();
  const conducts = diodes.map(() => false);
  const most = mostTurns(diodes.map(({ branch }) => branch));
  for (let k = 0; k < INSTANTS; k++) {
    for (let turns = 0; ; turns++) {
      const key = conducts.join();
      const span = spans.get(key) ?? spanOf(networks, edits, diodes, conducts);
      spans.set(key, span);
      const wrong = diodes.findIndex(({ branch, reversed }, d) => {
        const { a, b } = networks.alternating.branches[branch]!;
        const volts = waveAt(waveAcross(span, a, b), k);
        const beyond = (reversed ? -volts : volts) - DIODE_VOLTS;
        return conducts[d] ? beyond < -SLACK : beyond > SLACK;
      });
      if (wrong >= 0 && turns <= most) {
        conducts[wrong] = !conducts[wrong];
        continue;
      }
      addInstant(span, k);
      break;
    }
  }
  return [...spans.values()].filter(({ count }) => count > 0);
}

function spanOf(
  { alternating, steady }: CycleNetworks,
  [waves, levels]: readonly [readonly BranchEdit[], readonly BranchEdit[]],
  diodes: readonly CycleDiode[],
  conducts: readonly boolean[],
): Span {
  const through = diodes.filter((_, d) => conducts[d]);
  const emf = DIODE_VOLTS / (DIODE_OHMS * CONDUCTING);
  return {
    alternating: alternating.edited([
      ...waves,
      ...through.map(({ branch }) => ({ branch, re: CONDUCTING, im: 0, emfRe: 0, emfIm: 0 })),
    ]),
    steady: steady.edited([
      ...levels,
      ...through.map(({ branch, reversed }) => ({
        branch,
        re: CONDUCTING,
        im: 0,
        emfRe: reversed ? -emf : emf,
        emfIm: 0,
      })),
    ]),
    ...noInstants(),
  };
}
