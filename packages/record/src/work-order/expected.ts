/** Readings to expect on the circuits that were worked on. */

import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { magnitude, stateKey } from '../budget/figures.js';
import { compare } from '../resolve/parts.js';
import type { ExpectedReading } from './types.js';

/** What a meter is held across: supplies, and what has volts to be judged. */
const METERED: ReadonlySet<string> = new Set(['winding', 'coil', 'load', 'lamp', 'resistor', 'impedance']);

/** At rest and with each thing pressed by itself. `names` are parts of the circuits that were worked on. */
export function expectedReadings(analysis: Analysis, names: ReadonlySet<string>): readonly ExpectedReading[] {
  const circuits = analysis.circuits.filter(({ supplies, devices, runs }) =>
    [...supplies, ...devices, ...runs].some((name) => names.has(name)),
  );
  return circuits.flatMap((circuit) => {
    const elements = circuit.circuit.elements
      .map((id) => analysis.elements.get(id))
      .filter((element): element is ResolvedElement => element !== undefined && METERED.has(element.element.kind))
      .sort((one, other) => rank(one) - rank(other) || compare(one.a, other.a) || compare(one.b, other.b));
    return elements.flatMap((element) => readingsOf(analysis, circuit, element));
  });
}

const rank = ({ element }: ResolvedElement): number => (element.kind === 'winding' ? 0 : 1);

function readingsOf(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  element: ResolvedElement,
): readonly ExpectedReading[] {
  const place = analysis.parts.get(element.part)?.place?.name ?? null;
  const states = circuit.states.filter(({ closed }) => closed.length <= 1);
  return states.flatMap((state) => {
    const { closed, loads } = state;
    const volts = (['nominal', 'low', 'high'] as const).map((condition) => {
      const solved = circuit.at(condition, closed, loads);
      const figures = solved?.solution.problem === undefined ? solved?.solution.element(element.id) : undefined;
      return figures === undefined ? undefined : magnitude(figures.volts);
    });
    const [nominal] = volts;
    const known = volts.filter((one) => one !== undefined);
    if (nominal === undefined || known.length < volts.length) return [];
    const band = { least: Math.min(...known), most: Math.max(...known) };
    return [{ between: [element.a, element.b] as const, place, ...stateKey(analysis, state), volts: nominal, ...band }];
  });
}
