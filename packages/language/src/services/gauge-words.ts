/** A cable as the notation spells it by its conductors. */

import type { ConductorSize } from '@ohmstead/record';

/** `18/2`, `2 x 0.75 mm2`, `2 x 0.6 mm`. */
export function gaugeWords(size: ConductorSize, count: number): string {
  switch (size.kind) {
    case 'awg':
      return `${size.awg}/${count}`;
    case 'area':
      return `${count} x ${size.mm2} mm2`;
    case 'diameter':
      return `${count} x ${size.mm} mm`;
  }
}
