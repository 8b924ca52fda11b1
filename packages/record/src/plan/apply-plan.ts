/** A rewire plan carried out on an installation's data. */

import type { Conductor, End, Installation, Jumper, Landing, Part, Run } from '../model.js';
import { at, type RecordPath } from '../place-in-record.js';
import { withoutBoxes } from './boxes.js';
import { clashesOf } from './clashes.js';
import { changeConductors } from './conductors.js';
import { findHanging } from './hanging.js';
import { hasTerminal, joins, namedIn } from './names.js';
import { missingFrom } from './nothing-there.js';
import { relocatedParts } from './relocated.js';
import type { AppliedPlan, Plan, PlanProblem, PlanStatement, ReplacePart, ReplaceRun } from './types.js';

/**
 * The installation that results. What a plan says and cannot be done is left out and told as a problem; the names it is about are then
 * among the broken ones, so that nothing is concluded from half a change. The order of statements does not matter.
 */
export function applyPlan(base: Installation, plan: Plan): AppliedPlan {
  const { statements } = plan;
  const named = namedIn(base);
  const problems: PlanProblem[] = [];
  const broken = new Set([...base.broken, ...plan.broken]);
  const clashes = clashesOf(statements);
  problems.push(...clashes.problems);
  const leftOut = new Set(clashes.leftOut);
  statements.forEach((statement, index) => {
    const problem = missingFrom(base, named, statement, index);
    if (problem === undefined) return;
    leftOut.add(index);
    // Of a name that could not be read it is not known whether it is there.
    if (!isInDoubt(statement, broken)) problems.push(problem);
  });
  for (const problem of problems) {
    if (!('statement' in problem.at)) continue;
    for (const index of [problem.at.statement, ...problem.related]) {
      for (const name of namesOf(statements[index]!)) broken.add(name);
    }
  }

  const carried = new Carried(statements, leftOut);
  const origins = new Map<RecordPath, number>();
  const partTypes = new Map([...base.partTypes, ...plan.partTypes]);
  const partsOf = (list: readonly Part[]) => list.flatMap((part) => replacedPart(part, carried, partTypes, origins));
  const supplies = [...partsOf(base.supplies), ...plan.adds.supplies];
  const devices = [...partsOf(base.devices), ...plan.adds.devices];
  const splices = [...base.splices.filter(({ name }) => !carried.removed.has(name)), ...plan.adds.splices];
  const runs = base.runs.flatMap((run) => changedRun(run, carried, origins));
  const jumpers = base.jumpers.filter((jumper) => !carried.takesOut(jumper));
  const changed: Installation = {
    ...base,
    ...(plan.title === undefined ? {} : { title: plan.title }),
    places: [...base.places, ...plan.adds.places],
    ...addedOnLineSide(base, plan),
    supplies,
    devices,
    splices,
    runs: [...runs, ...plan.adds.runs],
    jumpers: [...jumpers, ...renumbered(plan.adds.jumpers, base.jumpers)],
    accepts: [...stillMeant(base, carried), ...plan.adds.accepts],
    partTypes,
    broken,
  };
  const settled = findHanging(followed(changed, carried, partTypes), carried.withdrawn, {
    replaced: new Set(carried.replacedParts.keys()),
    addedRuns: new Set(plan.adds.runs.map(({ name }) => name)),
    addedJumpers: new Set(changed.jumpers.slice(jumpers.length).map(({ name }) => name)),
    origins,
    broken,
  });
  const relocated = relocatedParts(settled.installation, base, carried, origins);
  const unboxed = withoutBoxes(relocated, carried.removed);
  return {
    installation: unboxed.installation,
    problems: [...problems, ...settled.problems, ...unboxed.problems],
    origins,
    renamedRuns: carried.renamedRuns,
    replaced: new Set([...carried.replacedParts.values()].map(({ statement }) => newNameOf(statement))),
  };
}

/** Boxes and grounds: what a plan adds to those that are there. */
function addedOnLineSide(base: Installation, { adds }: Plan): Pick<Installation, 'boxes' | 'grounds'> {
  const boxes = [...(base.boxes ?? []), ...(adds.boxes ?? [])];
  const grounds = [...(base.grounds ?? []), ...(adds.grounds ?? [])];
  return { ...(boxes.length > 0 ? { boxes } : {}), ...(grounds.length > 0 ? { grounds } : {}) };
}

