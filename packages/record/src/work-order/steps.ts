/** The steps in the order in which nothing is live that is touched, and nothing is lifted that was not labelled. */

import { type Analysis, partNameOf } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import { type AnyPart, nameOf, placeNameOf } from '../compare/context.js';
import { listOf, quote, quotedList } from '../judging/words.js';
import type { End, Jumper } from '../model.js';
import { compare } from '../resolve/parts.js';
import type { Affected } from './affected.js';
import type { ExpectedReading, WorkDone, WorkPhase, WorkStep } from './types.js';

/** `expected`: what is to be read once all is done. */
export function stepsFor(
  affected: Affected,
  before: Analysis,
  after: Analysis,
  expected: readonly ExpectedReading[],
): readonly WorkStep[] {
  const wiring = wiringSteps(affected, before, after);
  if (wiring.length === 0) return [];
  const isolated = suppliesTouched(affected, before, after);
  return [...isolating(affected, isolated, before), ...wiring, ...restoring(affected, expected)];
}

type Said = Pick<WorkStep, 'words' | 'place'> & { readonly does?: WorkDone; readonly caution?: boolean };

function step(phase: WorkPhase, { words, place, does, caution = false }: Said): WorkStep {
  return { phase, words, place, caution, ...(does === undefined ? {} : { does }) };
}

function wiringSteps(affected: Affected, before: Analysis, after: Analysis): readonly WorkStep[] {
  const { lifted, landed, liftedLeads, landedLeads, removedJumpers, fittedJumpers } = affected;
  const was = placesOf(affected.records.before.parts);
  const is = placesOf(affected.records.after.parts);
  const steps: WorkStep[] = [];
  const add = (phase: WorkPhase, said: Said): void => void steps.push(step(phase, said));

  const labelled = [
    ...new Set(lifted.map(({ run, colour, end }) => `${quote(colour)} of ${quote(run)} at ${quote(pointOf(end))}`)),
  ];
  if (labelled.length > 0) {
    add('label', { words: `Photograph each part before you open it, then label ${listOf(labelled)}.`, place: null });
  }
  for (const { run, colour, end } of lifted) {
    const from = pointOf(end);
    add('lift', {
      words: `Lift ${quote(colour)} of ${quote(run)} off ${quote(from)}.`,
      place: was(end),
      does: { kind: 'lift', run, colour, from },
    });
  }
  for (const { part, terminal, on } of liftedLeads) {
    const from = pointOf(on);
    add('lift', {
      words: `Lift the lead ${quote(`${part}.${terminal}`)} off ${quote(from)}.`,
      place: was(on),
      does: { kind: 'lift-lead', part, terminal, from },
    });
  }
  for (const { end, box } of affected.grounds.removed) {
    add('lift', { words: `Take the ground of ${quote(pointOf(end))} off ${quote(box)}.`, place: box });
  }
  for (const jumper of removedJumpers) {
    add('remove', {
      words: `Take out ${jumperWords(jumper)}.`,
      place: was(jumper.from),
      does: { kind: 'remove-jumper', jumper: jumper.name },
    });
  }
  for (const part of affected.removed) {
    const name = nameOf(part);
    const goes = affected.relocated.find(({ before: was }) => was === name);
    add('remove', {
      words: goes
        ? `${part.kind === 'splice' ? 'Undo' : 'Take down'} ${aboutPart(part)}: it goes to ${quote(goes.to)}.`
        : `Take out ${aboutPart(part)}.`,
      place: placeNameOf(part) ?? null,
      does: { kind: 'remove-part', part: name },
    });
  }
  for (const run of affected.removedRuns) {
    add('remove', {
      words: `Take out ${quote(run.name)} (${run.cableWords}), or leave it with both ends capped and labelled.`,
      place: null,
      does: { kind: 'remove-run', run: run.name },
    });
  }
  for (const one of affected.renamed) {
    const does = { kind: 'rename', before: one.before, after: one.after } as const;
    add('label', { words: `Label ${quote(one.before)} anew: it is called ${quote(one.after)}.`, place: null, does });
  }
  for (const part of affected.mounted) {
    const came = affected.relocated.find(({ after: now }) => now === nameOf(part));
    add('mount', {
      words: `${came && part.kind === 'splice' ? 'Make' : 'Mount'} ${aboutPart(part)}${came ? ` in its new place, ${quote(came.to)}` : ''}.`,
      place: placeNameOf(part) ?? null,
      does: { kind: 'mount', part: nameOf(part) },
    });
  }
  for (const run of affected.pulledRuns) {
    const way =
      run.fromPlace === undefined || run.toPlace === undefined ? '' : ` from ${run.fromPlace} to ${run.toPlace}`;
    const measure = affected.unmeasured.has(run.name)
      ? ' Measure it and put its length right in the record: what stands there is that of the way it went before.'
      : '';
    add('pull', {
      words: `Pull ${quote(run.name)}, ${run.cableWords},${way} and label both ends.${measure}`.replace(
        /,( and)/,
        '$1',
      ),
      place: null,
      does: { kind: 'pull', run: run.name },
    });
  }
  for (const { run, colour, end } of landed) {
    const on = pointOf(end);
    add('land', {
      words: `Land ${quote(colour)} of ${quote(run)} on ${quote(on)}${eitherScrew(after, end)}.`,
      place: is(end),
      does: { kind: 'land', run, colour, on },
    });
  }
  for (const { part, terminal, on: end } of landedLeads) {
    const on = pointOf(end);
    add('land', {
      words: `Land the lead ${quote(`${part}.${terminal}`)} on ${quote(on)}.`,
      place: is(end),
      does: { kind: 'land-lead', part, terminal, on },
    });
  }
  for (const { run, colour, from } of affected.capped) {
    add('land', {
      words: `Cap the end of ${quote(colour)} of ${quote(run)} that came off ${quote(pointOf(from))}, and label it.`,
      place: was(from),
      does: { kind: 'cap', run, colour },
    });
  }
  for (const { end, box } of affected.grounds.made) {
    add('land', { words: `Bond ${quote(pointOf(end))} to ${quote(box)}.`, place: box });
  }
  for (const jumper of fittedJumpers) {
    add('bypass', {
      words: `Fit ${jumperWords(jumper)}.`,
      place: is(jumper.from),
      does: { kind: 'fit-jumper', jumper: jumper.name },
    });
  }
  for (const { part, ring } of affected.set) {
    add('set', { words: `Set ${quote(part)} to ring ${ring} in its own settings.`, place: placeOf(affected, part) });
  }
  return steps.length === 0 || before === after ? [] : steps;
}

