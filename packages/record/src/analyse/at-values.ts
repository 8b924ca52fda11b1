/** Circuits solved at mains volts and a wire temperature that somebody chose, in place of the nominal ones. Nothing is judged by them. */

import { cornersOf, type CircuitElement, prepare, resistanceAtTemperature } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, ResolvedRun, Solved } from '../analysis-types.js';
import type { Budget } from '../budget-types.js';
import { budgetOf } from '../budget/budget.js';
import { mainsOf } from '../resolve/mains.js';
import { nominalTemperature } from '../resolve/runs.js';
import { buildNetwork } from './build-network.js';
import { followsMains } from './conditions.js';
import { once } from './lazily.js';

export interface ChosenValues {
  /** Volts of the mains; absent: the nominal ones. */
  readonly mainsVolts?: number;
  /** degC of every conductor of the record; absent: as each has it at nominal. */
  readonly wireCelsius?: number;
}

/** What can be chosen, with what the findings are judged by: low and high mains, warm and cold wire. */
export interface ValueRange {
  readonly least: number;
  readonly nominal: number;
  readonly most: number;
}

export function valueRanges(profile: string): { readonly mainsVolts: ValueRange; readonly wireCelsius: ValueRange } {
  const mains = mainsOf(profile);
  const [nominal, low, high] = cornersOf(mains.name);
  const volts = (factor: number) => Number((mains.mainsVolts * factor).toFixed(1));
  return {
    mainsVolts: { least: volts(low.mainsFactor), nominal: mains.mainsVolts, most: volts(high.mainsFactor) },
    wireCelsius: {
      least: high.conductorTemperature,
      nominal: nominal.conductorTemperature,
      most: low.conductorTemperature,
    },
  };
}

/** The analysis with the nominal condition at the chosen values; the other conditions stay what they are. */
export function analysisAt(analysis: Analysis, values: ChosenValues): Analysis {
  const { installation, circuits, parts, jumpers } = analysis;
  const mains = mainsOf(installation.profile);
  const factor = (values.mainsVolts ?? mains.mainsVolts) / mains.mainsVolts;
  const runs =
    values.wireCelsius === undefined
      ? analysis.runs
      : new Map([...analysis.runs].map(([name, run]) => [name, runAt(analysis, run, values.wireCelsius ?? 0)]));
  const elements = once(() => {
    const network = buildNetwork(installation, { parts, runs, jumpers }, 'nominal');
    return new Map(network.elements.map((element) => [element.id, atMains(analysis, element, factor)]));
  });
  const made = new Map(circuits.map((circuit) => [circuit, circuitAt(circuit, elements)]));
  const known = (circuit: CircuitAnalysis | undefined) => circuit && (made.get(circuit) ?? circuit);
  return {
    installation,
    parts,
    runs,
    jumpers,
    elements: analysis.elements,
    circuits: [...made.values()],
    assumptions: analysis.assumptions,
    momentary: analysis.momentary,
    network: (condition) =>
      condition === 'nominal' ? prepare({ elements: [...elements().values()] }) : analysis.network(condition),
    circuitOfElement: (id) => known(analysis.circuitOfElement(id)),
    circuitsOfPart: (name) => analysis.circuitsOfPart(name).map((circuit) => made.get(circuit) ?? circuit),
    landedOn: (point) => analysis.landedOn(point),
  };
}

/** The budget with the figures of its states at the chosen values; extremes, shares at worst and findings stay as they are judged. */
export function budgetAt(budget: Budget, analysis: Analysis): Budget {
  const at = budgetOf(analysis, budget.findings);
  const supplies = budget.supplies.map((supply, nth) => ({
    ...supply,
    windings: supply.windings.map((winding, index) => ({
      ...winding,
      solved: at.supplies[nth]?.windings[index]?.solved ?? winding.solved,
    })),
  }));
  const devices = budget.devices.map((device, nth) => ({
    ...device,
    elements: device.elements.map((element, index) => ({
      ...element,
      solved: at.devices[nth]?.elements[index]?.solved ?? element.solved,
    })),
  }));
  return { ...budget, supplies, devices, runs: at.runs };
}

function runAt({ installation }: Analysis, run: ResolvedRun, celsius: number): ResolvedRun {
  const known = nominalTemperature(run.run, installation);
  return {
    ...run,
    conductors: run.conductors.map((conductor) => {
      const { ohms } = conductor;
      if (ohms === undefined) return conductor;
      return { ...conductor, ohms: { ...ohms, nominal: resistanceAtTemperature(ohms.nominal, known, celsius) } };
    }),
  };
}

/** A supply whose primary another one feeds gets what that one gives. */
function atMains({ elements, parts }: Analysis, element: CircuitElement, factor: number): CircuitElement {
  if (element.kind !== 'source' || element.fedBy !== undefined) return element;
  const winding = elements.get(element.id);
  const part = winding && parts.get(winding.part);
  if (winding === undefined || part === undefined || !followsMains(part, winding)) return element;
  return { ...element, volts: element.volts * factor };
}

function circuitAt(circuit: CircuitAnalysis, elements: () => ReadonlyMap<string, CircuitElement>): CircuitAnalysis {
  const nominal = once((): readonly Solved[] => {
    if (circuit.unsolved.length > 0) return [];
    const prepared = prepare({ elements: circuit.circuit.elements.flatMap((id) => elements().get(id) ?? []) });
    return circuit.states.map((state) => ({
      state,
      condition: 'nominal',
      solution: prepared.solve(circuit.circuit, state),
    }));
  });
  return {
    ...circuit,
    solved: (condition) => (condition === 'nominal' ? nominal() : circuit.solved(condition)),
    at: (condition, closed, loads) => {
      if (condition !== 'nominal') return circuit.at(condition, closed, loads);
      const asked = [...closed].sort().join('\n');
      const alike = nominal().filter(({ state }) => state.closed.join('\n') === asked);
      return alike.find(({ state }) => state.loads === loads) ?? alike.find(() => !circuit.circuit.hasPeak);
    },
  };
}
