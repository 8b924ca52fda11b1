/** Installations by hand, for tests: a few types as the notation has them, and short ways to say what stands where. */

import type {
  CableType,
  Conductor,
  ConductorSize,
  End,
  Installation,
  Jumper,
  Landing,
  Part,
  PartElement,
  PartFacts,
  PartType,
  Run,
  Terminal,
} from '../src/index.js';

export const NO_FACTS: PartFacts = { outputs: [], notes: [], labels: [], photos: [] };

export function facts(stated: Partial<PartFacts> = {}): PartFacts {
  return { ...NO_FACTS, ...stated };
}

type Distribute<T> = T extends PartElement ? Omit<T, 'asRated'> & { asRated?: boolean } : never;

export interface TypeParts {
  readonly of?: 'supply' | 'device';
  readonly terminals: readonly (string | Terminal)[];
  readonly elements: readonly Distribute<PartElement>[];
  readonly facts?: Partial<PartFacts>;
  readonly role?: string;
  readonly shipped?: boolean;
}

export function partType(name: string, parts: TypeParts): PartType {
  return {
    name,
    of: parts.of ?? 'device',
    terminals: parts.terminals.map((t) => (typeof t === 'string' ? { name: t, optional: false } : t)),
    elements: parts.elements.map((element) => ({ asRated: false, ...element }) as PartElement),
    facts: facts(parts.facts),
    role: parts.role,
    shipped: parts.shipped ?? true,
  };
}

/** The types of the notation's own examples. */
export const TYPES: readonly PartType[] = [
  partType('bell-transformer', {
    of: 'supply',
    terminals: [
      { name: 'line', optional: false, lineSide: 'hot' },
      { name: 'neutral', optional: false, lineSide: 'neutral' },
      'a',
      'b',
    ],
    elements: [
      { kind: 'primary', a: 'line', b: 'neutral', volts: 120, system: 'AC' },
      { kind: 'winding', a: 'a', b: 'b', asRated: true },
    ],
    facts: { outputs: [{ volts: 16, system: 'AC', voltAmperes: 10 }] },
  }),
  partType('push-button', {
    terminals: ['a', 'b'],
    elements: [{ kind: 'contact', a: 'a', b: 'b', maintained: false, normallyClosed: false }],
    facts: { rating: { volts: { least: 30, most: 30 }, amps: 1 } },
    role: 'button',
  }),
  partType('two-note-chime', {
    terminals: ['trans', 'front', { name: 'rear', optional: true }],
    elements: [
      { kind: 'coil', a: 'trans', b: 'front', asRated: true, powerFactor: 0.7, ringsFrom: 0.7, humsFrom: 0.25 },
      { kind: 'coil', a: 'trans', b: 'rear', asRated: true, powerFactor: 0.7, ringsFrom: 0.7, humsFrom: 0.25 },
    ],
    facts: { rating: { volts: { least: 16, most: 16 }, system: 'AC', voltAmperes: 10 } },
    role: 'chime',
  }),
  partType('video-doorbell', {
    terminals: ['a', 'b'],
    elements: [
      {
        kind: 'load',
        a: 'a',
        b: 'b',
        draws: { unit: 'W', value: 3 },
        peaks: { unit: 'W', value: 8 },
        staysOnFrom: 10,
      },
      { kind: 'contact', a: 'a', b: 'b', name: 'ring', maintained: false, normallyClosed: false },
    ],
    facts: {
      rating: { volts: { least: 16, most: 24 }, system: 'AC' },
      needsSupply: { least: 10 },
    },
  }),
];

/** `18/2` of solid copper. */
export function cable(size: ConductorSize, colours: readonly string[] = ['red', 'white']): CableType {
  return {
    name: 'cable',
    size,
    colours,
    stranded: false,
    material: 'copper',
    listed: [],
    withGround: false,
    shielded: false,
    outdoor: false,
    directBurial: false,
    shipped: true,
  };
}

export const AWG18: ConductorSize = { kind: 'awg', awg: 18 };
export const AWG20: ConductorSize = { kind: 'awg', awg: 20 };

/** `hall-chime.trans`, or a splice. */
export function end(point: string): End {
  const [part = '', terminal] = point.split('.');
  return terminal === undefined ? { part } : { part, terminal };
}

function landing(point: string): Landing {
  if (point === 'capped' || point === 'unknown') return { kind: point };
  return { kind: 'on', end: end(point) };
}

export function conductor(colour: string, from: string, to: string): Conductor {
  return { colour, from: landing(from), to: landing(to), spare: false };
}

export function run(name: string, stated: Partial<Run> & { readonly conductors: readonly Conductor[] }): Run {
  return { name, cable: cable(AWG18), cableWords: '18/2', notes: [], ...stated };
}

export function metres(value: number): { length: { value: number } } {
  return { length: { value } };
}

function part(kind: 'supply' | 'device', name: string, type: string, stated: Partial<PartFacts>): Part {
  return { name, kind, type, facts: facts(stated), lands: [] };
}

export function supply(name: string, type: string, stated: Partial<PartFacts> = {}): Part {
  return part('supply', name, type, stated);
}

export function device(name: string, type: string, stated: Partial<PartFacts> = {}): Part {
  return part('device', name, type, stated);
}

export function jumper(name: string, from: string, to: string): Jumper {
  return { name, named: true, kind: 'jumper', from: end(from), to: end(to) };
}

export function installation(stated: Partial<Installation> & { readonly types?: readonly PartType[] }): Installation {
  const { types = TYPES, ...rest } = stated;
  return {
    title: 'Alder Lane 12, entry bell',
    profile: 'north-america',
    places: [],
    supplies: [],
    devices: [],
    splices: [],
    runs: [],
    jumpers: [],
    accepts: [],
    broken: new Set(),
    partTypes: new Map([...TYPES, ...types].map((type) => [type.name, type])),
    ...rest,
  };
}

/** A supply's output as a label has it. */
export function output(volts: number, voltAmperes: number): Partial<PartFacts> {
  return { outputs: [{ volts, system: 'AC', voltAmperes }] };
}

/** The notation's example: a plain bell with its button, both runs measured. */
export function plainBell(): Installation {
  return installation({
    supplies: [supply('bell-tx', 'bell-transformer', output(16, 10))],
    devices: [device('hall-chime', 'two-note-chime'), device('porch-button', 'push-button')],
    splices: [{ name: 'joist-joint', notes: [] }],
    runs: [
      run('tx-to-hall', {
        ...metres(9),
        conductors: [
          conductor('red', 'bell-tx.a', 'hall-chime.trans'),
          conductor('white', 'joist-joint', 'hall-chime.front'),
        ],
      }),
      run('tx-to-porch', {
        ...metres(6.5),
        conductors: [
          conductor('red', 'bell-tx.b', 'porch-button.a'),
          conductor('white', 'joist-joint', 'porch-button.b'),
        ],
      }),
    ],
  });
}

/** A load or sounder alone at the end of one run from a supply. */
export function atTheEndOf(
  lengthMetres: number,
  what: Part,
  ends: readonly [string, string],
  types?: readonly PartType[],
): Installation {
  return installation({
    ...(types === undefined ? {} : { types }),
    supplies: [supply('bell-tx', 'bell-transformer', output(16, 10))],
    devices: [what],
    runs: [
      run('only-run', {
        ...metres(lengthMetres),
        conductors: [conductor('red', 'bell-tx.a', ends[0]), conductor('white', 'bell-tx.b', ends[1])],
      }),
    ],
  });
}
