/** Makes a network ready: figures checked, shorts merged, circuits found, and each circuit laid out once for all its states. */

import { type Columns, columnsAt, type GivenColumns, readGiven, readLike } from './columns.js';
import { type Frame, frameOf, type Layout, layOut } from './layout.js';
import { byName } from './names.js';
import type {
  Circuit,
  CircuitElement,
  CircuitState,
  Contact,
  CurrentLoad,
  Network,
  PowerLoad,
  PreparedNetwork,
  Solution,
  SolveProblem,
  Source,
} from './network.js';
import { type Numbered, type Numbering, numberAll } from './numbering.js';
import { isEqual } from './same.js';
import { solveLayout, unsolved } from './solve.js';
import { UnionFind } from './union-find.js';

/** A circuit as its network has it: what is known of its names, and its figures. */
interface Drawn {
  readonly numbered: Numbered;
  readonly frame: Frame;
  readonly names: Names;
  readonly columns: Columns;
  readonly isDirect: boolean;
}

type BadFigure = SolveProblem & { kind: 'bad-figure' };

interface Made {
  readonly given: GivenColumns;
  readonly numbering: Numbering;
  readonly drawn: readonly Drawn[];
}

/**
 * Makes a network ready. `like` is one that was made ready before: when its points and elements are the same, in the same order, and only
 * figures differ, names are not numbered and topologies not searched anew.
 */
export function prepare(network: Network, like?: PreparedNetwork): PreparedNetwork {
  const given = network.elements;
  const before = like instanceof Prepared ? like.made : undefined;
  return new Prepared(given, madeLike(given, before) ?? madeNew(given));
}

class Prepared implements PreparedNetwork {
  readonly circuits: readonly Circuit[];
  readonly problems: readonly SolveProblem[];
  readonly #made: Made;
  readonly #layouts: readonly Layout[];
  readonly #nets: (readonly string[] | undefined)[] = [];

  constructor(given: readonly CircuitElement[], made: Made) {
    const problems = problemsOf(made);
    this.#made = made;
    this.#layouts = made.drawn.map(({ numbered, columns, frame, names }) => {
      const { places } = numbered;
      const elementAt = (e: number): CircuitElement => given[places[e]!]!;
      return layOut(frame, columns, describe(names, frame, elementAt), elementAt, problemIn(numbered, problems));
    });
    this.circuits = this.#layouts.map(({ circuit }) => circuit);
    this.problems = problems;
  }

  get made() {
    return this.#made;
  }

  circuitOf(name: string): Circuit | undefined {
    const at = this.#made.numbering.circuitOf(name);
    return at === undefined ? undefined : this.#layouts[at]!.circuit;
  }

  netOf(name: string): string | undefined {
    const at = this.#made.numbering.circuitOf(name);
    if (at === undefined) return undefined;
    const layout = this.#layouts[at]!;
    this.#nets[at] ??= permanentNets(layout);
    return this.#nets[at][layout.pointOf(name)!];
  }

  solve(circuit: Circuit, state: CircuitState): Solution {
    const layouts = this.#layouts;
    const layout =
      layouts.find((one) => one.circuit === circuit) ?? layouts.find((one) => one.circuit.id === circuit.id);
    if (layout === undefined) {
      return unsolved(state, [], { kind: 'bad-figure', element: circuit.id, what: 'is no circuit of this network' });
    }
    return solveLayout(layout, state);
  }
}

/** Solves one circuit of a prepared network in one state. */
export function solve(prepared: PreparedNetwork, circuit: Circuit, state: CircuitState): Solution {
  return prepared.solve(circuit, state);
}

function madeNew(elements: readonly CircuitElement[]): Made {
  const given = readGiven(elements);
  const numbering = numberAll(given);
  const drawn = numbering.circuits.map((numbered): Drawn => {
    const { places, sources } = numbered;
    const isDirect = systemOf(sources.map((e) => elements[places[e]!]!)) === 'DC';
    const columns = columnsAt(places, given, isDirect);
    const frame = frameOf(numbered, columns, elements, isDirect);
    return { numbered, frame, names: new Names(numbered, elements), columns, isDirect };
  });
  return { given, numbering, drawn };
}