function placesOf(parts: ReadonlyMap<string, AnyPart>): (end: End) => string | null {
  return ({ part }) => {
    const found = parts.get(part);
    return (found && placeNameOf(found)) ?? null;
  };
}

function placeOf({ records }: Affected, name: string): string | null {
  return placesOf(records.after.parts)({ part: name });
}

function aboutPart(part: AnyPart): string {
  if (part.kind === 'splice') return `the splice ${quote(part.splice.name)}`;
  const { name, type, facts } = part.part;
  const [output] = facts.outputs;
  const label =
    output?.volts === undefined || output.voltAmperes === undefined
      ? ''
      : `, ${output.volts} V ${output.voltAmperes} VA`;
  return `${quote(name)}${type === undefined ? '' : ` (${type}${label})`}`;
}

function jumperWords(jumper: Jumper): string {
  const ends = `from ${quote(pointOf(jumper.from))} to ${quote(pointOf(jumper.to))}`;
  return `the ${jumper.kind}${jumper.named ? ` ${quote(jumper.name)}` : ''} ${ends}`;
}

/** Two screws without words on them, with one thing between them that works either way round, are the same screw. */
function eitherScrew(analysis: Analysis, { part, terminal }: End): string {
  const resolved = analysis.parts.get(part);
  const screws = resolved?.terminals.filter(({ lineSide, optional }) => lineSide === undefined && !optional) ?? [];
  const isUnmarked =
    screws.length === 2 &&
    screws.every(({ words }) => words === undefined) &&
    screws.some(({ name }) => name === terminal);
  const isDirected =
    resolved?.elements.some(({ system, element }) => system === 'DC' || element.kind === 'diode') ?? true;
  return isUnmarked && !isDirected ? ' (either screw, the other wire on the other one)' : '';
}