interface Carry<Statement> {
  readonly index: number;
  readonly statement: Statement;
}

/** The statements that are carried out, by what they are about. */
export class Carried {
  readonly replacedParts = new Map<string, Carry<ReplacePart>>();
  readonly replacedRuns = new Map<string, Carry<ReplaceRun>>();
  readonly renamedRuns = new Map<string, string>();
  /** Names that are taken out, or replaced under another name or by another type: the statement that does so. */
  readonly withdrawn = new Map<string, number>();
  readonly removed = new Map<string, number>();
  readonly relocated = new Map<string, { readonly index: number; readonly place: string }>();
  /** Those about the conductors of a run, by the run's name in the base. */
  readonly ofRun = new Map<string, Carry<Extract<PlanStatement, { run: string }>>[]>();
  readonly #jumpers: Extract<PlanStatement, { kind: 'remove-jumper' }>[] = [];

  constructor(statements: readonly PlanStatement[], leftOut: ReadonlySet<number>) {
    statements.forEach((statement, index) => {
      if (leftOut.has(index)) return;
      switch (statement.kind) {
        case 'replace-part':
          this.replacedParts.set(statement.name, { index, statement });
          this.withdrawn.set(statement.name, index);
          return;
        case 'replace-run':
          this.replacedRuns.set(statement.name, { index, statement });
          if (statement.newName !== undefined) this.renamedRuns.set(statement.newName, statement.name);
          return;
        case 'remove':
          this.removed.set(statement.name, index);
          this.withdrawn.set(statement.name, index);
          return;
        case 'relocate':
          this.relocated.set(statement.name, { index, place: statement.place });
          return;
        case 'remove-jumper':
          this.#jumpers.push(statement);
          return;
        default: {
          const known = this.ofRun.get(statement.run);
          if (known) known.push({ index, statement });
          else this.ofRun.set(statement.run, [{ index, statement }]);
        }
      }
    });
  }

  /** What a part or run of the base is called afterwards. */
  nameNow(name: string): string {
    const replaced = this.replacedParts.get(name) ?? this.replacedRuns.get(name);
    return replaced === undefined ? name : newNameOf(replaced.statement);
  }

  /** Whether the plan states a length or a loop of the run, told by its name afterwards. */
  measuresAnew(run: string): boolean {
    const replaced = this.replacedRuns.get(this.renamedRuns.get(run) ?? run)?.statement;
    return replaced?.length !== undefined || replaced?.loopOhms !== undefined;
  }

  takesOut(jumper: Jumper): boolean {
    if (jumper.named && this.removed.has(jumper.name)) return true;
    return this.#jumpers.some(({ from, to }) => joins(jumper, from, to));
  }
}

function newNameOf({ name, newName }: ReplacePart | ReplaceRun): string {
  return newName ?? name;
}

/** Names that a statement is about; a problem with it leaves them in doubt. */
function namesOf(statement: PlanStatement): readonly string[] {
  switch (statement.kind) {
    case 'replace-part':
    case 'replace-run':
      return [statement.name, newNameOf(statement)];
    case 'remove':
    case 'relocate':
      return [statement.name];
    case 'remove-jumper':
      return [statement.from.part, statement.to.part];
    case 'lift':
      return [statement.run, statement.from.part];
    default:
      return [statement.run, statement.from.part, statement.to.part];
  }
}

function isInDoubt(statement: PlanStatement, broken: ReadonlySet<string>): boolean {
  const subject = 'run' in statement ? statement.run : 'name' in statement ? statement.name : statement.from.part;
  return broken.has(subject);
}

function replacedPart(
  part: Part,
  carried: Carried,
  partTypes: Installation['partTypes'],
  origins: Map<RecordPath, number>,
): readonly Part[] {
  if (carried.removed.has(part.name)) return [];
  const replace = carried.replacedParts.get(part.name);
  if (replace === undefined) return [part];
  const { statement, index } = replace;
  const name = newNameOf(statement);
  const type = statement.type ?? part.type;
  const partType = type === undefined ? undefined : partTypes.get(type);
  const stated = new Set(statement.lands.map(({ terminal }) => terminal));
  const own = part.lands.filter(({ terminal }) => !stated.has(terminal) && hasTerminal(partType, terminal));
  origins.set(at.part(name), index);
  return [
    {
      name,
      kind: part.kind,
      ...(type === undefined ? {} : { type }),
      ...(part.place === undefined ? {} : { place: part.place }),
      facts: statement.facts,
      lands: [...statement.lands, ...own],
    },
  ];
}

