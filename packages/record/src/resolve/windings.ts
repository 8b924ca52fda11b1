/**
 * Windings: from the label, a no-load figure or a meter's reading to an EMF behind a resistance.
 *
 * A tapped winding becomes one source for each section between neighbouring taps, in series. All sections are of one wire, so the winding's
 * EMF and resistance are shared out by volts; where the label gives amps of its own for the taps, the resistance up to each tap follows
 * from those. The rated amps of a section are those of the tap at its far end: what is taken lower down is allowed more.
 */

import { defaultRegulation, windingModel } from '@ohmstead/circuit';
import type { Assumption, ResolvedElement } from '../analysis-types.js';
import type { Output, WindingElement } from '../model.js';
import { assumption, libraryOutput, type PartContext } from './assume.js';
import { asPercent, withUnit } from './figures.js';
import { mainsOf } from './mains.js';

type Base = Pick<ResolvedElement, 'id' | 'index' | 'part' | 'element' | 'a' | 'b' | 'present'>;

export function resolveWinding(context: PartContext, element: WindingElement, base: Base): readonly ResolvedElement[] {
  const whole = resolveWhole(context, element, base);
  const taps = element.taps ?? [];
  return taps.length > 2 ? sectionsOf(context, whole, taps) : [whole];
}

/** The winding's own label, or that of its part. */
function labelOf(context: PartContext, element: WindingElement): Output {
  const own: Output = {
    volts: element.volts,
    voltAmperes: element.voltAmperes,
    amps: element.amps,
    system: element.system,
    frequency: element.frequency,
  };
  const output = outputOf(context, element);
  const [first, second] = element.asRated ? [output, own] : [own, output];
  const power = first?.voltAmperes !== undefined || first?.amps !== undefined ? first : second;
  return {
    tap: output?.tap,
    volts: first?.volts ?? second?.volts,
    voltAmperes: power?.voltAmperes,
    amps: power?.amps,
    system: first?.system ?? second?.system,
    frequency: first?.frequency ?? second?.frequency,
  };
}

/** The output named after the winding's far terminal or near one; else the one without a name. */
function outputOf({ facts }: PartContext, { a, b }: WindingElement): Output | undefined {
  const named = (tap: string | undefined) => facts.outputs.find((output) => output.tap === tap);
  return named(b) ?? named(a) ?? named(undefined);
}

function resolveWhole(context: PartContext, element: WindingElement, base: Base): ResolvedElement {
  const label = labelOf(context, element);
  const taps = element.taps ?? [];
  const volts = taps.length > 1 ? taps.at(-1)!.volts - taps[0]!.volts : label.volts;
  const system = label.system ?? 'AC';
  const described = {
    ...base,
    system,
    frequency: system === 'DC' ? 0 : (label.frequency ?? mainsOf(context.profile).frequency),
    ratedVolts: volts,
  };
  const rated = element.asRated ? libraryOutput(context, label) : [];
  if (volts === undefined || volts <= 0) return { ...described, assumed: rated, missing: 'the volts of a winding are' };
  const ratedAmps = label.amps ?? (label.voltAmperes === undefined ? undefined : label.voltAmperes / volts);
  if (ratedAmps === undefined || ratedAmps <= 0) {
    const ideal = assumption(context, 'no-load', `the same ${withUnit(volts, 'V')} at any load (no VA is stated)`);
    return { ...described, noLoadVolts: volts, ohms: 0, reactance: 0, assumed: [...rated, ideal] };
  }
  const ratedVoltAmperes = label.voltAmperes ?? ratedAmps * volts;
  const meters = isFirstWinding(context, element) ? context.facts : undefined;
  const model = windingModel({
    volts,
    voltAmperes: ratedAmps * volts,
    noLoadVolts: noLoadOf(context, element),
    regulated: context.facts.regulated,
    reactance: element.reactance,
    measuredOpenVolts: meters?.measuredOpenVolts,
    measuredLoaded: meters?.measuredLoaded,
  });
  if (model === undefined) return { ...described, assumed: rated, missing: 'usable volts and VA of a winding are' };
  const isAssumed = model.basis === 'assumed';
  return {
    ...described,
    ratedVoltAmperes,
    ratedAmps,
    noLoadVolts: model.emfVolts,
    ohms: model.ohms,
    reactance: model.reactance,
    assumed: [...rated, ...(isAssumed ? assumedRegulation(context, model.emfVolts, ratedVoltAmperes) : [])],
  };
}

