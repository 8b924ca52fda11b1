/** What comes off the wall, what goes on it, and which ends have to be handled for it. */

import { pointOf } from '../analysis-types.js';
import { type AnyPart, compareInstallations, type ComparedRecords, nameOf } from '../compare/context.js';
import { partDifferences, runDifferences } from '../compare/parts.js';
import type { Change } from '../compare/types.js';
import { type HandledGrounds, handledGrounds } from '../compare/grounds.js';
import { conductorCouples, endPairs, isSameEnd, jumperCouples } from '../compare/wiring.js';
import type { End, Installation, Jumper, Landing, Part, Run } from '../model.js';

interface HandledEnd {
  /** Names of the old record for what is lifted, of the new one for what is landed. */
  readonly run: string;
  readonly colour: string;
  readonly end: End;
}

interface HandledLead {
  readonly part: string;
  readonly terminal: string;
  readonly on: End;
}

interface Relocated {
  /** Its name in the old record and in the new one. */
  readonly before: string;
  readonly after: string;
  /** The place it goes to. */
  readonly to: string;
}

/** Everything that has to be touched; nothing else is. */
export interface Affected {
  readonly records: ComparedRecords;
  readonly removed: readonly AnyPart[];
  readonly mounted: readonly AnyPart[];
  readonly removedRuns: readonly Run[];
  readonly pulledRuns: readonly Run[];
  readonly renamed: readonly { readonly before: string; readonly after: string }[];
  /** The same parts in another place. */
  readonly relocated: readonly Relocated[];
  /** Pulled runs whose length on record is that of another way. */
  readonly unmeasured: ReadonlySet<string>;
  readonly lifted: readonly HandledEnd[];
  readonly landed: readonly HandledEnd[];
  /** Ends that stay off. */
  readonly capped: readonly { readonly run: string; readonly colour: string; readonly from: End }[];
  readonly liftedLeads: readonly HandledLead[];
  readonly landedLeads: readonly HandledLead[];
  readonly removedJumpers: readonly Jumper[];
  readonly fittedJumpers: readonly Jumper[];
  readonly grounds: HandledGrounds;
  /** Settings and the like: facts that are made true at the part itself. */
  readonly set: readonly { readonly part: string; readonly ring: string }[];
}

/** Another one in its place, or the same in another place: it has to come off. */
const COMES_OFF: ReadonlySet<Change> = new Set(['added', 'removed', 'replaced', 'moved']);

export function affectedBy(before: Installation, after: Installation): Affected {
  const records = compareInstallations(before, after);
  const offParts = new Set<string>();
  const onParts = new Set<string>();
  const renamed: { before: string; after: string }[] = [];
  const relocated: Relocated[] = [];
  for (const { name, changes, place } of partDifferences(records)) {
    const [from, to] = [place.before, place.after];
    if (changes.includes('moved') && !changes.includes('replaced') && from !== null && to !== null)
      relocated.push({ before: name.before!, after: name.after!, to });
    if (changes.some((change) => COMES_OFF.has(change))) {
      if (name.before !== null) offParts.add(name.before);
      if (name.after !== null) onParts.add(name.after);
    } else if (changes.includes('renamed')) renamed.push({ before: name.before!, after: name.after! });
  }
  const offRuns = new Set<string>();
  const onRuns = new Set<string>();
  for (const { name, changes } of runDifferences(records)) {
    if (changes.some((change) => COMES_OFF.has(change))) {
      if (name.before !== null) offRuns.add(name.before);
      if (name.after !== null) onRuns.add(name.after);
    } else if (changes.includes('renamed')) renamed.push({ before: name.before!, after: name.after! });
  }
  const { renamedJumpers, ...jumpers } = handledJumpers(records, offParts, onParts);
  return {
    records,
    removed: [...offParts].map((name) => records.before.parts.get(name)!),
    mounted: [...onParts].map((name) => records.after.parts.get(name)!),
    removedRuns: [...offRuns].map((name) => records.before.runs.get(name)!),
    pulledRuns: [...onRuns].map((name) => records.after.runs.get(name)!),
    renamed: [...renamed, ...renamedJumpers],
    relocated,
    unmeasured: new Set(
      records.runs.flatMap(({ before, after }) => (isUnmeasured(before, after) ? [after!.name] : [])),
    ),
    ...handledEnds(records, { offParts, onParts, offRuns, onRuns }),
    ...handledLeads(records, offParts, onParts),
    ...jumpers,
    grounds: handledGrounds(records),
    set: settings(records, onParts),
  };
}

/** Of a run that goes another way than before, and is said to be as long as it was. */
function isUnmeasured(before: Run | undefined, after: Run | undefined): boolean {
  if (before === undefined || after === undefined) return false;
  const [was, is] = [before.loopOhms ?? before.length, after.loopOhms ?? after.length];
  if (is === undefined) return false;
  return is.about === true || (is.value === was?.value && was.about !== true);
}

