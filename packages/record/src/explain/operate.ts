/** The house with one hypothesis in it and some contacts held, solved island by island. */

import { type BranchEdit, EditableNetwork, type EditedNetwork } from '@ohmstead/circuit';
import type { House, HouseBranch } from './house.js';
import { type Island, Islands } from './islands.js';
import type { Nuisance } from './nuisances.js';
import type { Effect, Operating } from './operating.js';
import { sound } from './practice.js';
import { settle, type Working, workingOverCycle, workingStraight } from './settle.js';
import {
  type Change,
  drawOf,
  isOpenLoad,
  type Live,
  liveAs,
  lowestVolts,
  SOUND,
  soundAt,
  spreadOfDraw,
  type Variant,
} from './variants.js';

/** A state as far as an island knows of it; the same object each time. */
export interface Condition extends Live {
  readonly island: Island;
  readonly index: number;
}

/** Siemens of ohms and reactance, as a branch of the network has them. */
function figuresOf(ohms: number, reactance: number, emf: { re: number; im: number }): Omit<BranchEdit, 'branch'> {
  const square = ohms * ohms + reactance * reactance;
  return { re: ohms / square, im: -reactance / square, emfRe: emf.re, emfIm: emf.im };
}

/** As it counts where waves are cut: an impedance as its size, and its EMF or none of it. */
function asWave({ re, im, emfRe, emfIm }: Omit<BranchEdit, 'branch'>, isDriven: boolean): Omit<BranchEdit, 'branch'> {
  const driven = isDriven ? { emfRe, emfIm } : { emfRe: 0, emfIm: 0 };
  return { re: Math.hypot(re, im), im: 0, ...driven };
}

/** An island as a network: with its supplies on, and as an ohm-meter has it, with what it can't tell left out, and let through. */
interface Networks {
  readonly live: EditableNetwork;
  /** Driven by what is steady, where diodes cut the waves; `live` is then what alternates. */
  readonly steady: EditableNetwork | undefined;
  readonly dcMost: EditableNetwork;
  readonly dcLeast: EditableNetwork;
  readonly effects: readonly Effect[];
  /** The nuisances' numbers, by group. */
  readonly nuisances: readonly number[];
  readonly isOpen: boolean;
}

/** What of a variant an island knows. */
interface Local {
  readonly changes: readonly Change[];
  readonly isTouched: boolean;
}

const UNTOUCHED: Local = { changes: [], isTouched: false };

export class Operation {
  readonly islands: Islands;
  readonly #networks: (Networks | undefined)[] = [];
  readonly #conditions = new Map<string, Condition>();
  readonly #conditionsOf = new WeakMap<Live, Condition[]>();
  /** By the condition's number. */
  readonly #kept = new Map<Variant, (Operating | undefined)[]>();
  readonly #locals = new Map<Variant, ReadonlyMap<number, Local>>();

  constructor(
    readonly house: House,
    readonly nuisances: readonly Nuisance[],
  ) {
    this.islands = new Islands(house);
  }

  /** Whether there is a single answer to what its volts are. */
  isSound(island: Island): boolean {
    return this.#networksOf(island).live.isSound;
  }

  condition(live: Live, island: Island): Condition {
    let conditions = this.#conditionsOf.get(live);
    if (conditions === undefined) {
      conditions = [];
      this.#conditionsOf.set(live, conditions);
    }
    let condition = conditions[island.index];
    if (condition === undefined) {
      condition = this.#findCondition(live, island);
      conditions[island.index] = condition;
    }
    return condition;
  }

