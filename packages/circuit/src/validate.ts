/** Figures that no circuit has: they are named, and nothing is thrown. */

import type { CircuitElement, SolveProblem } from './network.js';

/** Figures beyond this are a slip of the pen, and their squares would spoil the arithmetic. */
export const LARGEST_FIGURE = 1e12;

/** Ohms below this are taken as an ideal connection. */
export const SMALLEST_OHMS = 1e-9;

const KINDS: ReadonlySet<string> = new Set([
  'short',
  'source',
  'impedance',
  'contact',
  'power',
  'current',
  'bypass',
  'diode',
]);

/** Orders names by code points, the same everywhere. */
export function byName(x: string, y: string): number {
  return x < y ? -1 : x > y ? 1 : 0;
}

interface Figure {
  readonly what: string;
  readonly value: number;
  readonly signed?: boolean;
}

function figuresOf(element: CircuitElement): readonly Figure[] {
  switch (element.kind) {
    case 'short':
    case 'contact':
    case 'diode':
      return [];
    case 'source':
      return [
        { what: 'volts', value: element.volts, signed: true },
        { what: 'phase', value: element.phase, signed: true },
        { what: 'ohms', value: element.ohms },
        { what: 'reactance', value: element.reactance, signed: true },
        { what: 'frequency', value: element.frequency },
        ...(element.fedBy === undefined ? [] : [{ what: 'ratio', value: element.fedBy.ratio, signed: true }]),
      ];
    case 'impedance':
      return [
        { what: 'ohms', value: element.ohms },
        { what: 'reactance', value: element.reactance, signed: true },
      ];
    case 'power':
      return [
        { what: 'idle volt-amperes', value: element.voltAmperes?.idle },
        { what: 'peak volt-amperes', value: element.voltAmperes?.peak },
        { what: 'stays-on volts', value: element.staysOnFrom },
      ];
    case 'current':
      return [
        { what: 'idle amperes', value: element.amps?.idle },
        { what: 'peak amperes', value: element.amps?.peak },
        { what: 'stays-on volts', value: element.staysOnFrom },
      ];
    case 'bypass':
      return [
        { what: 'ohms', value: element.ohms },
        { what: 'opens-above amperes', value: element.opensAbove },
      ];
  }
}

function isPlain(value: number): boolean {
  return value >= 0 && value <= LARGEST_FIGURE;
}

/** What is wrong with an element's figures, in words, or `undefined`. */
export function faultOf(element: CircuitElement): string | undefined {
  if (!KINDS.has(element.kind)) return 'is of no known kind';
  if (element.kind === 'source' && element.system !== 'AC' && element.system !== 'DC') return 'is neither AC nor DC';
  if (element.kind === 'impedance' && isPlain(element.ohms) && isPlain(element.reactance)) return undefined;
  for (const figure of figuresOf(element)) {
    if (typeof figure.value !== 'number' || !Number.isFinite(figure.value)) return `${figure.what} is not a number`;
    if (figure.signed !== true && figure.value < 0) return `${figure.what} is negative`;
    if (Math.abs(figure.value) > LARGEST_FIGURE) return `${figure.what} is beyond all measure`;
  }
  return undefined;
}

function isSorted(elements: readonly CircuitElement[]): boolean {
  for (let k = 1; k < elements.length; k++) if (!(elements[k - 1]!.id < elements[k]!.id)) return false;
  return true;
}

/** Sorts elements by id and names those that can't be used; a repeated id counts once. */
export function sortAndCheck(elements: readonly CircuitElement[]): {
  readonly sorted: readonly CircuitElement[];
  readonly problems: readonly (SolveProblem & { kind: 'bad-figure' })[];
} {
  const all = isSorted(elements)
    ? elements
    : [...elements].sort(
        (x, y) => byName(x.id, y.id) || byName(x.kind, y.kind) || byName(x.a, y.a) || byName(x.b, y.b),
      );
  const sorted: CircuitElement[] = [];
  const problems: (SolveProblem & { kind: 'bad-figure' })[] = [];
  for (const element of all) {
    if (sorted.at(-1)?.id === element.id) {
      problems.push({ kind: 'bad-figure', element: element.id, what: 'has the same id as another element' });
      continue;
    }
    sorted.push(element);
    const what = faultOf(element);
    if (what !== undefined) problems.push({ kind: 'bad-figure', element: element.id, what });
  }
  return { sorted, problems };
}
