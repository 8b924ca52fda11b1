/** Random networks for property tests. */

import * as fc from 'fast-check';
import type { CircuitElement } from '../src/index.js';

/** Figures spread evenly over decades. */
function decades(from: number, to: number): fc.Arbitrary<number> {
  return fc.double({ min: from, max: to, noNaN: true }).map((exponent) => 10 ** exponent);
}

const point = (points: number): fc.Arbitrary<string> => fc.integer({ min: 0, max: points - 1 }).map((i) => `n${i}`);

/** Wires, resistors and coils. */
export function ohmic(points: number): fc.Arbitrary<CircuitElement> {
  return fc.record({
    kind: fc.constant('impedance' as const),
    id: fc.constant(''),
    a: point(points),
    b: point(points),
    ohms: decades(-2, 3),
    reactance: fc.oneof(fc.constant(0), decades(-1, 2)),
    wire: fc.boolean(),
  });
}

export function source(points: number, system: 'AC' | 'DC'): fc.Arbitrary<CircuitElement> {
  return fc.record({
    kind: fc.constant('source' as const),
    id: fc.constant(''),
    a: point(points),
    b: point(points),
    system: fc.constant(system),
    frequency: fc.constant(system === 'AC' ? 60 : 0),
    volts: fc.double({ min: 1, max: 50, noNaN: true }),
    phase: system === 'AC' ? fc.integer({ min: -180, max: 180 }) : fc.constant(0),
    ohms: decades(-1, 1.5),
    reactance: system === 'AC' ? fc.oneof(fc.constant(0), decades(-1, 1)) : fc.constant(0),
  });
}

export function switching(points: number): fc.Arbitrary<CircuitElement> {
  return fc.oneof(
    fc.record({ kind: fc.constant('short' as const), id: fc.constant(''), a: point(points), b: point(points) }),
    fc.record({
      kind: fc.constant('contact' as const),
      id: fc.constant(''),
      a: point(points),
      b: point(points),
      contact: fc.constantFrom('c1', 'c2', 'c3'),
      normally: fc.constantFrom('open' as const, 'closed' as const),
    }),
  );
}

export function demanding(points: number): fc.Arbitrary<CircuitElement> {
  const both = (values: fc.Arbitrary<number>) => fc.record({ idle: values, peak: values });
  return fc.oneof(
    fc.record({
      kind: fc.constant('power' as const),
      id: fc.constant(''),
      a: point(points),
      b: point(points),
      voltAmperes: both(fc.oneof(fc.constant(0), decades(-3, 1.3))),
      powerFactor: fc.constant(1),
      staysOnFrom: fc.double({ min: 0, max: 20, noNaN: true }),
    }),
    fc.record({
      kind: fc.constant('current' as const),
      id: fc.constant(''),
      a: point(points),
      b: point(points),
      amps: both(fc.oneof(fc.constant(0), decades(-3, 0.5))),
      powerFactor: fc.constant(1),
      staysOnFrom: fc.double({ min: 0, max: 20, noNaN: true }),
    }),
    fc.record({
      kind: fc.constant('bypass' as const),
      id: fc.constant(''),
      a: point(points),
      b: point(points),
      ohms: decades(-1, 1),
      opensAbove: decades(-2, 1),
    }),
  );
}

export function named(elements: readonly CircuitElement[]): CircuitElement[] {
  return elements.map((element, i) => ({ ...element, id: `e${String(i).padStart(3, '0')}` }));
}

/** A network of everything, in one system. */
export function anyNetwork(points: number, system: 'AC' | 'DC'): fc.Arbitrary<CircuitElement[]> {
  return fc
    .tuple(
      fc.array(source(points, system), { minLength: 1, maxLength: 3 }),
      fc.array(ohmic(points), { minLength: 1, maxLength: 3 * points }),
      fc.array(switching(points), { maxLength: 4 }),
      fc.array(demanding(points), { maxLength: 5 }),
    )
    .map((groups) => named(groups.flat()));
}

