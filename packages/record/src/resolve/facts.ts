/** A part's facts: what its type says with what the instance says over it. The label in hand beats the library. */

import type { Output, Part, PartFacts, PartType, Rating } from '../model.js';
import type { FactName } from '../place-in-record.js';

const NO_FACTS: PartFacts = { outputs: [], notes: [], labels: [], photos: [] };

export function mergeFacts(type: PartType | undefined, stated: PartFacts): PartFacts {
  const under = type?.facts ?? NO_FACTS;
  const outputs = mergeOutputs(under.outputs, stated.outputs);
  const merged: PartFacts = {
    ...under,
    ...withoutUndefined(stated),
    outputs,
    rating: mergeRating(under.rating, stated.rating),
    notes: stated.notes.length > 0 ? stated.notes : under.notes,
    labels: stated.labels.length > 0 ? stated.labels : under.labels,
    photos: stated.photos.length > 0 ? stated.photos : under.photos,
  };
  const typeNoLoadHolds = stated.outputs.length === 0 || sameOutputs(outputs, under.outputs);
  return stated.noLoadVolts === undefined && !typeNoLoadHolds ? { ...merged, noLoadVolts: undefined } : merged;
}

/** The facts that the instance itself states. */
export function statedFacts(part: Part): ReadonlySet<FactName> {
  const { facts } = part;
  const { figures = {} } = facts;
  const present: [FactName, boolean][] = [
    ['type', part.type !== undefined],
    ['place', part.place !== undefined],
    ['output', facts.outputs.length > 0],
    ['no-load', facts.noLoadVolts !== undefined],
    ['regulated', facts.regulated !== undefined],
    ['accepts', facts.accepts !== undefined],
    ['measured-open', facts.measuredOpenVolts !== undefined],
    ['measured-loaded', facts.measuredLoaded !== undefined],
    ['needs', facts.needsSupply !== undefined],
    ['ring', facts.ring !== undefined],
    ['rating', facts.rating !== undefined],
    ['limits', facts.limits !== undefined],
    ['breaker', facts.breakerAmps !== undefined],
    ['existing-load', facts.existingLoads !== undefined],
    ['circuit', facts.circuit !== undefined],
    ['together', facts.togetherAtMost !== undefined],
    ['never', facts.neverTogether !== undefined],
    ['draws', figures.draws !== undefined],
    ['peaks', figures.peaks !== undefined],
    ['power-factor', figures.powerFactor !== undefined],
    ['stays-on', figures.staysOnFrom !== undefined],
    ['rings', figures.ringsFrom !== undefined],
    ['hums', figures.humsFrom !== undefined],
    ['dc', figures.dcOhms !== undefined],
    ['pulls-in', figures.pullsInFrom !== undefined],
    ['inrush', figures.inrush !== undefined],
    ['releases', figures.releasesBelow !== undefined],
    ['battery', facts.batteryAmpereHours !== undefined],
    ['standby', facts.standbyHours !== undefined],
    ['budget', facts.budgetWatts !== undefined],
  ];
  return new Set(present.filter(([, isStated]) => isStated).map(([name]) => name));
}

/** The supply a part asks for. A rating's VA counts as such where the part's loads state their own draws. */
export function neededSupply(
  part: Part,
  type: PartType | undefined,
): { least: number; most?: number; by: 'needs' | 'rating' } | undefined {
  const statesDraws =
    part.facts.figures?.draws !== undefined ||
    (type?.elements.some((e) => e.kind === 'load' && !e.asRated && e.draws !== undefined) ?? false);
  for (const facts of [part.facts, type?.facts ?? NO_FACTS]) {
    if (facts.needsSupply !== undefined) return { ...facts.needsSupply, by: 'needs' };
    const voltAmperes = facts.rating?.voltAmperes;
    if (statesDraws && voltAmperes !== undefined) return { least: voltAmperes, by: 'rating' };
  }
  return undefined;
}

/** Volts and kind from wherever they are stated; VA, watts and amps are one figure in three units, so a stated one replaces all. */
function mergeRating(under: Rating | undefined, stated: Rating | undefined): Rating | undefined {
  if (under === undefined || stated === undefined) return stated ?? under;
  const statesPower = stated.voltAmperes !== undefined || stated.watts !== undefined || stated.amps !== undefined;
  const power = statesPower ? stated : under;
  return withoutUndefined({
    volts: stated.volts ?? under.volts,
    system: stated.system ?? under.system,
    voltAmperes: power.voltAmperes,
    watts: power.watts,
    amps: power.amps,
  });
}

function mergeOutputs(under: readonly Output[], stated: readonly Output[]): readonly Output[] {
  if (stated.length === 0) return under;
  const merged = stated.map((output) =>
    mergeOutput(
      under.find((u) => u.tap === output.tap),
      output,
    ),
  );
  const untouched = under.filter((u) => !stated.some((s) => s.tap === u.tap));
  return [...untouched, ...merged];
}

function mergeOutput(under: Output | undefined, stated: Output): Output {
  if (under === undefined) return stated;
  const power = stated.voltAmperes !== undefined || stated.amps !== undefined ? stated : under;
  return withoutUndefined({
    tap: stated.tap,
    volts: stated.volts ?? under.volts,
    system: stated.system ?? under.system,
    voltAmperes: power.voltAmperes,
    amps: power.amps,
    frequency: stated.frequency ?? under.frequency,
  });
}

/** A no-load voltage belongs to one label: another output on the instance is another transformer. */
function sameOutputs(a: readonly Output[], b: readonly Output[]): boolean {
  return (
    a.length === b.length &&
    a.every((x) => {
      const y = b.find((other) => other.tap === x.tap);
      return y !== undefined && x.volts === y.volts && x.voltAmperes === y.voltAmperes && x.amps === y.amps;
    })
  );
}

function withoutUndefined<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as T;
}