  #findCondition({ pressed, bridged }: Live, island: Island): Condition {
    const own = liveAs(
      pressed.filter((name) => island.pressable.has(name)),
      bridged.filter((name) => island.bridgeable.has(name)),
    );
    const key = `${island.index}\t${own.key}`;
    const known = this.#conditions.get(key) ?? { ...own, island, index: this.#conditions.size };
    this.#conditions.set(key, known);
    return known;
  }

  at(variant: Variant, condition: Condition): Operating {
    let states = this.#kept.get(variant);
    if (states === undefined) {
      states = [];
      this.#kept.set(variant, states);
    }
    let known = states[condition.index];
    if (known === undefined) {
      known = this.#make(variant, condition);
      states[condition.index] = known;
    }
    return known;
  }

  /** Of the island that a branch is in; amps of branches there. */
  of(variant: Variant, live: Live, branch: number): { readonly operating: Operating; readonly own: number } {
    const { ofBranch, list, localBranch } = this.islands;
    const condition = this.condition(live, list[ofBranch[branch]!]!);
    return { operating: this.at(variant, condition), own: localBranch[branch]! };
  }

  /** The nuisances that an island leans on, in the order of its operating's slopes, which have the hypothesis's own spread after them. */
  nuisancesOf(island: Island): readonly number[] {
    return this.#networksOf(island).nuisances;
  }

  /** Ohms from a to b with the supplies' leads lifted and contacts held: with what a meter can't tell left out, and let through. */
  ohms(
    variant: Variant,
    condition: Condition,
    a: number,
    b: number,
  ): { readonly most: number; readonly least: number; readonly own: number } {
    const { dcMost, dcLeast } = this.#networksOf(condition.island);
    const { localBranch } = this.islands;
    const edits = this.#edits(variant, condition).flatMap((edit): BranchEdit[] => {
      const { kind, dc, ohms, reactance } = this.house.branches[edit.branch]!;
      if (kind === 'winding') return [];
      const isOpen = Math.hypot(edit.re, edit.im) < 2 / sound.open;
      const isUsual = kind === 'coil' || kind === 'load' || kind === 'lamp';
      const branch = localBranch[edit.branch]!;
      if (!isUsual || isOpen) return [{ ...edit, branch, im: 0, emfRe: 0, emfIm: 0 }];
      // What it is for DC goes down with what it is for AC, by the same factor.
      const factor = 1 / (Math.hypot(edit.re, edit.im) * Math.hypot(ohms, reactance));
      return dc === 'unknown' ? [] : [{ branch, ...figuresOf(dc * factor, 0, { re: 0, im: 0 }) }];
    });
    const most = dcMost.edited(edits);
    const least = dcLeast.edited(edits);
    const behind = Math.max(most.ohms(a, b).re, 0);
    return { most: behind, least: Math.max(least.ohms(a, b).re, 0), own: this.#ownOhms(variant, most, a, b) };
  }

  /** By how much the ohms change for the whole of the variant's own spread. */
  #ownOhms({ spread }: Variant, network: EditedNetwork, a: number, b: number): number {
    if (spread === undefined) return 0;
    const branches = spread.branches.map((branch) => this.islands.localBranch[branch]!);
    const drives = {
      count: branches.length,
      groups: branches.map((_, k) => k),
      branches,
      re: branches.map(() => 1),
      im: branches.map(() => 0),
    };
    const volts: number[] = [];
    network.responses(drives).between(a, b, volts, []);
    return branches.reduce(
      (own, branch, k) => own + volts[k]! * volts[k]! * network.figures(branch).re * spread.share,
      0,
    );
  }

  #networksOf(island: Island): Networks {
    let networks = this.#networks[island.index];
    if (networks === undefined) {
      networks = this.#makeNetworks(island);
      this.#networks[island.index] = networks;
    }
    return networks;
  }

  #makeNetworks(island: Island): Networks {
    const { localNode, localBranch, ofBranch } = this.islands;
    const branches = island.branches.map((branch) => this.house.branches[branch]!);
    const network = (figures: (branch: HouseBranch) => Omit<BranchEdit, 'branch'>): EditableNetwork =>
      new EditableNetwork(
        island.nodes.length,
        branches.map((branch) => ({ a: localNode[branch.a]!, b: localNode[branch.b]!, ...figures(branch) })),
      );
    const dead = (unknown: number) => (branch: HouseBranch) =>
      figuresOf(branch.dc === 'unknown' ? unknown : branch.dc, 0, { re: 0, im: 0 });
    const nuisances: number[] = [];
    const effects: Effect[] = [];
    this.nuisances.forEach(({ effects: all }, nuisance) => {
      const own = all.filter(({ branch }) => ofBranch[branch] === island.index);
      if (own.length === 0) return;
      const group = nuisances.push(nuisance) - 1;
      for (const { branch, ohms = 0, emf = 0 } of own) effects.push({ group, branch: localBranch[branch]!, ohms, emf });
    });
    const figures = ({ ohms, reactance, emf }: HouseBranch) => figuresOf(ohms, reactance, emf);
    const wave = (isSteady: boolean) => (branch: HouseBranch) =>
      asWave(figures(branch), (branch.element?.system === 'DC') === isSteady);
    const isCut = island.diodes.length > 0;
    return {
      live: network(isCut ? wave(false) : figures),
      steady: isCut ? network(wave(true)) : undefined,
      dcMost: network(dead(sound.open)),
      dcLeast: network(dead(1)),
      effects,
      nuisances,
      isOpen: island.loads.some((branch) => isOpenLoad(this.house, branch)),
    };
  }

  #localOf(variant: Variant, island: Island): Local {
    let locals = this.#locals.get(variant);
    if (locals === undefined) {
      locals = this.#makeLocals(variant);
      this.#locals.set(variant, locals);
    }
    return locals.get(island.index) ?? UNTOUCHED;
  }

  #makeLocals({ changes, ringsWired, latched, reversed }: Variant): ReadonlyMap<number, Local> {
    const { ofBranch } = this.islands;
    const locals = new Map<number, { changes: Change[]; isTouched: true }>();
    const touch = (branch: number): { changes: Change[] } => {
      const island = ofBranch[branch]!;
      const local = locals.get(island) ?? { changes: [], isTouched: true };
      locals.set(island, local);
      return local;
    };
    for (const change of changes) touch(change.branch).changes.push(change);
    for (const branch of latched ?? []) touch(branch);
    for (const branch of reversed ?? []) touch(branch);
    for (const branch of ringsWired === undefined ? [] : this.house.contacts)
      if (ringsWired?.has(this.house.branches[branch]!.element!.part)) touch(branch);
    return locals;
  }

  #make(variant: Variant, condition: Condition): Operating {
    const { isOpen } = this.#networksOf(condition.island);
    const drawn = isOpen ? variant : (variant.undrawn ?? variant);
    const sound = isOpen ? soundAt(variant) : SOUND;
    const same = this.#isAsSound(drawn, condition) ? sound : drawn;
    return same === variant ? this.#operate(variant, condition) : this.at(same, condition);
  }

  /** The plainest variant that an ohm-meter can't tell from this one there: what loads draw is not seen by it. */
  asForOhms(variant: Variant, condition: Condition): Variant {
    const drawn = variant.undrawn ?? variant;
    return this.#isAsSound(drawn, condition) ? SOUND : drawn;
  }

  /** Whether a variant is about nothing but other islands, and contacts that are as they should be in this state. */
  #isAsSound(variant: Variant, { island, pressed }: Condition): boolean {
    if (this.#localOf(variant, island).isTouched) return false;
    const { ofBranch } = this.islands;
    const isMade = (branch: number): boolean => {
      const { contact } = this.house.branches[branch]!;
      return pressed.includes(contact!.name) === contact!.madeWhenActuated;
    };
    for (const branch of variant.made?.keys() ?? [])
      if (ofBranch[branch] === island.index && isMade(branch)) return false;
    for (const branch of variant.unmade?.keys() ?? [])
      if (ofBranch[branch] === island.index && !isMade(branch)) return false;
    return true;
  }

  /** By the house's branches. */
  #edits(variant: Variant, { island, pressed, bridged }: Condition): BranchEdit[] {
    const { house } = this;
    const edits: BranchEdit[] = [];
    const put = (branch: number, ohms: number, reactance = 0, emf = 1): void => {
      const was = house.branches[branch]!.emf;
      const edit = { branch, ...figuresOf(ohms, reactance, { re: was.re * emf, im: was.im * emf }) };
      const known = edits.findIndex((one) => one.branch === branch);
      if (known < 0) edits.push(edit);
      else edits[known] = edit;
    };
    for (const branch of island.contacts) {
      const { contact, element } = house.branches[branch]!;
      const isThere = variant.ringsWired?.get(element!.part) ?? element!.present;
      const made = isThere && pressed.includes(contact!.name) === contact!.madeWhenActuated;
      const ohms = made ? (variant.made?.get(branch) ?? sound.contact) : variant.unmade?.get(branch);
      if (ohms !== undefined && (made || isThere)) put(branch, ohms);
    }
    for (const name of bridged) {
      const branch = house.bridges.get(name);
      if (branch !== undefined) put(branch, sound.bridge);
    }
    for (const { branch, ohms, reactance, emf } of this.#localOf(variant, island).changes)
      put(branch, ohms, reactance, emf);
    return edits;
  }

  #operate(variant: Variant, condition: Condition): Operating {
    const { house } = this;
    const { island, pressed, bridged } = condition;
    const { live, steady, nuisances } = this.#networksOf(island);
    const { localNode, localBranch } = this.islands;
    const own = (edit: BranchEdit): BranchEdit => ({ ...edit, branch: localBranch[edit.branch]! });
    const edits = this.#edits(variant, condition).map(own);
    const { changes } = this.#localOf(variant, island);
    const isChanged = (branch: number): boolean => changes.some((change) => change.branch === branch);
    const effects = this.#effects(variant, island);
    const groups = nuisances.length + 1;
    const diodes = island.diodes
      .filter((branch) => !isChanged(branch))
      .map((branch) => ({ branch: localBranch[branch]!, reversed: variant.reversed?.has(branch) === true }));
    const solve = (more: readonly BranchEdit[]): Working =>
      steady === undefined
        ? workingStraight(live.edited([...edits, ...more]), effects, groups)
        : workingOverCycle(
            { alternating: live, steady },
            this.#overCycle([...edits, ...more], island),
            diodes,
            effects,
            groups,
          );
    return settle(solve, {
      loads: island.loads
        .filter((branch) => !isChanged(branch))
        .map((branch) => {
          const { a, b } = house.branches[branch]!;
          const isActed = pressed.length + bridged.length > 0;
          return {
            branch,
            own: localBranch[branch]!,
            a: localNode[a]!,
            b: localNode[b]!,
            lowest: lowestVolts(house.branches[branch]!),
            draw: drawOf(house, branch, isActed, variant.draw),
            isByAmps: house.branches[branch]!.element?.draws?.unit === 'A',
          };
        }),
      bypasses: island.bypasses.flatMap((branch) => {
        const { element } = house.branches[branch]!;
        const opensAbove = element?.element.kind === 'bypass' ? element.element.opensAbove : undefined;
        return opensAbove === undefined || variant.latched?.has(branch)
          ? []
          : { own: localBranch[branch]!, opensAbove };
      }),
    });
  }

  /** What alternates and what is steady apart, every impedance as its size. */
  #overCycle(edits: readonly BranchEdit[], island: Island): readonly [readonly BranchEdit[], readonly BranchEdit[]] {
    const isDirect = ({ branch }: BranchEdit): boolean =>
      this.house.branches[island.branches[branch]!]!.element?.system === 'DC';
    return [
      edits.map((edit) => ({ branch: edit.branch, ...asWave(edit, !isDirect(edit)) })),
      edits.map((edit) => ({ branch: edit.branch, ...asWave(edit, isDirect(edit)) })),
    ];
  }

  /** The island's, with loads' by the step that they are in, and the variant's own spread. */
  #effects({ draw, spread }: Variant, island: Island): readonly Effect[] {
    const { effects, nuisances } = this.#networksOf(island);
    const { ofBranch, localBranch } = this.islands;
    const stepped =
      draw === undefined || island.loads.length === 0
        ? effects
        : effects.map((effect) => {
            const ohms = spreadOfDraw(this.house, island.branches[effect.branch]!, draw);
            return ohms === undefined ? effect : { ...effect, ohms };
          });
    if (spread === undefined) return stepped;
    const own = spread.branches.filter((branch) => ofBranch[branch] === island.index);
    const group = nuisances.length;
    return [...stepped, ...own.map((branch) => ({ group, branch: localBranch[branch]!, ohms: spread.share, emf: 0 }))];
  }
}