/** A network of everything with diodes in it. */
export function rectifyingNetwork(points: number, system: 'AC' | 'DC'): fc.Arbitrary<CircuitElement[]> {
  const diode = fc.record({
    kind: fc.constant('diode' as const),
    id: fc.constant(''),
    a: point(points),
    b: point(points),
  });
  return fc
    .tuple(anyNetwork(points, system), fc.array(diode, { minLength: 1, maxLength: 4 }))
    .map(([elements, diodes]) => named([...elements, ...diodes]));
}

/** A connected passive network with sources behind ohms. */
export function linearNetwork(points: number, system: 'AC' | 'DC'): fc.Arbitrary<CircuitElement[]> {
  const spine = fc
    .tuple(...Array.from({ length: points - 1 }, () => ohmic(points)))
    .map((elements) => elements.map((element, i) => ({ ...element, a: `n${i}`, b: `n${i + 1}` })));
  return fc
    .tuple(
      spine,
      fc.array(source(points, system), { minLength: 1, maxLength: 4 }),
      fc.array(ohmic(points), { maxLength: 2 * points }),
    )
    .map((groups) => named(groups.flat()));
}

const garbageNumber = fc.oneof(
  fc.double(),
  fc.constantFrom(0, -0, 1, -1, 1e-300, 1e300, Number.NaN, Number.POSITIVE_INFINITY, 1e-9, 1e-5, 1e12),
);

/** Elements of any kind with any figures at all. */
export function garbage(points: number): fc.Arbitrary<CircuitElement[]> {
  const end = point(points);
  const id = fc.integer({ min: 0, max: 40 }).map((i) => `g${i}`);
  const both = fc.record({ idle: garbageNumber, peak: garbageNumber });
  const ends = { id, a: end, b: end };
  const element: fc.Arbitrary<CircuitElement> = fc.oneof(
    fc.record({ kind: fc.constant('short' as const), ...ends }),
    fc.record({
      kind: fc.constant('source' as const),
      ...ends,
      system: fc.constantFrom('AC' as const, 'DC' as const),
      frequency: fc.oneof(fc.constantFrom(0, 50, 60), garbageNumber),
      volts: garbageNumber,
      phase: garbageNumber,
      ohms: garbageNumber,
      reactance: garbageNumber,
    }),
    fc.record({
      kind: fc.constant('source' as const),
      ...ends,
      system: fc.constant('AC' as const),
      frequency: fc.constant(60),
      volts: fc.constant(16),
      phase: fc.constantFrom(0, 180, 30),
      ohms: fc.constantFrom(0, 1, 6.4),
      reactance: fc.constantFrom(0, 1),
      fedBy: fc.record({ a: end, b: end, ratio: fc.oneof(fc.constantFrom(0, 0.1, -1), garbageNumber) }),
    }),
    fc.record({
      kind: fc.constant('impedance' as const),
      ...ends,
      ohms: garbageNumber,
      reactance: garbageNumber,
      wire: fc.boolean(),
    }),
    fc.record({
      kind: fc.constant('contact' as const),
      ...ends,
      contact: fc.constantFrom('c1', 'c2'),
      normally: fc.constantFrom('open' as const, 'closed' as const),
    }),
    fc.record({
      kind: fc.constant('power' as const),
      ...ends,
      voltAmperes: both,
      powerFactor: garbageNumber,
      staysOnFrom: garbageNumber,
    }),
    fc.record({
      kind: fc.constant('current' as const),
      ...ends,
      amps: both,
      powerFactor: garbageNumber,
      staysOnFrom: garbageNumber,
    }),
    fc.record({ kind: fc.constant('bypass' as const), ...ends, ohms: garbageNumber, opensAbove: garbageNumber }),
    fc.record({ kind: fc.constant('diode' as const), ...ends }),
  );
  return fc.array(element, { maxLength: 25 });
}
