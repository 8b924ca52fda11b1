/** The line side of a record: what is joined to the mains, and by which branch circuit. Topology alone; nothing is solved. */

import { piecesOf } from '../analyse/analyse.js';
import { keptWith } from '../analyse/lazily.js';
import { Surroundings } from '../analyse/surroundings.js';
import { type Analysis, pointOf, type ResolvedPart } from '../analysis-types.js';
import { Nets } from '../judging/topology.js';
import type { Box, End, Splice, Terminal } from '../model.js';
import { lineLimit } from '../regions/line-limits.js';
import { regionOf } from '../regions/regions.js';

export type Side = NonNullable<Terminal['lineSide']>;

/** A terminal that is marked hot, neutral or ground. */
export interface Marked {
  readonly part: ResolvedPart;
  readonly terminal: string;
  readonly side: Side;
  readonly point: string;
}

export interface Branch {
  readonly part: ResolvedPart;
  readonly volts: number;
  readonly hot: Marked;
  readonly neutral: Marked | undefined;
  readonly ground: Marked | undefined;
}

/** A conductor of a run that lands on two points, or on one with the other end unknown. */
interface LineRun {
  readonly name: string;
  /** Nets that its conductors are on. */
  readonly nets: ReadonlySet<string>;
}

export class LineSide {
  readonly analysis: Analysis;
  readonly marks: readonly Marked[];
  readonly branches: readonly Branch[];
  readonly boxes: readonly Box[];
  readonly #nets: Nets;
  readonly #byNet: ReadonlyMap<string, readonly Marked[]>;
  readonly #byPart: ReadonlyMap<ResolvedPart, readonly Marked[]>;
  readonly #ofHot = new Map<string, Branch>();
  readonly #ofNeutral = new Map<string, Branch>();
  readonly #grounded = new Set<string>();
  readonly #runs = new Map<string, LineRun>();
  readonly #lowVoltage: ReadonlySet<string>;
  readonly #unknown: ReadonlySet<string>;
  readonly #held: ReadonlySet<string>;
  readonly #around: Surroundings;
  readonly #splices: ReadonlyMap<string, Splice>;

