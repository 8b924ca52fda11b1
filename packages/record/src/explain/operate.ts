/** The house with one hypothesis in it and some contacts held, solved: volts, amps and what they lean on. */

import { type BranchEdit, EditableNetwork, type EditedNetwork, magnitude } from '@ohmstead/circuit';
import type { House, HouseBranch } from './house.js';
import { type Island, Islands } from './islands.js';
import type { Nuisance } from './nuisances.js';
import { type Effect, LinearOperating, type Operating } from './operating.js';
import { ohmLimits, sound } from './practice.js';

/** A branch at other figures, in all states. */
export interface Change {
  readonly branch: number;
  readonly ohms: number;
  readonly reactance?: number;
  /** Factor on its EMF. */
  readonly emf?: number;
}

/** One way a hypothesis may be: a step of its severity. `share` is its weight within the hypothesis. */
export interface Variant {
  readonly share: number;
  readonly changes: readonly Change[];
  /** Ohms of contacts when made and when not, where these are not as they should be. */
  readonly made?: ReadonlyMap<number, number>;
  readonly unmade?: ReadonlyMap<number, number>;
  /** Half the step's width, as a share of ohms, of the branches that it is about. */
  readonly spread?: { readonly branches: readonly number[]; readonly share: number };
  /** Branches of coils that do nothing whatever their volts. */
  readonly stuck?: ReadonlySet<number>;
  /** Parts whose ring contact is there, or not, against what is recorded. */
  readonly ringsWired?: ReadonlyMap<string, boolean>;
  /** Nothing feeds the supply: healthy mains speak against it. */
  readonly off?: true;
  /** Where between their least and most the loads draw, 0..1; halfway, and anywhere between, when absent. */
  readonly draw?: number;
  /** Bypass kits that never let go. */
  readonly latched?: ReadonlySet<number>;
  /** The same one with its draw left open. */
  readonly undrawn?: Variant;
  /** One that is the same in series with it: nothing tells them apart but a probe on these nodes between. */
  readonly alike?: { readonly variant: Variant; readonly between: readonly number[] };
}

export const SOUND: Variant = { share: 1, changes: [] };

/** What loads draw bends volts too much for one straight line: they are gone through in so many steps. */
const DRAWS = [1 / 6, 1 / 2, 5 / 6] as const;
/** Half a step, and a little, for several loads in different ones. */
const DRAW_HALF = 0.22;
const SOUND_AT: ReadonlyMap<number, Variant> = new Map(
  DRAWS.map((draw) => [draw, { share: 1 / DRAWS.length, changes: [], draw, undrawn: SOUND }]),
);

/** A variant as one for each step of what the loads draw, where the house has loads of which that is not known. */
export function withDraws(house: House, variants: readonly Variant[]): readonly Variant[] {
  if (!house.loads.some((branch) => isOpenLoad(house, branch))) return variants;
  return variants.flatMap((variant) => (variant === SOUND ? [...SOUND_AT.values()] : drawn(variant)));
}

const drawnKept = new WeakMap<Variant, readonly Variant[]>();

function drawn(variant: Variant): readonly Variant[] {
  const known = drawnKept.get(variant);
  if (known !== undefined) return known;
  const alike = variant.alike && { ...variant.alike, each: drawn(variant.alike.variant) };
  const made = DRAWS.map((draw, k): Variant => {
    const one = { ...variant, share: variant.share / DRAWS.length, draw, undrawn: variant };
    return alike ? { ...one, alike: { variant: alike.each[k]!, between: alike.between } } : one;
  });
  drawnKept.set(variant, made);
  return made;
}

/** What it draws is not known beforehand. */
function isOpenLoad(house: House, branch: number): boolean {
  const { idle = 0, peak = 0 } = house.branches[branch]!.element?.draws ?? {};
  return !isSounder(house, branch) && peak > 1.1 * idle;
}

export interface Live {
  readonly pressed: readonly string[];
  readonly bridged: readonly string[];
  readonly key: string;
}

