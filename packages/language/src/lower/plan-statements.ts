/** The statements that only a rewire plan has: replace, remove, relocate, move, land and lift. */

import { at, type End, type PlanStatement, type RecordPath } from '@ohmstead/record';
import type {
  Device,
  End as EndNode,
  Land,
  Lift,
  Move,
  Relocate,
  Remove,
  Replace,
  Run as RunNode,
  Statement,
  Supply,
} from '../generated/ast.js';
import type { ReadSlice } from '../reading/parser.js';
import type { LoweringContext } from './context.js';
import type { Standing } from './declare.js';
import { sameColour } from './cables.js';
import { lowerEnd, lowerPlace, type TypeLookup } from './ends.js';
import { lowerPartFacts } from './part-facts.js';
import { contactsOf, findPartType, lowerLands } from './parts.js';
import type { PlanTypes } from './plan.js';
import { lowerRun } from './runs.js';
import type { Site } from './sites.js';

type PlanNode = Replace | Remove | Relocate | Move | Land | Lift;

export interface ReadPlanStatement {
  readonly statement: PlanStatement;
  readonly slice: ReadSlice;
  /** Where something is said of it. */
  readonly told: Site;
  /** Whether that place is the name of what it changes. */
  readonly subject: boolean;
  /** Names it is about, and those that its ends are on. */
  readonly subjects: readonly string[];
  readonly ends: readonly string[];
  /** The place that says what a path of the result holds; `colour` of a path to a conductor. */
  siteOf(path: RecordPath, colour?: string): Site;
}

const PLAN_NODES: ReadonlySet<string> = new Set(['Replace', 'Remove', 'Relocate', 'Move', 'Land', 'Lift']);

export function isPlanStatement(statement: Statement): statement is PlanNode {
  return PLAN_NODES.has(statement.$type);
}

/** Undefined for one that was not read to its end, or that lands something on what there is not. */
export function lowerPlanStatement(
  context: LoweringContext,
  { slice, statement: node }: Standing,
  before: PlanTypes,
  after: PlanTypes,
): ReadPlanStatement | undefined {
  if (slice.problem) return undefined;
  const site = (property: string): Site => context.site(node, property);
  switch (node.$type) {
    case 'Replace':
      return node.kind.toLowerCase() === 'run'
        ? replacedRun(context, slice, node, after)
        : replacedPart(context, slice, node, before, after);
    case 'Remove': {
      if (node.jumper) {
        const from = node.from && noteEnd(context, node.from, before);
        const to = node.to && noteEnd(context, node.to, before);
        if (!from || !to) return undefined;
        const statement = { kind: 'remove-jumper', from, to } as const;
        const told = context.site(node);
        const ends = [from.part, to.part];
        return { statement, slice, told, subject: false, subjects: [], ends, siteOf: () => told };
      }
      if (node.name === undefined) return undefined;
      noteName(context, node, 'name', node.name);
      const told = site('name');
      const statement = { kind: 'remove', name: node.name } as const;
      return { statement, slice, told, subject: true, subjects: [node.name], ends: [], siteOf: () => told };
    }
    case 'Relocate': {
      noteName(context, node, 'name', node.name);
      const place = lowerPlace(context, node, 'place');
      if (place === undefined) return undefined;
      const statement = { kind: 'relocate', name: node.name, place } as const;
      const told = site('name');
      return { statement, slice, told, subject: true, subjects: [node.name], ends: [], siteOf: () => site('place') };
    }
    case 'Move':
    case 'Land':
    case 'Lift':
      return conductorChange(context, slice, node, before, after);
    default:
      return undefined;
  }
}

function conductorChange(
  context: LoweringContext,
  slice: ReadSlice,
  node: Move | Land | Lift,
  before: TypeLookup,
  after: TypeLookup,
): ReadPlanStatement | undefined {
  const { run, colour } = node;
  noteName(context, node, 'run', run);
  const from = node.$type === 'Land' ? lowerEnd(context, node.from, after) : noteEnd(context, node.from, before);
  const to = node.$type === 'Lift' ? undefined : lowerEnd(context, node.to, after);
  if (!from || (node.$type !== 'Lift' && !to)) return undefined;
  const statement: PlanStatement =
    node.$type === 'Move'
      ? { kind: 'move', run, colour, from, to: to! }
      : node.$type === 'Land'
        ? { kind: 'land', run, colour, from, to: to! }
        : { kind: 'lift', run, colour, from };
  const colourSite = context.site(node, 'colour');
  const endSites = { from: context.site(node, 'from'), to: context.site(node, 'to') };
  return {
    statement,
    slice,
    told: colourSite,
    subject: false,
    subjects: [run],
    ends: [from.part, ...(to ? [to.part] : [])],
    siteOf(path) {
      if (node.$type === 'Land')
        return path.endsWith('/from') ? endSites.from : endsTo(path) ? endSites.to : colourSite;
      return node.$type === 'Move' ? endSites.to : endSites.from;
    },
  };
}