/** Supplies of every circuit that something is done on, by their names in the old record where they stand there. */
function suppliesTouched({ records, ...affected }: Affected, before: Analysis, after: Analysis): readonly string[] {
  const old = new Set<string>([
    ...affected.lifted.flatMap(({ run, end }) => [run, end.part]),
    ...affected.removed.map(nameOf),
    ...affected.removedRuns.map(({ name }) => name),
    ...affected.removedJumpers.flatMap(({ from, to }) => [from.part, to.part]),
    ...affected.liftedLeads.flatMap(({ part, on }) => [part, on.part]),
  ]);
  const now = new Set<string>([
    ...affected.landed.flatMap(({ run, end }) => [run, end.part]),
    ...affected.mounted.map(nameOf),
    ...affected.fittedJumpers.flatMap(({ from, to }) => [from.part, to.part]),
    ...affected.landedLeads.flatMap(({ part, on }) => [part, on.part]),
  ]);
  const supplies = new Set(suppliesOn(before, old));
  const carried = new Map([...records.match.parts].map(([was, is]) => [is, was]));
  for (const name of suppliesOn(after, now)) {
    const was = carried.get(name);
    if (was !== undefined) supplies.add(was);
  }
  return [...supplies].sort(compare);
}

/** Supplies that share a circuit with a name, or a wire with one that does. */
function suppliesOn(analysis: Analysis, names: ReadonlySet<string>): readonly string[] {
  return analysis.circuits.flatMap((circuit) => {
    const on = [
      ...circuit.supplies,
      ...circuit.devices,
      ...circuit.runs,
      ...circuit.circuit.points.map((point) => partNameOf(point)),
    ];
    return on.some((name) => names.has(name)) ? circuit.supplies : [];
  });
}

function isolating(affected: Affected, supplies: readonly string[], before: Analysis): readonly WorkStep[] {
  const jumpered = affected.fittedJumpers.flatMap(({ from, to }) => [from, to]);
  const opened = [
    ...affected.lifted.map(({ end }) => end),
    ...affected.liftedLeads.map(({ on }) => on),
    ...affected.removedJumpers.flatMap(({ from, to }) => [from, to]),
    ...jumpered.filter((end) => affected.records.before.parts.has(end.part)),
  ];
  const points = [...new Set(opened.map(pointOf))].sort(compare);
  const supplyAt = (name: string): string | null => before.parts.get(name)?.place?.name ?? null;
  const off = supplies.map((name) =>
    step('isolate', {
      words: `Find what feeds ${quote(name)}, switch it off, lock it and tag it. Bell transformers hide on the circuits of smoke alarms, furnaces and garages.`,
      place: supplyAt(name),
      caution: true,
    }),
  );
  const where = points.length === 0 ? 'where you will work' : `at ${quotedList(points)}`;
  return [
    ...off,
    step('isolate', {
      words: `Prove the tester on a source known to be live, test ${where} each conductor against all others and against earth, and prove the tester again. A silent chime or a pen that does not light proves nothing; mind a neutral shared with another circuit.`,
      place: null,
      caution: true,
    }),
    ...lineSide(affected),
  ];
}

/** A supply with a line side that is put in or taken out. */
function lineSide({ removed, mounted, records }: Affected): readonly WorkStep[] {
  const types = [records.before.installation, records.after.installation];
  const hasLineSide = (part: AnyPart): boolean =>
    part.kind === 'supply' &&
    types.some(
      ({ partTypes }) =>
        partTypes.get(part.part.type ?? '')?.terminals.some((terminal) => terminal.lineSide !== undefined) ?? false,
    );
  const names = [...new Set([...removed, ...mounted].filter(hasLineSide).map(nameOf))].sort(compare);
  return names.map((name) =>
    step('isolate', {
      words: `The line side of ${quote(name)} is opened. That is work at mains voltage: to local code, and for a licensed electrician where you are in doubt or the code asks for one.`,
      place: null,
      caution: true,
    }),
  );
}

function restoring({ landed, mounted }: Affected, expected: readonly ExpectedReading[]): readonly WorkStep[] {
  const isHeld = expected.some(({ closed }) => closed.length > 0);
  const touched = landed.length + mounted.length > 0;
  return [
    step('restore', {
      words: `${touched ? 'Pull at every conductor that was landed, then close' : 'Close'} all covers, and only then switch the supply on again.`,
      place: null,
      caution: true,
    }),
    ...(expected.length === 0
      ? []
      : [
          step('restore', {
            words: `Take the readings below${isHeld ? '; somebody has to hold the button while you read' : ''}. One that is out of its band: switch off and look before you go on.`,
            place: null,
          }),
        ]),
  ];
}