export function liveAs(pressed: readonly string[], bridged: readonly string[] = []): Live {
  return { pressed, bridged, key: `${[...pressed].sort().join('\n')}\t${[...bridged].sort().join('\n')}` };
}

export const IDLE: Live = liveAs([]);

/** A state as far as an island knows of it; the same object each time. */
export interface Condition extends Live {
  readonly island: Island;
  readonly index: number;
}

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

/** Siemens of ohms and reactance, as a branch of the network has them. */
function figuresOf(ohms: number, reactance: number, emf: { re: number; im: number }): Omit<BranchEdit, 'branch'> {
  const square = ohms * ohms + reactance * reactance;
  return { re: ohms / square, im: -reactance / square, emfRe: emf.re, emfIm: emf.im };
}

/** An island as a network: with its supplies on, and as an ohm-meter has it, with what it can't tell left out, and let through. */
interface Networks {
  readonly live: EditableNetwork;
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
    return {
      live: network(({ ohms, reactance, emf }) => figuresOf(ohms, reactance, emf)),
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

  #makeLocals({ changes, ringsWired, latched }: Variant): ReadonlyMap<number, Local> {
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
    for (const branch of ringsWired === undefined ? [] : this.house.contacts)
      if (ringsWired?.has(this.house.branches[branch]!.element!.part)) touch(branch);
    return locals;
  }

  #make(variant: Variant, condition: Condition): Operating {
    const { isOpen } = this.#networksOf(condition.island);
    const drawn = isOpen ? variant : (variant.undrawn ?? variant);
    const sound = isOpen ? (SOUND_AT.get(variant.draw ?? Number.NaN) ?? SOUND) : SOUND;
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
    const { live, nuisances } = this.#networksOf(island);
    const { localNode, localBranch } = this.islands;
    const own = (edit: BranchEdit): BranchEdit => ({ ...edit, branch: localBranch[edit.branch]! });
    const edits = this.#edits(variant, condition).map(own);
    const { changes } = this.#localOf(variant, island);
    const loads = island.loads.filter((branch) => !changes.some((change) => change.branch === branch));
    const isActed = pressed.length + bridged.length > 0;
    const running = new Set<number>();
    const volts = new Map<number, number>();
    const solve = (more: readonly BranchEdit[] = []): EditedNetwork =>
      live.edited([
        ...edits,
        ...[...running].map((branch) => own(this.#asImpedance(branch, volts.get(branch)!, isActed, variant.draw))),
        ...more,
      ]);
    let network = solve();
    const across = (branch: number): number => {
      const { a, b } = house.branches[branch]!;
      return magnitude(network.volts(localNode[a]!, localNode[b]!));
    };
    for (const branch of loads) {
      const size = across(branch);
      if (size >= lowestVolts(house.branches[branch]!)) volts.set(branch, size);
    }
    const unloaded = new Map(volts);
    const isCutOff = (branch: number): boolean => {
      const { a, b } = house.branches[branch]!;
      return magnitude(network.ohms(localNode[a]!, localNode[b]!)) > ohmLimits.floating;
    };
    // Fed through nothing but what is open, or another load.
    const cutOff = new Set([...volts.keys()].filter(isCutOff));
    for (const branch of volts.keys()) running.add(branch);
    let moved = Number.POSITIVE_INFINITY;
    for (let round = 0; running.size > 0 && round < MOST_ROUNDS; round++) {
      network = solve();
      moved = 0;
      for (const branch of [...running]) {
        const size = across(branch);
        moved = Math.max(moved, Math.abs(size - volts.get(branch)!) / Math.max(size, 1e-9));
        volts.set(branch, size);
        if (size < lowestVolts(house.branches[branch]!)) running.delete(branch);
      }
      if (moved < SETTLED) break;
    }
    // Loads that find no rest ask more than there is: they let go.
    if (moved >= UNSETTLED) running.clear();
    // A load that let go is still in the last solution.
    if (unloaded.size > 0) network = solve();
    let doubted = 0;
    for (const [branch, open] of unloaded) {
      const held = running.has(branch) ? volts.get(branch)! : 0;
      if (cutOff.has(branch)) {
        // Of loads in series nobody knows which gets what.
        if (held > 0) doubted = Math.max(doubted, IN_SERIES * open);
        continue;
      }
      const isClear = held >= HELD_FROM * open && held >= CLEAR_OF_LEAST * lowestVolts(house.branches[branch]!);
      if (!isClear) doubted = Math.max(doubted, open);
    }
    const latched = this.#withLetGo(variant, island, network);
    if (latched.length > 0) network = solve(latched.map(own));
    return new LinearOperating(network, running, DOUBT * doubted, this.#effects(variant, island), nuisances.length + 1);
  }

  /** A load at the volts it has, as the ohms that draw the same; a chime's peak follows its button. */
  #asImpedance(branch: number, volts: number, isPressed: boolean, share?: number): BranchEdit {
    const { element } = this.house.branches[branch]!;
    const draw = drawOf(this.house, branch, isPressed, share);
    const siemens = element?.draws?.unit === 'A' ? draw / volts : draw / (volts * volts);
    return { branch, re: siemens, im: 0, emfRe: 0, emfIm: 0 };
  }

  #withLetGo(variant: Variant, island: Island, network: EditedNetwork): readonly BranchEdit[] {
    return island.bypasses.flatMap((branch): BranchEdit[] => {
      const { element } = this.house.branches[branch]!;
      const limit = element?.element.kind === 'bypass' ? element.element.opensAbove : undefined;
      if (limit === undefined || variant.latched?.has(branch)) return [];
      if (magnitude(network.amps(this.islands.localBranch[branch]!)) <= limit) return [];
      return [{ branch, ...figuresOf(sound.open, 0, { re: 0, im: 0 }) }];
    });
  }