function endsTo(path: RecordPath): boolean {
  return path.endsWith('/to');
}

function replacedPart(
  context: LoweringContext,
  slice: ReadSlice,
  node: Replace,
  before: TypeLookup,
  after: PlanTypes,
): ReadPlanStatement | undefined {
  const of = node.kind.toLowerCase() === 'supply' ? 'supply' : 'device';
  const { name, newName } = node;
  const now = newName ?? name;
  noteName(context, node, 'name', name);
  const nameSite = context.site(node, newName === undefined ? 'name' : 'newName');
  context.sourceMap.put(at.part(now), nameSite);
  const asPart = { ...node, $type: of === 'supply' ? 'Supply' : 'Device', name: now } as unknown as Supply | Device;
  if (node.type !== undefined) context.put(at.fact(now, 'type'), node, 'type');
  const oldType = before.typeOfPart.get(name);
  const type =
    node.type !== undefined
      ? findPartType(context, asPart, after.partTypes)
      : oldType === undefined
        ? undefined
        : after.partTypes.get(oldType);
  const contacts = type && contactsOf(type);
  const owner = {
    kind: of,
    words: now,
    part: now,
    ...(contacts ? { contacts } : {}),
    ...(type ? { type } : {}),
  } as const;
  const facts = lowerPartFacts(context, owner, node.facts);
  const lands = lowerLands(context, asPart, type, after);
  const statement: PlanStatement = {
    kind: 'replace-part',
    of,
    name,
    ...(newName === undefined ? {} : { newName }),
    ...(node.type === undefined ? {} : { type: node.type }),
    facts,
    lands,
  };
  const told = context.site(node, 'name');
  const ends = lands.map(({ on }) => on.part);
  return { statement, slice, told, subject: true, subjects: [now, name], ends, siteOf: () => nameSite };
}

function replacedRun(
  context: LoweringContext,
  slice: ReadSlice,
  node: Replace,
  after: PlanTypes,
): ReadPlanStatement | undefined {
  const { name, newName } = node;
  noteName(context, node, 'name', name);
  const now = newName ?? name;
  const nameSite = context.site(node, newName === undefined ? 'name' : 'newName');
  const extents = node.length ? [{ $type: 'RunLength', figure: node.length, $container: node }] : [];
  // Its conductors are counted anew in the result: under a name that no run can have, their places stay apart.
  const asRun = { ...node, $type: 'Run', name: `${now} `, extents, facts: node.runFacts } as unknown as RunNode;
  const conductors = node.runFacts.flatMap((fact) => (fact.$type === 'Conductor' ? [fact] : []));
  const run = lowerRun(context, asRun, after);
  const statement: PlanStatement = {
    kind: 'replace-run',
    name,
    ...(newName === undefined ? {} : { newName }),
    ...(run.cable ? { cable: run.cable } : {}),
    ...(node.cable ? { cableWords: run.cableWords } : {}),
    ...(run.length ? { length: run.length } : {}),
    ...(run.loopOhms ? { loopOhms: run.loopOhms } : {}),
    conductors: run.conductors,
    notes: run.notes,
  };
  const told = context.site(node, 'name');
  return {
    statement,
    slice,
    told,
    subject: true,
    subjects: [now, name],
    ends: run.conductors.flatMap(({ from, to }) =>
      [from, to].flatMap((one) => (one?.kind === 'on' ? [one.end.part] : [])),
    ),
    siteOf(path, colour) {
      const stated = conductors.find((fact) => colour !== undefined && sameColour(fact.colour, colour));
      if (stated) return context.site(stated, 'colour');
      if (path === at.cable(now) && node.cable) return context.site(node, 'cable');
      if (path === at.length(now) && node.length) return context.site(node, 'length');
      return nameSite;
    },
  };
}

/** Notes the use of a name; whether what it means is there for the plan is said when the plan is carried out. */
function noteName(context: LoweringContext, node: PlanNode, property: string, name: string): void {
  const symbol = context.names.find('part', name);
  if (symbol) context.names.refer(symbol, context.site(node, property));
}

/** An end as it was before the plan. */
function noteEnd(context: LoweringContext, node: EndNode, before: TypeLookup): End | undefined {
  if (node.part === undefined) return undefined;
  const symbol = context.names.find('part', node.part);
  if (symbol) context.names.refer(symbol, context.site(node, 'part'));
  const type = before.typeOfPart.get(node.part);
  const terminal =
    type === undefined || node.terminal === undefined ? undefined : context.names.terminalsOf(type)?.get(node.terminal);
  if (terminal) context.names.refer(terminal, context.site(node, 'terminal'));
  return { part: node.part, ...(node.terminal === undefined ? {} : { terminal: node.terminal }) };
}