interface Handled {
  readonly offParts: ReadonlySet<string>;
  readonly onParts: ReadonlySet<string>;
  readonly offRuns: ReadonlySet<string>;
  readonly onRuns: ReadonlySet<string>;
}

function handledEnds(
  records: ComparedRecords,
  { offParts, onParts, offRuns, onRuns }: Handled,
): Pick<Affected, 'lifted' | 'landed' | 'capped'> {
  const lifted: HandledEnd[] = [];
  const landed: HandledEnd[] = [];
  const capped: Affected['capped'][number][] = [];
  for (const couple of records.runs) {
    const [was, is] = [couple.before?.name, couple.after?.name];
    const isOther = (was !== undefined && offRuns.has(was)) || (is !== undefined && onRuns.has(is));
    for (const conductors of conductorCouples(couple)) {
      for (const ends of endPairs(records, conductors.before, conductors.after)) {
        const [from, to] = [endOf(ends.before), endOf(ends.after)];
        const isKept = !isOther && isSameEnd(records, ends);
        const isTouched = !isKept || (from && offParts.has(from.part)) || (to && onParts.has(to.part));
        if (!isTouched) continue;
        if (from) lifted.push({ run: was!, colour: conductors.before!.colour, end: from });
        if (to) landed.push({ run: is!, colour: conductors.after!.colour, end: to });
        const staysOff = from && !to && !isOther && is !== undefined && ends.after?.kind !== 'unknown';
        if (staysOff) capped.push({ run: is, colour: conductors.colour, from });
      }
    }
  }
  return { lifted, landed, capped };
}

function endOf(landing: Landing | undefined): End | undefined {
  return landing?.kind === 'on' ? landing.end : undefined;
}

function handledLeads(
  records: ComparedRecords,
  offParts: ReadonlySet<string>,
  onParts: ReadonlySet<string>,
): Pick<Affected, 'liftedLeads' | 'landedLeads'> {
  const liftedLeads: HandledLead[] = [];
  const landedLeads: HandledLead[] = [];
  const leadsOf = (part: AnyPart | undefined): Part['lands'] => (part && part.kind !== 'splice' ? part.part.lands : []);
  for (const { before, after } of records.parts) {
    const [was, is] = [leadsOf(before), leadsOf(after)];
    const isKept = (lead: Part['lands'][number], others: Part['lands'], carried: boolean): boolean =>
      others.some(
        (other) =>
          other.terminal === lead.terminal &&
          (carried ? records.carried(lead.on) === pointOf(other.on) : records.carried(other.on) === pointOf(lead.on)),
      );
    for (const lead of was) {
      const off = offParts.has(nameOf(before!)) || offParts.has(lead.on.part);
      if (off || !isKept(lead, is, true)) liftedLeads.push({ part: nameOf(before!), ...lead });
    }
    for (const lead of is) {
      const on = onParts.has(nameOf(after!)) || onParts.has(lead.on.part);
      if (on || !isKept(lead, was, false)) landedLeads.push({ part: nameOf(after!), ...lead });
    }
  }
  return { liftedLeads, landedLeads };
}

function handledJumpers(
  records: ComparedRecords,
  offParts: ReadonlySet<string>,
  onParts: ReadonlySet<string>,
): Pick<Affected, 'removedJumpers' | 'fittedJumpers'> & { readonly renamedJumpers: Affected['renamed'] } {
  const removedJumpers: Jumper[] = [];
  const fittedJumpers: Jumper[] = [];
  const renamedJumpers: Affected['renamed'][number][] = [];
  for (const { before, after } of jumperCouples(records).jumpers) {
    const off = before && [before.from, before.to].some((end) => offParts.has(end.part));
    const on = after && [after.from, after.to].some((end) => onParts.has(end.part));
    if (before && after && !off && !on) {
      const isRenamed = before.named && after.named && before.name !== after.name;
      if (isRenamed) renamedJumpers.push({ before: before.name, after: after.name });
      continue;
    }
    if (before) removedJumpers.push(before);
    if (after) fittedJumpers.push(after);
  }
  return { removedJumpers, fittedJumpers, renamedJumpers };
}

/** How a doorbell is set to ring the wired chime is set at the doorbell, not at a screw. */
function settings(records: ComparedRecords, onParts: ReadonlySet<string>): Affected['set'] {
  return records.parts.flatMap(({ before, after }) => {
    if (!after || after.kind === 'splice') return [];
    const { name, facts } = after.part;
    const was = before && before.kind !== 'splice' ? before.part.facts.ring : undefined;
    const isNew = onParts.has(name) || was !== facts.ring;
    return facts.ring !== undefined && isNew ? [{ part: name, ring: facts.ring }] : [];
  });
}