  /** The island's, with loads' by the step that they are in, and the variant's own spread. */
  #effects({ draw, spread }: Variant, island: Island): readonly Effect[] {
    const { effects, nuisances } = this.#networksOf(island);
    const { ofBranch, localBranch } = this.islands;
    const stepped =
      draw === undefined || island.loads.length === 0
        ? effects
        : effects.map((effect) => {
            const ohms = this.#drawSpread(draw, island.branches[effect.branch]!);
            return ohms === undefined ? effect : { ...effect, ohms };
          });
    if (spread === undefined) return stepped;
    const own = spread.branches.filter((branch) => ofBranch[branch] === island.index);
    const group = nuisances.length;
    return [...stepped, ...own.map((branch) => ({ group, branch: localBranch[branch]!, ohms: spread.share, emf: 0 }))];
  }

  /** Half a step of what a load draws, as a share; undefined where it is not gone through in steps. */
  #drawSpread(draw: number, branch: number): number | undefined {
    const { kind, element } = this.house.branches[branch]!;
    if (kind !== 'load' || isSounder(this.house, branch)) return undefined;
    const { idle = 0, peak = 0 } = element?.draws ?? {};
    const middle = idle + (peak - idle) * draw;
    return middle > 0 ? Math.max(((peak - idle) * DRAW_HALF) / middle, 0.1) : undefined;
  }
}

function lowestVolts({ element }: HouseBranch): number {
  return Math.max(element?.staysOnFrom ?? 0, 0.5);
}

/** What a load draws: a sounder at rest or at its peak; anything else somewhere between its draws. */
export function drawOf(house: House, branch: number, isPressed: boolean, share = 0.5): number {
  const { element } = house.branches[branch]!;
  const { idle = 0, peak = 0 } = element?.draws ?? {};
  if (isSounder(house, branch)) return isPressed ? peak : idle;
  return idle + (peak - idle) * share;
}

export function isSounder(house: House, branch: number): boolean {
  const { element } = house.branches[branch]!;
  return house.analysis.parts.get(element?.part ?? '')?.role === 'chime';
}
