/** Complex amplitudes: the few operations that circuits need. All values are RMS; angles are degrees. */

import type { Phasor } from './network.js';

export const ZERO: Phasor = { re: 0, im: 0 };

export function phasor(re: number, im = 0): Phasor {
  return { re, im };
}

/** A phasor of `size` at `degrees`; quarter turns are exact. */
export function polar(size: number, degrees: number): Phasor {
  const turned = ((degrees % 360) + 360) % 360;
  if (turned === 0) return { re: size, im: 0 };
  if (turned === 90) return { re: 0, im: size };
  if (turned === 180) return { re: -size, im: 0 };
  if (turned === 270) return { re: 0, im: -size };
  const radians = (turned * Math.PI) / 180;
  return { re: size * Math.cos(radians), im: size * Math.sin(radians) };
}

export function add(x: Phasor, y: Phasor): Phasor {
  return { re: x.re + y.re, im: x.im + y.im };
}

export function subtract(x: Phasor, y: Phasor): Phasor {
  return { re: x.re - y.re, im: x.im - y.im };
}

export function multiply(x: Phasor, y: Phasor): Phasor {
  return { re: x.re * y.re - x.im * y.im, im: x.re * y.im + x.im * y.re };
}

/** x / y; `undefined` when y is zero. */
export function divide(x: Phasor, y: Phasor): Phasor | undefined {
  const square = y.re * y.re + y.im * y.im;
  if (square === 0) return undefined;
  return { re: (x.re * y.re + x.im * y.im) / square, im: (x.im * y.re - x.re * y.im) / square };
}

export function scale(x: Phasor, factor: number): Phasor {
  return { re: x.re * factor, im: x.im * factor };
}

export function negate(x: Phasor): Phasor {
  return { re: 0 - x.re, im: 0 - x.im };
}

export function conjugate(x: Phasor): Phasor {
  return { re: x.re, im: 0 - x.im };
}

/** Square root instead of `Math.hypot`, whose last bit differs between engines. */
export function magnitude(x: Phasor): number {
  return Math.sqrt(x.re * x.re + x.im * x.im);
}

/** -180 exclusive to 180 inclusive; 0 for the zero phasor. */
export function angleDegrees(x: Phasor): number {
  return (Math.atan2(x.im, x.re) * 180) / Math.PI;
}

/** Complex power V x I*: watts in `re`, vars in `im`. */
export function power(volts: Phasor, amps: Phasor): Phasor {
  return multiply(volts, conjugate(amps));
}
