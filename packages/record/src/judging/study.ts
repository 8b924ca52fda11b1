/** What several checks ask of one analysis, worked out once. */

import type { CircuitState } from '@ohmstead/circuit';
import { Beside } from '../analyse/beside.js';
import type { Analysis, CircuitAnalysis, Condition, ResolvedElement, Solved } from '../analysis-types.js';
import { type Edge, isBare, isDiode, Nets, Topology } from './topology.js';

/** Points joined by bare metal in a state, and the same with every winding as metal too. */
interface Joined {
  readonly bare: Nets;
  /** Diodes too, whichever way round they are. */
  readonly throughDiodes: Nets;
  readonly throughSources: Nets;
}

export class Study {
  readonly analysis: Analysis;
  readonly topology: Topology;
  /** Circuits of which nothing is held back. */
  readonly circuits: readonly CircuitAnalysis[];
  /** Those whose figures can be judged: every run measured, every element known. */
  readonly measured: readonly CircuitAnalysis[];
  /** By component, and by the contacts that are actuated. */
  readonly #joined = new Map<string, Map<string, Joined>>();
  readonly #figures: Readonly<Record<Condition, Map<CircuitAnalysis, readonly Solved[]>>> = {
    nominal: new Map(),
    low: new Map(),
    high: new Map(),
    labels: new Map(),
  };
  readonly #elements = new Map<CircuitAnalysis, readonly ResolvedElement[]>();
  readonly #kept = new Map<string, unknown>();
  #absent: ReadonlyMap<string, readonly ResolvedElement[]> | undefined;

  constructor(analysis: Analysis) {
    this.analysis = analysis;
    this.topology = new Topology(analysis);
    this.circuits = analysis.circuits.filter(({ held, circuit }) => !held && circuit.points.length > 0);
    this.measured = this.circuits.filter(
      ({ unmeasuredRuns, unsolved }) => unmeasuredRuns.length + unsolved.length === 0,
    );
  }

  componentOf(circuit: CircuitAnalysis): string {
    return this.topology.componentOf(circuit.circuit.points[0] ?? '');
  }

  edgesOf(circuit: CircuitAnalysis): readonly Edge[] {
    return this.topology.edgesIn(this.componentOf(circuit));
  }

  /** Elements of the circuit's parts that are in the circuit. */
  elementsOf(circuit: CircuitAnalysis, ...kinds: readonly ResolvedElement['element']['kind'][]): ResolvedElement[] {
    let elements = this.#elements.get(circuit);
    if (elements === undefined) {
      const all = circuit.circuit.elements.flatMap((id) => this.analysis.elements.get(id) ?? []);
      elements = all.filter(({ present }) => present);
      this.#elements.set(circuit, elements);
    }
    return elements.filter(({ element }) => kinds.includes(element.kind));
  }

  /** Works something out once for this analysis. */
  once<T>(key: string, make: () => T): T {
    if (!this.#kept.has(key)) this.#kept.set(key, make());
    return this.#kept.get(key) as T;
  }

  /** Whether nothing is pressed that springs back. */
  lasts(state: CircuitState): boolean {
    return state.closed.every((contact) => !this.analysis.momentary.has(contact));
  }

  /** Solved states of a circuit whose supplies are not shorted and whose figures can be trusted. */
  figures(circuit: CircuitAnalysis, condition: Condition): readonly Solved[] {
    const known = this.#figures[condition].get(circuit);
    if (known !== undefined) return known;
    const figures = circuit
      .solved(condition)
      .filter(({ solution }) => solution.problem === undefined && solution.shorted.length === 0);
    this.#figures[condition].set(circuit, figures);
    return figures;
  }

  solved(circuit: CircuitAnalysis, condition: Condition): readonly Solved[] {
    return circuit.solved(condition);
  }

  joined(component: string, closed: readonly string[]): Joined {
    let ofComponent = this.#joined.get(component);
    if (ofComponent === undefined) {
      ofComponent = new Map();
      this.#joined.set(component, ofComponent);
    }
    const key = closed.join('\n');
    const known = ofComponent.get(key);
    if (known !== undefined) return known;
    const held = new Set(closed);
    const edges = this.topology.edgesIn(component);
    const metal = edges.filter((edge) => isBare(edge, held));
    const windings = edges.filter(({ element }) => element?.element.kind === 'winding');
    const diodes = edges.filter(isDiode);
    const bare = new Nets(metal);
    const joined = {
      bare,
      throughDiodes: diodes.length === 0 ? bare : new Nets([...metal, ...diodes]),
      throughSources: new Nets([...metal, ...windings]),
    };
    ofComponent.set(key, joined);
    return joined;
  }

  /** Whether bare metal alone joins both ends of an element, past the element itself. */
  isBypassed(element: ResolvedElement, closed: readonly string[]): boolean {
    return this.joined(this.topology.componentOf(element.a), closed).bare.same(element.a, element.b);
  }

  /** Whether nothing but metal stands between the element and a supply. */
  isFullyFed(element: ResolvedElement, closed: readonly string[]): boolean {
    const { bare, throughSources } = this.joined(this.topology.componentOf(element.a), closed);
    return !bare.same(element.a, element.b) && throughSources.same(element.a, element.b);
  }

  /** Contacts that put a supply across the coil when they alone are actuated. */
  ringersOf(coil: ResolvedElement, circuit: CircuitAnalysis): readonly string[] {
    if (this.isFullyFed(coil, [])) return [];
    return circuit.circuit.contacts.filter((contact) => this.isFullyFed(coil, [contact]));
  }

  /** Whether a doorbell's ring contact would ring the coil if its setting put it in the circuit. */
  wouldRingBySetting(coil: ResolvedElement): boolean {
    const component = this.topology.componentOf(coil.a);
    const { bare, throughSources } = this.joined(component, []);
    return this.absentContacts(component).some(({ a, b }) => {
      const metal = [
        [bare.netOf(coil.a), bare.netOf(coil.b)],
        [bare.netOf(a), bare.netOf(b)],
      ] as const;
      const [c, d] = metal;
      if (c[0] === c[1] || d[0] === d[1]) return false;
      const meets = (x: string, y: string) => throughSources.same(x, y);
      return (meets(coil.a, a) && meets(coil.b, b)) || (meets(coil.a, b) && meets(coil.b, a));
    });
  }

  /** Contacts that a setting takes out of the circuit. */
  absentContacts(component: string): readonly ResolvedElement[] {
    if (this.#absent === undefined) {
      const absent = new Map<string, ResolvedElement[]>();
      for (const element of this.analysis.elements.values()) {
        if (element.present || element.element.kind !== 'contact') continue;
        const place = this.topology.componentOf(element.a);
        absent.set(place, [...(absent.get(place) ?? []), element]);
      }
      this.#absent = absent;
    }
    return this.#absent.get(component) ?? [];
  }

  /** Whether a conductor of the component leads nobody knows where. */
  hasLooseEnd(component: string): boolean {
    return this.topology.looseEnds.some(({ point }) => this.topology.componentOf(point) === component);
  }
}