/** A part states one no-load voltage and one reading: of its first winding. */
function isFirstWinding({ type }: PartContext, element: WindingElement): boolean {
  return type.elements.find(({ kind }) => kind === 'winding') === element;
}

/** A winding that follows its part's output has no use for a no-load voltage of the type when the instance states another output. */
function noLoadOf(context: PartContext, element: WindingElement): number | undefined {
  const { facts, stated } = context;
  const ofPart = isFirstWinding(context, element) ? facts.noLoadVolts : undefined;
  if (!element.asRated) return element.noLoadVolts ?? ofPart;
  return ofPart ?? (stated.has('output') ? undefined : element.noLoadVolts);
}

function assumedRegulation(context: PartContext, noLoadVolts: number, voltAmperes: number): readonly Assumption[] {
  const regulation = asPercent(defaultRegulation(voltAmperes));
  const size = withUnit(voltAmperes, 'VA');
  const figure =
    context.facts.measuredOpenVolts === undefined
      ? `a no-load voltage of ${withUnit(noLoadVolts, 'V')} (${regulation} regulation`
      : `the volts lost under load (at least ${regulation} regulation`;
  return [assumption(context, 'no-load', `${figure}, common practice for ${size})`)];
}

function sectionsOf(
  context: PartContext,
  whole: ResolvedElement,
  taps: readonly { readonly terminal: string; readonly volts: number }[],
): readonly ResolvedElement[] {
  const lowest = taps[0]!.volts;
  const span = whole.ratedVolts ?? 0;
  if (whole.missing !== undefined || span <= 0) return [whole];
  const shareUpTo = resistanceShares(context, whole, taps);
  return taps.slice(1).map((tap, k): ResolvedElement => {
    const below = taps[k]!;
    const voltShare = (tap.volts - below.volts) / span;
    const ohmShare = shareUpTo[k + 1]! - shareUpTo[k]!;
    const tapVolts = tap.volts - lowest;
    const amps = tapAmps(context, tap.terminal, tapVolts) ?? quotient(whole.ratedVoltAmperes, tapVolts);
    return {
      ...whole,
      id: `${whole.id}/${k + 1}`,
      a: `${context.name}.${below.terminal}`,
      b: `${context.name}.${tap.terminal}`,
      ratedVolts: span * voltShare,
      ratedAmps: amps,
      ratedVoltAmperes: amps === undefined ? undefined : amps * span * voltShare,
      sectionOf: { winding: whole.id, voltAmperes: whole.ratedVoltAmperes },
      noLoadVolts: (whole.noLoadVolts ?? 0) * voltShare,
      ohms: (whole.ohms ?? 0) * ohmShare,
      reactance: (whole.reactance ?? 0) * voltShare,
    };
  });
}

/** Share of the whole winding's resistance up to each tap. */
function resistanceShares(
  context: PartContext,
  whole: ResolvedElement,
  taps: readonly { readonly terminal: string; readonly volts: number }[],
): readonly number[] {
  const lowest = taps[0]!.volts;
  const span = whole.ratedVolts ?? 1;
  const byVolts = taps.map(({ volts }) => (volts - lowest) / span);
  const byAmps = taps.map(({ terminal, volts }, k) => {
    if (k === 0) return 0;
    const amps = k === taps.length - 1 ? whole.ratedAmps : tapAmps(context, terminal, volts - lowest);
    return amps === undefined || whole.ratedAmps === undefined ? undefined : (byVolts[k]! * whole.ratedAmps) / amps;
  });
  const known = byAmps.filter((share) => share !== undefined);
  const isRising = known.every((share, k) => k === 0 || share > known[k - 1]!);
  return known.length === taps.length && isRising ? known : byVolts;
}

/** The amps that the label gives for a tap by its own name. */
function tapAmps({ facts }: PartContext, terminal: string, tapVolts: number): number | undefined {
  const output = facts.outputs.find(({ tap }) => tap === terminal);
  return output?.amps ?? quotient(output?.voltAmperes, output?.volts ?? tapVolts);
}

function quotient(a: number | undefined, b: number): number | undefined {
  return a === undefined || b <= 0 ? undefined : a / b;
}
