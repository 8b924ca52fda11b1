/** A record as the fault finder has it: every joint, conductor and contact a branch of its own, and branches for what might be there and should not. */

import { BLOCKING, polar } from '@ohmstead/circuit';
import { type Analysis, pointOf, type ResolvedElement, partNameOf } from '../analysis-types.js';
import type { End } from '../model.js';
import { sound } from './practice.js';

type BranchKind =
  | 'joint'
  | 'wire'
  | 'contact'
  | 'winding'
  | 'coil'
  | 'lamp'
  | 'ohmic'
  | 'load'
  | 'bypass'
  | 'diode'
  | 'link'
  | 'stray';

/** Ends by node number. `dc`: what an ohm-meter finds with the supplies' leads lifted. */
export interface HouseBranch {
  readonly a: number;
  readonly b: number;
  readonly kind: BranchKind;
  readonly ohms: number;
  readonly reactance: number;
  readonly emf: { readonly re: number; readonly im: number };
  readonly dc: number | 'unknown';
  readonly element?: ResolvedElement;
  readonly contact?: { readonly name: string; readonly madeWhenActuated: boolean };
  readonly run?: string;
  readonly conductor?: number;
}

/** A conductor with its ends' nodes, its own branch and the joints by which it is landed. */
export interface HouseConductor {
  readonly run: string;
  readonly index: number;
  readonly colour: string;
  readonly wire: number;
  readonly ends: readonly [ConductorEnd, ConductorEnd];
}

export interface ConductorEnd {
  readonly node: number;
  readonly place: string | undefined;
  /** Where it is landed, if it is. */
  readonly on: string | undefined;
  readonly joint: number | undefined;
}

const NO_EMF = { re: 0, im: 0 };

export class House {
  readonly nodes: string[] = [];
  readonly branches: HouseBranch[] = [];
  readonly conductors: HouseConductor[] = [];
  /** Joints of jumpers and of parts' own leads: their branch by the jumper's or part's name. */
  readonly links: { readonly name: string; readonly kind: 'jumper' | 'lead'; readonly branch: number }[] = [];
  /** Branches by their element's id; a changeover's rest leg under `id/rest`. */
  readonly ofElement = new Map<string, number>();
  /** Per contact's name: a stray between the two wires on it, to be held together by hand. */
  readonly bridges = new Map<string, number>();
  readonly contacts: number[] = [];
  readonly loads: number[] = [];
  readonly bypasses: number[] = [];
  readonly #nodeOf = new Map<string, number>();

  constructor(readonly analysis: Analysis) {
    for (const part of analysis.parts.values()) {
      for (const { name } of part.terminals) this.node(`${part.name}.${name}`);
      for (const element of part.elements) this.#addElement(element);
    }
    for (const { name } of analysis.installation.splices) this.node(name);
    for (const run of analysis.runs.values()) this.#addRun(run.run.name);
    for (const jumper of analysis.jumpers.values()) {
      this.#addLink('jumper', jumper.name, pointOf(jumper.from), pointOf(jumper.to));
    }
    for (const part of [...analysis.installation.supplies, ...analysis.installation.devices]) {
      for (const { terminal, on } of part.lands) {
        this.#addLink('lead', part.name, `${part.name}.${terminal}`, pointOf(on));
      }
    }
    for (const branch of [...this.contacts]) this.#addBridge(branch);
  }

  node(point: string): number {
    const known = this.#nodeOf.get(point);
    if (known !== undefined) return known;
    this.#nodeOf.set(point, this.nodes.length);
    return this.nodes.push(point) - 1;
  }

  known(point: string): number | undefined {
    return this.#nodeOf.get(point);
  }

  /** A connection that should not be there; as good as none until a hypothesis makes it. */
  stray(a: number, b: number): number {
    return this.#add({ a, b, kind: 'stray', ohms: sound.never, dc: sound.never });
  }

  /** The node of the first conductor's bare end on a terminal, or the terminal itself. */
  wireAt(point: string): number {
    for (const { ends } of this.conductors) for (const end of ends) if (end.on === point) return end.node;
    return this.node(point);
  }

