/** Symbols drawn from the words of IEC 60617, upright, centred on 0,0; leads end at y = -16 and y = 16. */

import type { PartElement } from '@ohmstead/record';

/** Half of a symbol's height, leads included. */
export const reach = 16;

interface Stroke {
  readonly d: string;
  readonly filled?: boolean;
}

const leads = (half: number): Stroke => ({ d: `M0 -16V${-half}M0 ${half}V16` });
const winding = (sweep: 0 | 1): Stroke => ({
  d: `M0 -16V-12${'a4 4 0 0 S 0 8'.replace('S', String(sweep)).repeat(3)}V16`,
});

/** The strokes of an element's symbol. A contact is drawn as it stands. */
export function symbolOf(element: PartElement, closed: boolean): readonly Stroke[] {
  switch (element.kind) {
    case 'primary':
      return [winding(1)];
    case 'winding':
      return [winding(0)];
    case 'coil':
      return coil(element.ringsFrom !== undefined, element.humsFrom === 'off');
    case 'contact':
      return element.maintained ? lever(closed) : push(closed);
    // A converter: a rectangle with a line across it.
    case 'load':
      return [leads(11), { d: 'M-9 -11H9V11H-9ZM-9 11L9 -11' }];
    case 'resistor':
      return [leads(11), { d: 'M-5 -11H5V11H-5Z' }];
    case 'impedance':
      return [leads(11), { d: 'M-5 -11H5V11H-5Z', filled: true }];
    // A resistor that lets go: with the line across it of one whose ohms depend on something else.
    case 'bypass':
      return [leads(11), { d: 'M-5 -11H5V11H-5ZM-9 9L9 -9' }];
    case 'lamp':
      return [leads(9), { d: 'M9 0A9 9 0 1 1 -9 0A9 9 0 1 1 9 0ZM-6.4 -6.4L6.4 6.4M-6.4 6.4L6.4 -6.4' }];
    case 'diode':
      return [leads(8), { d: 'M-8 -8H8L0 8Z', filled: true }, { d: 'M-8 8H8' }];
    case 'link':
      return [{ d: 'M0 -16V16' }];
  }
}

/** A bell is a half circle on its flat side; a buzzer has its leads on the round side; any other coil its turns. */
function coil(rings: boolean, buzzes: boolean): readonly Stroke[] {
  if (!rings) return [winding(1)];
  if (buzzes) return [{ d: 'M0 -16V-8M0 8V16' }, { d: 'M9 -11V11A11 11 0 0 1 9 -11' }];
  return [leads(11), { d: 'M0 -11V11A11 11 0 0 0 0 -11' }];
}

/** Two fixed contacts and a bar that a stem pushes across the gap. */
function push(closed: boolean): readonly Stroke[] {
  const bar = closed ? 2.5 : 8;
  return [
    leads(8),
    {
      d: 'M2.5 -8A2.5 2.5 0 1 1 -2.5 -8A2.5 2.5 0 1 1 2.5 -8ZM2.5 8A2.5 2.5 0 1 1 -2.5 8A2.5 2.5 0 1 1 2.5 8Z',
      filled: true,
    },
    { d: `M${bar} -11V11M${bar} 0H${bar + 9}M${bar + 9} -5V5` },
  ];
}

function lever(closed: boolean): readonly Stroke[] {
  return [leads(8), { d: closed ? 'M0 8V-9' : 'M0 8L9 -7' }];
}
