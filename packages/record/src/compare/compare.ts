/** Two records compared: the wiring, and what that does. */

import type { Analysis } from '../analysis-types.js';
import type { Acceptance, Installation } from '../model.js';
import { compare } from '../resolve/parts.js';
import { compareInstallations, type ComparedRecords } from './context.js';
import { figureDifferences } from './figures.js';
import { groundDifferences } from './grounds.js';
import { findingDifferences, splitFindings, type Told } from './findings.js';
import { partDifferences, placeDifferences, runDifferences } from './parts.js';
import type { AcceptDifference, ComparedFinding, Comparison, Pair } from './types.js';
import { conductorDifferences, jumperCouples, jumperDifferences, leadDifferences } from './wiring.js';

export interface ComparedSide {
  readonly analysis: Analysis;
  readonly findings: readonly ComparedFinding[];
}

/** `compareRecords(b, a)` says the same the other way round. */
export function compareRecords(before: ComparedSide, after: ComparedSide): Comparison {
  const records = compareInstallations(before.analysis.installation, after.analysis.installation);
  const wiring = wiringDifferences(records);
  const { installation: old } = records.before;
  const { installation: now } = records.after;
  const profile = { before: old.profile, after: now.profile };
  const isOtherProfile = profile.before !== profile.after;
  // A place's temperature is that of the wire in it.
  const isWarm = wiring.places.some(({ facts }) => facts.some(({ fact }) => fact === 'temperature'));
  const touched = (all: boolean) => ({
    before: touchedNames(before.analysis, wiring, 'before', all),
    after: touchedNames(after.analysis, wiring, 'after', all),
  });
  return {
    version: 1,
    title: { before: old.title ?? null, after: now.title ?? null },
    profile,
    same: !isOtherProfile && Object.values(wiring).every((list) => list.length === 0),
    ...wiring,
    figures: figureDifferences(records, before.analysis, after.analysis, touched(isOtherProfile || isWarm)),
    findings: findingDifferences(before.findings, after.findings, namesNow(records), touched(isOtherProfile)),
  };
}

/** What a name of the old record is called in the new one. */
function namesNow(records: ComparedRecords): (name: string) => string {
  const { names } = jumperCouples(records);
  const { parts, runs } = records.match;
  return (name) => names.get(name) ?? parts.get(name) ?? runs.get(name) ?? name;
}

/** Of the findings of a record those that an earlier one had not, whatever they looked like there. */
export function newFindings<Finding extends Told>(
  before: { readonly installation: Installation; readonly findings: readonly Told[] },
  after: { readonly installation: Installation; readonly findings: readonly Finding[] },
): readonly Finding[] {
  const records = compareInstallations(before.installation, after.installation);
  const brought = new Set(splitFindings(before.findings, after.findings, namesNow(records)).new);
  return after.findings.filter((finding) => brought.has(finding));
}

/** Whether two records say the same of one installation, in whatever order. */
export function sameInstallation(one: Installation, other: Installation): boolean {
  const lists = Object.values(wiringDifferences(compareInstallations(one, other)));
  return one.profile === other.profile && lists.every((list) => list.length === 0);
}

function wiringDifferences(records: ComparedRecords) {
  return {
    parts: partDifferences(records),
    runs: runDifferences(records),
    conductors: conductorDifferences(records),
    jumpers: [...jumperDifferences(records), ...groundDifferences(records)],
    leads: leadDifferences(records),
    places: placeDifferences(records),
    accepts: acceptDifferences(records),
  };
}

type Wiring = Pick<Comparison, 'parts' | 'runs' | 'conductors' | 'jumpers' | 'leads'>;

/** Everything on a circuit that something changed on. */
function touchedNames(
  analysis: Analysis,
  { parts, runs, conductors, jumpers, leads }: Wiring,
  side: keyof Pair<unknown>,
  all: boolean,
): ReadonlySet<string> {
  const changed = new Set<string>();
  const put = (name: string | null | undefined): void => {
    if (name !== null && name !== undefined) changed.add(name.split('.')[0]!);
  };
  for (const { name } of [...parts, ...runs]) put(name[side]);
  for (const one of conductors) for (const name of [one.run[side], one[side]]) put(name);
  for (const one of leads) for (const name of [one.part[side], one[side]]) put(name);
  for (const one of jumpers) for (const name of [one[side]?.from, one[side]?.to]) put(name);
  const touched = new Set<string>();
  for (const circuit of analysis.circuits) {
    const on = [...circuit.supplies, ...circuit.devices, ...circuit.runs];
    const points = [...on, ...circuit.circuit.points.map((point) => point.split('.')[0]!)];
    if (all || points.some((name) => changed.has(name))) for (const name of on) touched.add(name);
  }
  return touched;
}

function acceptDifferences(records: ComparedRecords): readonly AcceptDifference[] {
  const carried = ({ code, on, because }: Acceptance): string =>
    JSON.stringify([
      code,
      on === undefined ? null : (records.match.parts.get(on) ?? records.match.runs.get(on) ?? on),
      because,
    ]);
  const as = ({ code, on, because }: Acceptance, change: AcceptDifference['change']): AcceptDifference => ({
    code,
    on: on ?? null,
    because,
    change,
  });
  const left = new Map(
    records.after.installation.accepts.map((one) => [JSON.stringify([one.code, one.on ?? null, one.because]), one]),
  );
  const removed = records.before.installation.accepts.flatMap((one) =>
    left.delete(carried(one)) ? [] : [as(one, 'removed')],
  );
  const added = [...left.values()].map((one) => as(one, 'added'));
  return [...removed, ...added].sort((one, other) =>
    compare(`${one.code} ${one.because}`, `${other.code} ${other.because}`),
  );
}