  #add(branch: Partial<HouseBranch> & Pick<HouseBranch, 'a' | 'b' | 'kind' | 'ohms' | 'dc'>): number {
    return this.branches.push({ reactance: 0, emf: NO_EMF, ...branch }) - 1;
  }

  #addBridge(contact: number): void {
    const { element, contact: of } = this.branches[contact]!;
    if (element === undefined || of === undefined || this.bridges.has(of.name)) return;
    this.bridges.set(of.name, this.stray(this.wireAt(element.a), this.wireAt(element.b)));
  }

  /** Whether a point is on the line side of a supply: not solved, and nobody is asked to probe there. */
  isLineSide(point: string | undefined): boolean {
    if (point === undefined) return false;
    const circuit = this.analysis.network('nominal').circuitOf(point);
    if (circuit === undefined) return false;
    let known = this.#lineSides.get(circuit.id);
    if (known === undefined) {
      known = isLineSide(this.analysis, circuit);
      this.#lineSides.set(circuit.id, known);
    }
    return known;
  }

  readonly #lineSides = new Map<string, boolean>();

  #addLink(kind: 'jumper' | 'lead', name: string, from: string, to: string): void {
    const ends = { a: this.node(from), b: this.node(to) };
    if (ends.a === ends.b || this.isLineSide(from)) return;
    this.links.push({ kind, name, branch: this.#add({ ...ends, kind: 'joint', ohms: sound.joint, dc: sound.joint }) });
  }

  #addRun(name: string): void {
    const run = this.analysis.runs.get(name)!;
    const landings = run.conductors.flatMap(({ from, to }) =>
      [from, to].flatMap((end) => (end === undefined ? [] : pointOf(end))),
    );
    if (landings.some((point) => this.isLineSide(point))) return;
    const taken = new Set<string>();
    for (const { index, colour, ohms, from, to } of run.conductors) {
      const own = taken.has(colour) ? `${colour}/${index}` : colour;
      taken.add(colour);
      const ends = (
        [
          ['from', from, run.run.fromPlace],
          ['to', to, run.run.toPlace],
        ] as const
      ).map(([which, end, place]) =>
        this.#landEnd(`${name}.${own}@${which}`, landed(run.run.conductors[index]?.[which]) ?? end, place),
      );
      const value = Math.max(ohms?.nominal ?? sound.unknownWire, 1e-3);
      const [a, b] = [ends[0]!.node, ends[1]!.node];
      const wire = this.#add({ a, b, kind: 'wire', ohms: value, dc: value, run: name, conductor: index });
      this.conductors.push({ run: name, index, colour, wire, ends: [ends[0]!, ends[1]!] });
    }
  }

  #landEnd(name: string, end: End | undefined, place: string | undefined): ConductorEnd {
    const node = this.node(name);
    if (end === undefined) return { node, place, on: undefined, joint: undefined };
    const on = pointOf(end);
    const joint = this.#add({ a: node, b: this.node(on), kind: 'joint', ohms: sound.joint, dc: sound.joint });
    return { node, place, on, joint };
  }

  #addElement(resolved: ResolvedElement): void {
    const { element, id } = resolved;
    const ends = { a: this.node(resolved.a), b: this.node(resolved.b), element: resolved };
    const ohms = Math.max(resolved.ohms ?? 0, 1e-3);
    const reactance = resolved.system === 'DC' ? 0 : (resolved.reactance ?? 0);
    const put = (branch: BranchFacts): number => {
      const index = this.#add({ ...ends, ...branch });
      this.ofElement.set(id, index);
      return index;
    };
    switch (element.kind) {
      case 'primary':
        return;
      case 'winding': {
        const emf = polar(resolved.noLoadVolts ?? 0, element.phase ?? 0);
        put({ kind: 'winding', ohms: Math.max(resolved.ohms ?? 0, sound.source), reactance, emf, dc: sound.never });
        return;
      }
      case 'contact': {
        const name = resolved.contact ?? resolved.part;
        const madeWhenActuated = !element.normallyClosed;
        const open = { kind: 'contact', ohms: sound.open, dc: sound.open } as const;
        this.contacts.push(put({ ...open, contact: { name, madeWhenActuated } }));
        if (element.restTo === undefined) return;
        const b = this.node(`${resolved.part}.${element.restTo}`);
        const rest = this.#add({ ...ends, b, ...open, contact: { name, madeWhenActuated: !madeWhenActuated } });
        this.ofElement.set(`${id}/rest`, rest);
        this.contacts.push(rest);
        return;
      }
      case 'load':
        this.loads.push(put({ kind: 'load', ohms: sound.open, dc: 'unknown' }));
        return;
      case 'bypass':
        this.bypasses.push(put({ kind: 'bypass', ohms, dc: ohms }));
        return;
      case 'link':
        put({ kind: 'link', ohms: 1e-3, dc: 1e-3 });
        return;
      case 'diode':
        put({ kind: 'diode', ohms: 1 / BLOCKING.re, dc: 'unknown' });
        return;
      case 'coil':
        put({ kind: 'coil', ohms, reactance, dc: resolved.system === 'DC' ? ohms : (element.dcOhms ?? 'unknown') });
        return;
      case 'lamp':
        put({ kind: 'lamp', ohms, dc: 'unknown' });
        return;
      default:
        put({ kind: 'ohmic', ohms, reactance, dc: ohms });
    }
  }
}

function isLineSide(
  analysis: Analysis,
  { elements, points }: { elements: readonly string[]; points: readonly string[] },
): boolean {
  if (elements.some((id) => analysis.elements.get(id)?.element.kind === 'winding')) return false;
  const isOf = (kind: string, point: string): boolean =>
    analysis.parts
      .get(partNameOf(point))
      ?.elements.some(({ element, a, b }) => element.kind === kind && (a === point || b === point)) === true;
  return points.some((point) => {
    const part = analysis.parts.get(partNameOf(point));
    const isFeed = part?.kind === 'supply' && !part.elements.some(({ element }) => element.kind === 'winding');
    return isFeed || isOf('primary', point);
  });
}

type BranchFacts = Partial<HouseBranch> & Pick<HouseBranch, 'kind' | 'ohms' | 'dc'>;

function landed(landing: { readonly kind: string; readonly end?: End } | undefined): End | undefined {
  return landing?.kind === 'on' ? landing.end : undefined;
}