function changedRun(run: Run, carried: Carried, origins: Map<RecordPath, number>): readonly Run[] {
  if (carried.removed.has(run.name)) return [];
  const replace = carried.replacedRuns.get(run.name);
  const name = replace === undefined ? run.name : newNameOf(replace.statement);
  const changes = carried.ofRun.get(run.name) ?? [];
  const conductors = changeConductors(run, name, changes, replace, origins);
  if (replace === undefined) return [conductors === run.conductors ? run : { ...run, conductors }];
  const { statement, index } = replace;
  origins.set(at.run(name), index);
  if (statement.cable !== undefined) origins.set(at.cable(name), index);
  const { length, loopOhms: _measuredOnTheOld, ...kept } = run;
  const stated = statement.length ?? statement.loopOhms;
  if (stated !== undefined) origins.set(at.length(name), index);
  return [
    {
      ...kept,
      name,
      ...(statement.cable === undefined ? {} : { cable: statement.cable }),
      ...(statement.cableWords === undefined ? {} : { cableWords: statement.cableWords }),
      ...(stated === undefined && length !== undefined ? { length } : {}),
      ...(statement.length === undefined ? {} : { length: statement.length }),
      ...(statement.loopOhms === undefined ? {} : { loopOhms: statement.loopOhms }),
      conductors,
      notes: statement.notes,
    },
  ];
}

/** Jumpers without a name are numbered; those of the plan go on where the base's numbers end. */
function renumbered(added: readonly Jumper[], base: readonly Jumper[]): readonly Jumper[] {
  const taken = new Set(base.map(({ name }) => name));
  let count = 0;
  return added.map((jumper) => {
    if (jumper.named || !taken.has(jumper.name)) return jumper;
    let name: string;
    do name = `jumper-${++count}`;
    while (taken.has(name) || added.some((other) => other.name === name));
    taken.add(name);
    return { ...jumper, name };
  });
}

/** What is accepted of a part ends with the part. */
function stillMeant(base: Installation, carried: Carried): Installation['accepts'] {
  return base.accepts.filter(({ on }) => {
    if (on === undefined) return true;
    const replaced = carried.replacedParts.get(on) ?? carried.replacedRuns.get(on);
    const renamed = replaced !== undefined && newNameOf(replaced.statement) !== on;
    return !carried.removed.has(on) && !renamed;
  });
}

/** Ends on terminals that a replacement has too follow it to its name. */
function followed(installation: Installation, carried: Carried, partTypes: Installation['partTypes']): Installation {
  const types = new Map([...installation.supplies, ...installation.devices].map((part) => [part.name, part.type]));
  const follow = (end: End): End => {
    const statement = carried.replacedParts.get(end.part)?.statement;
    if (statement?.newName === undefined) return end;
    const type = types.get(statement.newName);
    const fits = hasTerminal(type === undefined ? undefined : partTypes.get(type), end.terminal);
    return fits ? { ...end, part: statement.newName } : end;
  };
  if (carried.replacedParts.size === 0) return installation;
  const landing = (one: Landing | undefined): Landing | undefined =>
    one?.kind === 'on' ? { ...one, end: follow(one.end) } : one;
  const conductor = (one: Conductor): Conductor => ({
    ...one,
    ...(one.from === undefined ? {} : { from: landing(one.from)! }),
    ...(one.to === undefined ? {} : { to: landing(one.to)! }),
  });
  const lands = (part: Part): Part => ({ ...part, lands: part.lands.map((one) => ({ ...one, on: follow(one.on) })) });
  return {
    ...installation,
    supplies: installation.supplies.map(lands),
    devices: installation.devices.map(lands),
    runs: installation.runs.map((run) => ({ ...run, conductors: run.conductors.map(conductor) })),
    jumpers: installation.jumpers.map((one) => ({ ...one, from: follow(one.from), to: follow(one.to) })),
    ...(installation.grounds === undefined
      ? {}
      : { grounds: installation.grounds.map((one) => ({ ...one, end: follow(one.end) })) }),
  };
}