/** Other figures on what is known; `undefined` where more than figures differs. */
function madeLike(elements: readonly CircuitElement[], made: Made | undefined): Made | undefined {
  if (made === undefined || made.numbering.repeated.length > 0) return undefined;
  const given = made.drawn.some(({ frame }) => frame.hasFed) ? undefined : readLike(elements, made.given);
  if (given === undefined) return undefined;
  const drawn: Drawn[] = [];
  for (const one of made.drawn) {
    const { places, sources } = one.numbered;
    const isDirect = systemOf(sources.map((e) => elements[places[e]!]!)) === 'DC';
    const columns = columnsAt(places, given, isDirect, one.columns);
    if (isDirect !== one.isDirect || !isEqual(columns.traits, one.columns.traits)) return undefined;
    drawn.push({ ...one, columns });
  }
  return { given, numbering: made.numbering, drawn };
}

function systemOf(sources: readonly CircuitElement[]): Circuit['system'] {
  const systems = new Set<'AC' | 'DC'>();
  const frequencies = new Set<number>();
  for (const source of sources) {
    const { system, frequency } = source as Source;
    systems.add(system);
    if (system === 'AC' && frequency !== 0) frequencies.add(frequency);
  }
  const [first] = systems;
  return systems.size > 1 || frequencies.size > 1 ? 'mixed' : (first ?? 'none');
}

function problemsOf({ given, numbering }: Made): readonly BadFigure[] {
  const problems = numbering.repeated.map(
    (id): BadFigure => ({ kind: 'bad-figure', element: id, what: 'has the same id as another element' }),
  );
  for (const fault of given.faults) problems.push({ kind: 'bad-figure', ...fault });
  return problems.sort((x, y) => byName(x.element, y.element));
}

/** The first problem of a circuit's own. */
function problemIn(numbered: Numbered, problems: readonly BadFigure[]): BadFigure | undefined {
  return problems.find(({ element }) => numbered.numberOf(element) !== undefined);
}

/**
 * Names of elements and points in their order, put in it when they are asked for. A class, since a getter's function in an object literal
 * is made in old memory and holds on to all that it can see, until all memory is gone through.
 */
class Names implements Pick<Circuit, 'id' | 'elements' | 'points'> {
  readonly id: string;
  readonly #numbered: Numbered;
  readonly #given: readonly CircuitElement[];
  #elements: readonly string[] | undefined;
  #points: readonly string[] | undefined;

  constructor(numbered: Numbered, given: readonly CircuitElement[]) {
    this.id = numbered.id;
    this.#numbered = numbered;
    this.#given = given;
  }

  get elements() {
    this.#elements ??= Array.from(this.#numbered.places, (place) => this.#given[place]!.id).sort(byName);
    return this.#elements;
  }

  get points() {
    this.#points ??= [...this.#numbered.points].sort(byName);
    return this.#points;
  }
}

type Described = Pick<Circuit, 'contacts' | 'sources' | 'system' | 'hasPeak'>;

class DrawnCircuit implements Circuit {
  readonly id: string;
  readonly contacts: readonly string[];
  readonly sources: readonly string[];
  readonly system: Circuit['system'];
  readonly hasPeak: boolean;
  readonly #names: Names;

  constructor(names: Names, { contacts, sources, system, hasPeak }: Described) {
    this.id = names.id;
    this.contacts = contacts;
    this.sources = sources;
    this.system = system;
    this.hasPeak = hasPeak;
    this.#names = names;
  }

  get elements() {
    return this.#names.elements;
  }

  get points() {
    return this.#names.points;
  }
}

function describe(
  names: Names,
  { contacts, sources, loads }: Frame,
  elementAt: (e: number) => CircuitElement,
): Circuit {
  return new DrawnCircuit(names, {
    contacts: [...new Set(contacts.map((e) => (elementAt(e) as Contact).contact))].sort(byName),
    sources: sources.map((e) => elementAt(e).id),
    system: systemOf(sources.map(elementAt)),
    hasPeak: loads.some((e) => {
      const load = elementAt(e) as PowerLoad | CurrentLoad;
      const asked = load.kind === 'power' ? load.voltAmperes : load.amps;
      return asked?.idle !== asked?.peak;
    }),
  });
}

/** Per point: the first, by name, of those that it is always one with. */
function permanentNets({ a, b, points, ideals }: Layout): readonly string[] {
  const sets = new UnionFind(points.length);
  for (const e of ideals) sets.join(a[e]!, b[e]!);
  const net = sets.flatten();
  const firsts = new Map<number, string>();
  points.forEach((name, point) => {
    const known = firsts.get(net[point]!);
    if (known === undefined || name < known) firsts.set(net[point]!, name);
  });
  return points.map((_, point) => firsts.get(net[point]!)!);
}
