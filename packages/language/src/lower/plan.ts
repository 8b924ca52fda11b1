/** A rewire plan on top of the record that it changes: the circuit that results, with the plan's own lines where they are behind it. */

import {
  type AppliedPlan,
  applyPlan,
  at,
  type CableType,
  type Installation,
  type PlanProblem,
  pathAbove,
  type RecordPath,
} from '@ohmstead/record';
import type { Changes } from '../generated/ast.js';
import type { WiringDocument } from '../reading/document.js';
import type { LoweringContext } from './context.js';
import type { Standing } from './declare.js';
import type { TypeLookup } from './ends.js';
import { importedUri } from './imports.js';
import { inOrder, type Lowered } from './lower.js';
import { isPlanStatement, lowerPlanStatement, type ReadPlanStatement } from './plan-statements.js';
import type { Site } from './sites.js';
import { SourceMap } from './source-map.js';

export interface PlanTypes extends TypeLookup {
  readonly cableTypes: ReadonlyMap<string, CableType>;
}

/** Where a plan's own lines are behind what is found in the circuit that results. */
export interface PlanPlaces {
  /** The line that names the record. */
  readonly changes: Site;
  /** The file that the plan is read on top of, and what it says. */
  readonly baseUri: string;
  readonly base: Lowered;
  /** The first of the plan's lines that has to do with a name. */
  touching(name: string): Site | undefined;
}

interface PlanText {
  readonly context: LoweringContext;
  readonly document: WiringDocument;
  readonly standing: readonly Standing[];
  /** As after the plan. */
  readonly types: PlanTypes;
}

/** `added` is what the plan's ordinary statements say. */
export function planOver(base: Lowered, added: Lowered, changes: Changes, plan: PlanText): Lowered {
  const { context, document, standing, types } = plan;
  const before: PlanTypes = { ...types, typeOfPart: typesOfParts(base.installation) };
  const read: ReadPlanStatement[] = [];
  for (const one of standing) {
    if (one.document !== document || !isPlanStatement(one.statement)) continue;
    context.enter(document, one.slice);
    const lowered = lowerPlanStatement(context, one, before, types);
    if (lowered) read.push(lowered);
  }
  const applied = applyPlan(base.installation, {
    ...(added.installation.title === undefined ? {} : { title: added.installation.title }),
    statements: read.map(({ statement }) => statement),
    adds: added.installation,
    partTypes: added.installation.partTypes,
    broken: context.broken,
  });
  for (const problem of applied.problems) report(plan, read, problem);
  const { readings: _before, ...wired } = applied.installation;
  const { readings } = added.installation;
  // What was read before the work says nothing of the circuit after it.
  const installation: Installation = {
    ...wired,
    ...(readings ? { readings } : {}),
    profile: base.installation.profile,
  };
  const site: Site = { document, node: changes };
  return {
    ...added,
    installation,
    sourceMap: mapOver(base, added, applied, read),
    findings: inOrder(context.findings),
    importsAreMissing: context.importsAreMissing,
    plan: {
      changes: site,
      baseUri: importedUri(document.uri, changes.path)!,
      base,
      touching: touches(added, document, read),
    },
  };
}

function typesOfParts({ supplies, devices }: Installation): ReadonlyMap<string, string> {
  return new Map([...supplies, ...devices].flatMap(({ name, type }) => (type === undefined ? [] : [[name, type]])));
}

function report({ context, document }: PlanText, read: readonly ReadPlanStatement[], problem: PlanProblem): void {
  if (context.importsAreMissing && problem.code === 'plan-nothing-there') return;
  const { at: where, code, facts } = problem;
  const statement = 'statement' in where ? read[where.statement] : undefined;
  const site = statement ? statement.told : 'path' in where ? context.sourceMap.site(where.path) : undefined;
  if (!site) return;
  context.enter(document, statement?.slice);
  const related = problem.related.flatMap((index) => {
    const other = read[index];
    return other ? [{ site: other.told, message: 'This line is the other one.' }] : [];
  });
  // Which names are left in doubt is settled already, and the statement itself can be read.
  const options = { related, stands: true };
  if (code === 'plan-nothing-there') {
    const { nearest } = problem.facts;
    context.report(code, problem.facts, site, { ...options, instead: statement?.subject ? nearest : [] });
  } else context.report(code, facts as never, site, options);
}

/** The plan's own lines first, then those that replaced or moved something, then what is as in the base. */
function mapOver(
  base: Lowered,
  added: Lowered,
  { installation, origins, renamedRuns, replaced }: AppliedPlan,
  read: readonly ReadPlanStatement[],
): SourceMap {
  const map = new SourceMap();
  for (const path of added.sourceMap.paths()) map.put(path, added.sourceMap.exact(path)!);
  for (const [path, index] of origins) {
    const site = read[index]?.siteOf(path, colourAt(installation, path));
    if (site) map.put(path, site);
  }
  const newNames = new Map([...renamedRuns].map(([now, before]) => [before, now]));
  const accepts = new Map(installation.accepts.map((accept, index) => [accept, index]));
  for (const path of base.sourceMap.paths()) {
    const site = base.sourceMap.exact(path)!;
    const [kind, name = '', ...rest] = path.split('/');
    if (kind === 'readings' || (kind === 'part' && replaced.has(name))) continue;
    if (kind === 'accept') {
      const index = accepts.get(base.installation.accepts[Number(name)]!);
      if (index !== undefined) map.put(at.accept(index), site);
    } else if (kind === 'run' && newNames.has(name)) map.put(['run', newNames.get(name)!, ...rest].join('/'), site);
    else map.put(path, site);
  }
  return map;
}

/** The colour of the conductor that a path is about. */
function colourAt({ runs }: Installation, path: RecordPath): string | undefined {
  const [kind, name, what, index] = path.split('/');
  if (kind !== 'run' || what !== 'conductor') return undefined;
  return runs.find((run) => run.name === name)?.conductors[Number(index)]?.colour;
}

function touches(added: Lowered, document: WiringDocument, read: readonly ReadPlanStatement[]): PlanPlaces['touching'] {
  const sites = new Map<string, Site>();
  const put = (name: string, site: Site | undefined): void => {
    if (site && !sites.has(name)) sites.set(name, site);
  };
  const own = (path: RecordPath): Site | undefined => {
    const site = added.sourceMap.exact(path);
    return site?.document === document ? site : undefined;
  };
  const { supplies, devices, splices, runs, jumpers } = added.installation;
  for (const { subjects, told } of read) for (const name of subjects) put(name, told);
  for (const { name } of [...supplies, ...devices, ...splices]) put(name, own(at.part(name)));
  for (const { name } of runs) put(name, own(at.run(name)));
  for (const { name } of jumpers) put(name, own(at.jumper(name)));
  // Then what their ends are on.
  for (const { ends, told } of read) for (const name of ends) put(name, told);
  for (const { name, from, to } of jumpers) for (const end of [from, to]) put(end.part, own(at.jumper(name)));
  for (const { name, conductors } of runs) {
    for (const { from, to } of conductors) {
      for (const one of [from, to]) if (one?.kind === 'on') put(one.end.part, own(at.run(name)));
    }
  }
  return (name) => sites.get(name);
}

/** The name that a path is about: `bell-tx` for `part/bell-tx/output`. */
export function nameIn(path: RecordPath): string | undefined {
  return pathAbove(path) === undefined ? undefined : path.split('/')[1];
}