const studies = new Beside<Analysis, Study>();

export function studyOf(analysis: Analysis): Study {
  const known = studies.get(analysis);
  if (known !== undefined) return known;
  const study = new Study(analysis);
  studies.set(analysis, study);
  return study;
}

/** RMS volts across an element in a solved state; undefined where there are none to trust. */
export function voltsAcross(solved: Solved, element: ResolvedElement): number | undefined {
  const figures = solved.solution.element(element.id);
  return figures === undefined ? undefined : Math.hypot(figures.volts.re, figures.volts.im);
}

/** RMS amps through an element, by its id. */
export function ampsThrough(solved: Solved, id: string): number | undefined {
  const amps = solved.solution.element(id)?.amps;
  return amps === undefined || amps === null ? undefined : Math.hypot(amps.re, amps.im);
}

/** The element for which a figure is least (or most), with that figure; ties go to the first. */
export function extreme<T>(
  items: Iterable<T>,
  figure: (item: T) => number | undefined,
  which: 'least' | 'most',
): { readonly item: T; readonly figure: number } | undefined {
  let found: { readonly item: T; readonly figure: number } | undefined;
  for (const item of items) {
    const value = figure(item);
    if (value === undefined) continue;
    const better =
      found === undefined || (which === 'least' ? value < found.figure - 1e-9 : value > found.figure + 1e-9);
    if (better) found = { item, figure: value };
  }
  return found;
}