  constructor(analysis: Analysis) {
    const { installation } = analysis;
    this.analysis = analysis;
    this.boxes = installation.boxes ?? [];
    this.#around = new Surroundings(installation);
    this.#splices = new Map(installation.splices.map((splice) => [splice.name, splice]));
    this.marks = [...analysis.parts.values()].flatMap(marksOf);
    this.#nets = netsOf(analysis);
    this.#byNet = gathered(this.marks, ({ point }) => this.netOf(point));
    this.#byPart = gathered(this.marks, ({ part }) => part);
    this.branches = [...this.#byPart].flatMap(([part, marks]) => branchOf(analysis, part, marks) ?? []);
    for (const branch of this.branches) {
      const { hot, neutral, ground } = branch;
      const [live, back] = [this.netOf(hot.point), neutral && this.netOf(neutral.point)];
      if (!this.#ofHot.has(live)) this.#ofHot.set(live, branch);
      if (back !== undefined && !this.#ofNeutral.has(back)) this.#ofNeutral.set(back, branch);
      if (ground !== undefined) this.#grounded.add(this.netOf(ground.point));
    }
    const { lowVoltage, unknown, held } = this.#sortNets();
    this.#lowVoltage = lowVoltage;
    this.#unknown = unknown;
    this.#held = held;
  }

  netOf(point: string): string {
    return this.#nets.netOf(point);
  }

  same(one: string, other: string): boolean {
    return this.netOf(one) === this.netOf(other);
  }

  marksOn(net: string): readonly Marked[] {
    return this.#byNet.get(net) ?? [];
  }

  /** Whether hot or neutral is on it. */
  isLine(net: string): boolean {
    return this.marksOn(net).some(({ side }) => side !== 'ground');
  }

  isGround(net: string): boolean {
    return this.marksOn(net).some(({ side }) => side === 'ground');
  }

  /** Whether a terminal of a low-voltage part is on it. */
  isLowVoltage(net: string): boolean {
    return this.#lowVoltage.has(net);
  }

  /** Whether line voltage and low voltage are joined on it. */
  isMixed(net: string): boolean {
    return this.isLine(net) && this.isLowVoltage(net);
  }

  /** Whether a conductor leads from it to nobody knows where. */
  leadsOn(net: string): boolean {
    return this.#unknown.has(net);
  }

  /** Whether a statement about it could not be read. */
  isHeld(net: string): boolean {
    return this.#held.has(net);
  }

  /** The branch circuit whose hot conductor is on it. */
  branchOfHot(net: string): Branch | undefined {
    return this.#ofHot.get(net);
  }

  branchOfNeutral(net: string): Branch | undefined {
    return this.#ofNeutral.get(net);
  }

  /** Whether the grounding conductor of a branch circuit is on it. */
  isGrounded(net: string): boolean {
    return this.#grounded.has(net);
  }

  markedOf(part: ResolvedPart, side: Side): readonly Marked[] {
    return this.#byPart.get(part)?.filter((mark) => mark.side === side) ?? [];
  }

  isBranch(part: ResolvedPart): boolean {
    return this.branches.some((branch) => branch.part === part);
  }

  /** The branch circuit that feeds a part, known by its hot terminal. */
  feederOf(part: ResolvedPart): Branch | undefined {
    for (const { point } of this.markedOf(part, 'hot')) {
      const branch = this.branchOfHot(this.netOf(point));
      if (branch !== undefined && branch.part !== part) return branch;
    }
    return undefined;
  }

  runOf(name: string): LineRun {
    let known = this.#runs.get(name);
    if (known === undefined) {
      const conductors = this.analysis.runs.get(name)?.run.conductors ?? [];
      const nets = conductors.flatMap(({ from, to, spare }) =>
        spare ? [] : [from, to].flatMap((one) => (one?.kind === 'on' ? [this.netOf(pointOf(one.end))] : [])),
      );
      known = { name, nets: new Set(nets) };
      this.#runs.set(name, known);
    }
    return known;
  }

  /** Whether a conductor of the run is at line voltage. */
  carriesLine(run: string): boolean {
    return [...this.runOf(run).nets].some((net) => this.isLine(net));
  }

  carriesLowVoltage(run: string): boolean {
    return [...this.runOf(run).nets].some((net) => !this.isLine(net) && this.isLowVoltage(net));
  }

  /** Whether a part, splice, run or box has to do with the line side. */
  touches(name: string): boolean {
    if (this.boxes.some((box) => box.name === name)) return true;
    const nets = [
      this.netOf(name),
      ...(this.analysis.parts.get(name)?.terminals ?? []).map((one) => this.netOf(`${name}.${one.name}`)),
      ...this.runOf(name).nets,
    ];
    return nets.some((net) => this.marksOn(net).length > 0);
  }

  /** The innermost box that a place is or is in. */
  boxAround(place: string | undefined): Box | undefined {
    return this.#around.boxAround(place);
  }

  /** The places around one, itself among them. */
  placesAround(place: string | undefined): readonly string[] {
    return this.#around.around(place).map(({ name }) => name);
  }

  /** The box that a point is in: that of its splice or part. */
  boxOfPoint({ part }: End): Box | undefined {
    return this.boxAround(this.analysis.parts.get(part)?.place?.name ?? this.#splices.get(part)?.place);
  }

  #sortNets() {
    const lowVoltage = new Set<string>();
    const unknown = new Set<string>();
    const held = new Set<string>();
    const { installation, parts } = this.analysis;
    for (const part of parts.values()) {
      const isLow = !isLineVoltagePart(this.analysis, part);
      for (const { name, lineSide } of part.terminals) {
        const net = this.netOf(pointOf({ part: part.name, terminal: name }));
        if (isLow && lineSide === undefined) lowVoltage.add(net);
        if (installation.broken.has(part.name)) held.add(net);
      }
    }
    for (const name of installation.broken) held.add(this.netOf(name));
    for (const { name, conductors } of installation.runs) {
      for (const { from, to, spare } of conductors) {
        if (spare) continue;
        for (const [here, there] of [[from, to] as const, [to, from] as const]) {
          if (here?.kind !== 'on') continue;
          const net = this.netOf(pointOf(here.end));
          if (there === undefined || there.kind === 'unknown') unknown.add(net);
          if (installation.broken.has(name) || installation.broken.has(here.end.part)) held.add(net);
        }
      }
    }
    return { lowVoltage, unknown, held };
  }
}

/** Undefined for a record that says nothing of its line side: no box, no branch circuit, nothing on a marked terminal, no spacing. */
export const lineSideOf: (analysis: Analysis) => LineSide | undefined = keptWith((analysis: Analysis) =>
  saysAnything(analysis) ? new LineSide(analysis) : undefined,
);

function saysAnything(analysis: Analysis): boolean {
  const { boxes = [], grounds = [] } = analysis.installation;
  return boxes.length > 0 || grounds.length > 0 || piecesOf(analysis).some(isWiredToTheMains);
}

const isWiredToTheMains = keptWith(({ installation, parts }: Analysis): boolean => {
  const { runs, jumpers, supplies, devices } = installation;
  const marked = new Map<string, ReadonlySet<string>>();
  for (const part of parts.values()) {
    if (isBranchCircuit(part)) return true;
    const terminals = lineTerminals(part);
    if (terminals.size > 0) marked.set(part.name, terminals);
  }
  if (runs.some(({ beside = [] }) => beside.length > 0)) return true;
  if (marked.size === 0) return false;
  const isMarked = ({ part, terminal }: End) => terminal !== undefined && marked.get(part)?.has(terminal) === true;
  return (
    runs.some(({ conductors }) =>
      conductors.some(({ from, to }) => [from, to].some((one) => one?.kind === 'on' && isMarked(one.end))),
    ) ||
    jumpers.some(({ from, to }) => isMarked(from) || isMarked(to)) ||
    [...supplies, ...devices].some(({ name, lands }) =>
      lands.some(({ terminal, on }) => isMarked(on) || isMarked({ part: name, terminal })),
    )
  );
});

/** Those that are marked, and those that nothing but metal joins to them inside the part. */
function lineTerminals(part: ResolvedPart): ReadonlySet<string> {
  const { name, terminals } = part;
  const marked = terminals.filter(({ lineSide }) => lineSide !== undefined);
  if (marked.length === 0) return NONE;
  const metal = metalOf(part);
  if (metal.length === 0) return new Set(marked.map((one) => one.name));
  const inside = new Nets(metal);
  const pointAt = (terminal: string) => pointOf({ part: name, terminal });
  const live = new Set(marked.map((one) => inside.netOf(pointAt(one.name))));
  return new Set(terminals.map((one) => one.name).filter((terminal) => live.has(inside.netOf(pointAt(terminal)))));
}

const NONE: ReadonlySet<string> = new Set();

/** A supply that gives line voltage itself: it has a hot terminal, and neither a primary nor a winding. */
export function isBranchCircuit({ kind, terminals, elements }: ResolvedPart): boolean {
  return (
    kind === 'supply' &&
    terminals.some(({ lineSide }) => lineSide === 'hot') &&
    elements.every(({ element }) => element.kind !== 'primary' && element.kind !== 'winding')
  );
}

/** A part made for the volts of the mains, by its rating. */
function isLineVoltagePart({ installation }: Analysis, { rating }: ResolvedPart): boolean {
  const most = lineLimit('lowVoltage', installation.profile)!.value;
  return rating?.volts !== undefined && rating.volts.most > most;
}

function marksOf(part: ResolvedPart): readonly Marked[] {
  return part.terminals.flatMap(({ name, lineSide }) =>
    lineSide === undefined
      ? []
      : [{ part, terminal: name, side: lineSide, point: pointOf({ part: part.name, terminal: name }) }],
  );
}

function branchOf({ installation }: Analysis, part: ResolvedPart, marks: readonly Marked[]): Branch | undefined {
  const own = (side: Side) => marks.find((mark) => mark.side === side);
  const hot = own('hot');
  if (hot === undefined || !isBranchCircuit(part)) return undefined;
  const volts = part.facts.outputs[0]?.volts ?? regionOf(installation.profile).mains.mainsVolts;
  return { part, volts, hot, neutral: own('neutral'), ground: own('ground') };
}

function gathered<K, T>(items: readonly T[], keyOf: (item: T) => K): ReadonlyMap<K, readonly T[]> {
  const byKey = new Map<K, T[]>();
  for (const item of items) {
    const list = byKey.get(keyOf(item));
    if (list) list.push(item);
    else byKey.set(keyOf(item), [item]);
  }
  return byKey;
}

/** Points that nothing but metal joins, contacts counted as closed: a switched conductor is a line-voltage one. */
function netsOf({ installation, parts, runs, jumpers }: Analysis): Nets {
  const nets = new Nets([]);
  for (const { conductors } of runs.values()) {
    for (const { from, to } of conductors) if (from && to) nets.join(pointOf(from), pointOf(to));
  }
  for (const { from, to } of jumpers.values()) nets.join(pointOf(from), pointOf(to));
  for (const { name, lands } of [...installation.supplies, ...installation.devices]) {
    for (const { terminal, on } of lands) nets.join(pointOf({ part: name, terminal }), pointOf(on));
  }
  for (const { end, box } of installation.grounds ?? []) nets.join(pointOf(end), box);
  for (const part of parts.values()) for (const { a, b } of metalOf(part)) nets.join(a, b);
  return nets;
}

/** Links and contacts, these counted as closed. */
function metalOf({ name, elements }: ResolvedPart): readonly { readonly a: string; readonly b: string }[] {
  return elements.flatMap(({ element, a, b, present }) => {
    if (!present || (element.kind !== 'link' && element.kind !== 'contact')) return [];
    const isChangeover = element.kind === 'contact' && element.restTo !== undefined;
    return isChangeover
      ? [
          { a, b },
          { a, b: `${name}.${element.restTo}` },
        ]
      : [{ a, b }];
  });
}
