/** The record as a graph of points and what joins them, for what can be said without figures. */

import { type Analysis, pointOf, type ResolvedElement } from '../analysis-types.js';
import { compare } from '../resolve/parts.js';

export interface Edge {
  readonly id: string;
  readonly a: string;
  readonly b: string;
  /** `joint`: a jumper, a pigtail or a part's own lead. */
  readonly kind: 'wire' | 'joint' | 'element';
  readonly element?: ResolvedElement;
  readonly run?: string;
  readonly conductor?: number;
  readonly jumper?: string;
}

/** A point from which a conductor leads nobody knows where. */
export interface LooseEnd {
  readonly point: string;
  /** A conductor without another end, one whose other end is stated to be unknown, or a splice that holds a single conductor. */
  readonly kind: 'conductor' | 'unknown' | 'splice';
}

export class Topology {
  readonly edges: readonly Edge[];
  readonly looseEnds: readonly LooseEnd[];
  readonly #components: Nets;
  readonly #byComponent = new Map<string, Edge[]>();

  constructor(analysis: Analysis) {
    // In an order of their own, so that nothing that is found along them depends on the order of statements.
    const edges = [...elementEdges(analysis), ...wireEdges(analysis), ...jointEdges(analysis)];
    this.edges = edges.sort(byEnds);
    this.looseEnds = findLooseEnds(analysis).sort(
      (one, other) => compare(one.point, other.point) || compare(one.kind, other.kind),
    );
    this.#components = new Nets(this.edges);
    for (const edge of this.edges) {
      const component = this.componentOf(edge.a);
      const list = this.#byComponent.get(component);
      if (list) list.push(edge);
      else this.#byComponent.set(component, [edge]);
    }
  }

  /** The name of everything that hangs together with a point, whatever joins it. */
  componentOf(point: string): string {
    return this.#components.netOf(point);
  }

  edgesIn(component: string): readonly Edge[] {
    return this.#byComponent.get(component) ?? [];
  }

  /** Edges of the element's component. */
  edgesAround(element: ResolvedElement): readonly Edge[] {
    return this.edgesIn(this.componentOf(element.a));
  }
}

/** By the lesser end, then by the other. */
function byEnds(one: Edge, other: Edge): number {
  const isTurned = one.a >= one.b;
  const isOtherTurned = other.a >= other.b;
  return (
    compare(isTurned ? one.b : one.a, isOtherTurned ? other.b : other.a) ||
    compare(isTurned ? one.a : one.b, isOtherTurned ? other.a : other.b)
  );
}

/** Points merged by the edges given. */
export class Nets {
  readonly #parent = new Map<string, string>();

  constructor(edges: Iterable<{ readonly a: string; readonly b: string }>) {
    for (const { a, b } of edges) this.join(a, b);
  }

  join(a: string, b: string): void {
    const one = this.netOf(a);
    const other = this.netOf(b);
    if (one !== other) this.#parent.set(one, other);
  }

  netOf(point: string): string {
    let root = point;
    for (let next = this.#parent.get(root); next !== undefined; next = this.#parent.get(root)) root = next;
    for (let at = point; at !== root; ) {
      const next = this.#parent.get(at)!;
      this.#parent.set(at, root);
      at = next;
    }
    return root;
  }

  same(a: string, b: string): boolean {
    return this.netOf(a) === this.netOf(b);
  }
}

/** Whether an edge is nothing but metal: wire, a joint, a link, or a contact that is closed with `closed` actuated. */
export function isBare(edge: Edge, closed: ReadonlySet<string>): boolean {
  if (edge.kind !== 'element') return true;
  const { element } = edge.element!;
  if (element.kind === 'link') return true;
  return element.kind === 'contact' && isClosed(edge, closed);
}

export function isDiode({ element }: Edge): boolean {
  return element?.element.kind === 'diode';
}

function isClosed(edge: Edge, closed: ReadonlySet<string>): boolean {
  const resolved = edge.element!;
  const element = resolved.element;
  if (element.kind !== 'contact' || resolved.contact === undefined) return false;
  const actuated = closed.has(resolved.contact);
  if (edge.id.endsWith(REST_LEG)) return !actuated;
  return element.normallyClosed !== actuated;
}

/** Ends the id of a changeover's edge that is closed at rest. */
export const REST_LEG = '#rest';

function elementEdges(analysis: Analysis): Edge[] {
  const edges: Edge[] = [];
  for (const part of analysis.parts.values()) {
    for (const element of part.elements) {
      if (!element.present || element.element.kind === 'primary') continue;
      edges.push({ id: element.id, a: element.a, b: element.b, kind: 'element', element });
      if (element.element.kind === 'contact' && element.element.restTo !== undefined) {
        const b = pointOf({ part: part.name, terminal: element.element.restTo });
        edges.push({ id: `${element.id}${REST_LEG}`, a: element.a, b, kind: 'element', element });
      }
    }
  }
  return edges;
}

function wireEdges(analysis: Analysis): Edge[] {
  const edges: Edge[] = [];
  for (const { run, conductors } of analysis.runs.values()) {
    for (const { index, from, to } of conductors) {
      if (from === undefined || to === undefined) continue;
      const id = `${run.name}/${index}`;
      edges.push({ id, a: pointOf(from), b: pointOf(to), kind: 'wire', run: run.name, conductor: index });
    }
  }
  return edges;
}

function jointEdges(analysis: Analysis): Edge[] {
  const edges: Edge[] = [];
  for (const jumper of analysis.jumpers.values()) {
    const id = `jumper/${jumper.name}`;
    edges.push({ id, a: pointOf(jumper.from), b: pointOf(jumper.to), kind: 'joint', jumper: jumper.name });
  }
  for (const part of [...analysis.installation.supplies, ...analysis.installation.devices]) {
    part.lands.forEach(({ terminal, on }, index) => {
      const id = `lands/${part.name}/${index}`;
      edges.push({ id, a: pointOf({ part: part.name, terminal }), b: pointOf(on), kind: 'joint' });
    });
  }
  return edges;
}

function findLooseEnds(analysis: Analysis): LooseEnd[] {
  const ends: LooseEnd[] = [];
  for (const run of analysis.installation.runs) {
    for (const { from, to, spare } of run.conductors) {
      if (spare) continue;
      for (const [here, there] of [
        [from, to],
        [to, from],
      ] as const) {
        if (here?.kind !== 'on' || there?.kind === 'on' || there?.kind === 'capped') continue;
        ends.push({ point: pointOf(here.end), kind: there?.kind === 'unknown' ? 'unknown' : 'conductor' });
      }
    }
  }
  const singles = analysis.installation.splices.filter(({ name }) => analysis.landedOn(name).length === 1);
  return [...ends, ...singles.map(({ name }) => ({ point: name, kind: 'splice' }) as const)];
}
