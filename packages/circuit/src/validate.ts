/** Figures that no circuit has: they are named, and nothing is thrown. */

import type { CircuitElement } from './network.js';

/** Figures beyond this are a slip of the pen, and their squares would spoil the arithmetic. */
export const LARGEST_FIGURE = 1e12;

/** Ohms below this are taken as an ideal connection. */
export const SMALLEST_OHMS = 1e-9;

interface Figure {
  readonly what: string;
  readonly value: number;
  readonly signed?: boolean;
}

/** `undefined` for what is no element at all. */
function figuresOf(element: CircuitElement): readonly Figure[] | undefined {
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
    default:
      return undefined;
  }
}

/** Neither negative nor beyond all measure, and a number. */
export function isPlain(value: number): boolean {
  return value >= 0 && value <= LARGEST_FIGURE;
}

/** What is wrong with an element's figures, in words, or `undefined`. */
export function faultOf(element: CircuitElement): string | undefined {
  if (element.kind === 'impedance' && isPlain(element.ohms) && isPlain(element.reactance)) return undefined;
  const figures = figuresOf(element);
  if (figures === undefined) return 'is of no known kind';
  if (element.kind === 'source' && element.system !== 'AC' && element.system !== 'DC') return 'is neither AC nor DC';
  for (const figure of figures) {
    if (typeof figure.value !== 'number' || !Number.isFinite(figure.value)) return `${figure.what} is not a number`;
    if (figure.signed !== true && figure.value < 0) return `${figure.what} is negative`;
    if (Math.abs(figure.value) > LARGEST_FIGURE) return `${figure.what} is beyond all measure`;
  }
  return undefined;
}
