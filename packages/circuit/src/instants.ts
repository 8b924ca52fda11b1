/** The instants of a cycle at which diodes are looked at, and sums over some of them. */

/** Instants of a cycle that are looked at: 2.5 degrees apart. */
export const INSTANTS = 144;
const COSINES = Float64Array.from({ length: INSTANTS }, (_, k) => Math.cos((2 * Math.PI * (k + 0.5)) / INSTANTS));
const SINES = Float64Array.from({ length: INSTANTS }, (_, k) => Math.sin((2 * Math.PI * (k + 0.5)) / INSTANTS));

/** What varies as sqrt(2) x (re cos - im sin) + steady over the cycle. */
export interface Wave {
  readonly re: number;
  readonly im: number;
  readonly steady: number;
}

export function waveAt({ re, im, steady }: Wave, instant: number): number {
  return Math.SQRT2 * (re * COSINES[instant]! - im * SINES[instant]!) + steady;
}

/** Sums over some instants. */
export interface Instants {
  count: number;
  cosines: number;
  sines: number;
  cosineSquares: number;
  sineSquares: number;
  products: number;
}

export function noInstants(): Instants {
  return { count: 0, cosines: 0, sines: 0, cosineSquares: 0, sineSquares: 0, products: 0 };
}

export function addInstant(sums: Instants, instant: number): void {
  const [cosine, sine] = [COSINES[instant]!, SINES[instant]!];
  sums.count++;
  sums.cosines += cosine;
  sums.sines += sine;
  sums.cosineSquares += cosine * cosine;
  sums.sineSquares += sine * sine;
  sums.products += cosine * sine;
}

export function sumOfWave({ cosines, sines, count }: Instants, { re, im, steady }: Wave): number {
  return Math.SQRT2 * (re * cosines - im * sines) + steady * count;
}

/** Of two quantities multiplied, instant by instant. */
export function sumOfProduct(sums: Instants, u: Wave, v: Wave): number {
  return (
    2 * (u.re * v.re * sums.cosineSquares + u.im * v.im * sums.sineSquares) -
    2 * (u.re * v.im + u.im * v.re) * sums.products +
    Math.SQRT2 * (u.steady * v.re + v.steady * u.re) * sums.cosines -
    Math.SQRT2 * (u.steady * v.im + v.steady * u.im) * sums.sines +
    u.steady * v.steady * sums.count
  );
}

/** The mean over the cycle of a quantity, given as its wave in each span of instants. */
export function mean<S extends Instants>(spans: readonly S[], x: (span: S) => Wave): number {
  let sum = 0;
  for (const span of spans) sum += sumOfWave(span, x(span));
  return sum / INSTANTS;
}

/** The same of the product of two quantities. */
export function meanProduct<S extends Instants>(
  spans: readonly S[],
  x: (span: S) => Wave,
  y: (span: S) => Wave,
): number {
  let sum = 0;
  for (const span of spans) sum += sumOfProduct(span, x(span), y(span));
  return sum / INSTANTS;
}

export function rms<S extends Instants>(spans: readonly S[], x: (span: S) => Wave): number {
  return Math.sqrt(Math.max(0, meanProduct(spans, x, x)));
}
