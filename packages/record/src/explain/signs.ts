/** What is seen and heard at a part, from the volts it gets. */

import type { House } from './house.js';
import type { Expected } from './weigh.js';
import type { Gauge, Spot } from './gauge.js';
import { IDLE, isSounder, type Live, type Variant } from './variants.js';
import type { Operating } from './operating.js';
import { glowsFrom, humsFromShare, ringsFromShare, signSpread, sound } from './practice.js';
import type { Sign } from '../readings-types.js';

export interface Outcome {
  readonly shows: Sign;
  readonly note?: string;
}

interface Watched {
  readonly part: string;
  readonly live: Live;
  readonly block: number;
}

/** Branches of a part that can be heard, and those that can be seen. */
interface Signalling {
  readonly heard: readonly number[];
  readonly seen: readonly number[];
}

/** Whole waves have 1.41 times the RMS volts of half waves; in between a sounder may play or not. Common practice, no source. */
const RISES_BY = 1.2;
/** Share of belief that goes evenly to all signs then. */
const IN_DOUBT = 0.2;

const signalling = new WeakMap<House, Map<string, Signalling>>();

export function signallingOf(house: House, part: string): Signalling {
  const known = signalling.get(house) ?? new Map<string, Signalling>();
  signalling.set(house, known);
  const found = known.get(part) ?? findSignalling(house, part);
  known.set(part, found);
  return found;
}

function findSignalling(house: House, part: string): Signalling {
  const heard: number[] = [];
  const seen: number[] = [];
  house.branches.forEach(({ kind, element }, branch) => {
    if (element?.part !== part) return;
    if (kind === 'coil' || (kind === 'load' && isSounder(house, branch))) heard.push(branch);
    else if (kind === 'lamp' || kind === 'load') seen.push(branch);
    else if (kind === 'ohmic' && house.analysis.parts.get(part)?.role === 'button') seen.push(branch);
  });
  return { heard, seen };
}

/** The name of the note that a branch of a chime makes: the far terminal's, where the chime has several. */
export function noteOf(house: House, branch: number): string | undefined {
  const { element } = house.branches[branch]!;
  if (element === undefined || signallingOf(house, element.part).heard.length < 2) return undefined;
  return element.element.kind === 'coil' || element.element.kind === 'load' ? element.element.b : undefined;
}

/** Chances of `silent`, `hums`, `rings` (`rings:front` of several notes), `dark` and `lit`. */
export function outcomeChances(
  gauge: Gauge,
  variant: Variant,
  watched: Watched,
  expect: (spot: Spot) => Expected,
): ReadonlyMap<string, number> {
  return new Watching(gauge, variant, watched, expect).chances();
}

/** Where a load may as well hold as let go, every sign has some chance. */
function doubted(chances: ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  return new Map([...chances].map(([key, chance]) => [key, (1 - IN_DOUBT) * chance + IN_DOUBT / chances.size]));
}

/** A part in one state of a house with one variant in it. */
class Watching {
  readonly #house: House;

  constructor(
    private readonly gauge: Gauge,
    private readonly variant: Variant,
    private readonly watched: Watched,
    private readonly expect: (spot: Spot) => Expected,
  ) {
    this.#house = gauge.operation.house;
  }

  chances(): ReadonlyMap<string, number> {
    const { heard, seen } = signallingOf(this.#house, this.watched.part);
    const chances = heard.length > 0 ? this.#heard(heard) : this.#seen(seen);
    const isDoubted = [...heard, ...seen].some((branch) => this.#operating(branch).doubt > 0);
    return isDoubted ? doubted(chances) : chances;
  }

  #operating(branch: number): Operating {
    return this.gauge.operating(this.variant, this.watched.live, branch).operating;
  }

  #across(branch: number, live = this.watched.live): Expected {
    return this.expect(this.gauge.acrossBranch(branch, live, this.watched.block));
  }

  #seen(seen: readonly number[]): ReadonlyMap<string, number> {
    let dark = 1;
    for (const branch of seen) dark *= 1 - this.#litChance(branch);
    return new Map([
      ['lit', 1 - dark],
      ['dark', dark],
    ]);
  }

  #heard(heard: readonly number[]): ReadonlyMap<string, number> {
    const { pressed, bridged } = this.watched.live;
    const isActed = pressed.length + bridged.length > 0;
    const chances = new Map<string, number>();
    let noRing = 1;
    let noHum = 1;
    for (const branch of heard) {
      if (this.variant.stuck?.has(branch)) {
        noHum *= 1 - 0.3 * this.#pulls(branch);
        continue;
      }
      if (isDead(this.variant, branch)) continue;
      const pull = this.#pulls(branch);
      const { kind, element } = this.#house.branches[branch]!;
      const isHeld = kind === 'coil' && element!.humsFromAmps !== undefined;
      const before = isActed && isHeld ? this.#pulls(branch, IDLE) : 0;
      const strikes =
        kind === 'load' && this.#isCut(branch)
          ? isActed
            ? pull * this.#risesFromRest(branch)
            : 0
          : isActed || !isHeld
            ? pull * (1 - before)
            : 0.1 * pull;
      const hums = isHeld ? Math.max(pull - strikes, this.#hummingChance(branch)) : 0;
      const note = noteOf(this.#house, branch);
      if (note !== undefined) chances.set(`rings:${note}`, strikes);
      noRing *= 1 - strikes;
      noHum *= 1 - hums;
    }
    const rings = 1 - noRing;
    const notes = [...chances.values()].reduce((sum, chance) => sum + chance, 0);
    if (chances.size === 0) chances.set('rings', rings);
    else if (notes > 0) for (const [key, chance] of chances) chances.set(key, (chance / notes) * rings);
    chances.set('hums', noRing * (1 - noHum));
    chances.set('silent', noRing * noHum);
    return chances;
  }

  #isCut(branch: number): boolean {
    const { islands } = this.gauge.operation;
    return islands.list[islands.ofBranch[branch]!]!.diodes.length > 0;
  }

  /** Half waves keep an electronic sounder awake; it plays when it gets whole ones: the chance that its volts tell. */
  #risesFromRest(branch: number): number {
    const rest = this.#across(branch, IDLE);
    const now = this.#across(branch);
    return normalAbove(now.mean, RISES_BY * rest.mean, Math.sqrt(now.variance + rest.variance) / 2);
  }

  /** The chance that a coil pulls its plunger in, or that an electronic sounder wakes. */
  #pulls(branch: number, live = this.watched.live): number {
    const { kind, element } = this.#house.branches[branch]!;
    if (kind === 'load') {
      if (!this.gauge.operating(this.variant, live, branch).operating.running.has(branch)) return 0;
      return above(this.#across(branch, live), element!.staysOnFrom ?? 0, signSpread.stays);
    }
    const rings = element!.ringsFromVolts ?? ringsFromShare * (element!.ratedVolts ?? 0);
    return above(this.#across(branch, live), rings, signSpread.rings);
  }

  #hummingChance(branch: number): number {
    const { element } = this.#house.branches[branch]!;
    const { operating, own } = this.gauge.operating(this.variant, this.watched.live, branch);
    const amps = operating.amps(own);
    const limit = element!.humsFromAmps ?? humsFromShare * (element!.ratedAmps ?? 1);
    const volts = this.#across(branch);
    const share = volts.mean > 1e-3 ? Math.sqrt(Math.max(volts.variance, 0)) / volts.mean : 0;
    return normalAbove(amps, limit, Math.sqrt((share * amps) ** 2 + (signSpread.hums * limit) ** 2 / 3));
  }

  #litChance(branch: number): number {
    const { kind, element } = this.#house.branches[branch]!;
    const expected = this.#across(branch);
    if (kind === 'load') {
      const runs = this.#operating(branch).running.has(branch);
      return runs ? above(expected, element!.staysOnFrom ?? 0, signSpread.stays) : 0;
    }
    return above(expected, glowsFrom * (element!.ratedVolts ?? mostVolts(this.#house)), signSpread.lit);
  }
}

/** Volts are across a burnt coil too; it does nothing with them. */
function isDead({ changes }: Variant, branch: number): boolean {
  return changes.some((change) => change.branch === branch && change.ohms >= sound.open);
}

function mostVolts(house: House): number {
  return Math.max(
    1,
    ...house.branches.map(({ kind, element }) => (kind === 'winding' ? (element?.ratedVolts ?? 0) : 0)),
  );
}

function above({ mean, variance }: Expected, limit: number, share: number): number {
  return normalAbove(mean, limit, Math.sqrt(variance + (share * limit) ** 2 / 3));
}

function normalAbove(mean: number, limit: number, deviation: number): number {
  return normal((mean - limit) / Math.max(deviation, 1e-9));
}

/** The normal distribution's lower share (Abramowitz and Stegun 26.2.17; off by 1e-7 at most). */
export function normal(x: number): number {
  if (x > 6) return 1;
  if (x < -6) return 0;
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const tail =
    Math.exp((-x * x) / 2) *
    0.3989422804014327 *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return x >= 0 ? 1 - tail : tail;
}
