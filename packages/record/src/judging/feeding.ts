/** Which parts have a complete loop in some state, and what breaks it where they have none. */

import { Beside } from '../analyse/beside.js';
import { type Analysis, pointOf, type ResolvedElement, type ResolvedPart } from '../analysis-types.js';
import { isLineSideElement } from './line-side-element.js';
import type { Installation } from '../model.js';
import { blocksOf } from './loops.js';
import { type SameSide, sameSideContact } from './misused-contact.js';
import { studyOf } from './study.js';
import { type Edge, isBare, type LooseEnd } from './topology.js';

export interface Unfed {
  /** Parts that one break leaves without a loop. */
  readonly parts: readonly string[];
  /** A terminal with nothing landed on it that would complete the loop. */
  readonly open?: { readonly part: string; readonly terminal: string };
  /** Splices with a single conductor that would complete it. */
  readonly splices: readonly string[];
  readonly hasSupply: boolean;
  /** Wire and joints alone join its two ends. */
  readonly joinedPast: boolean;
  /** It has a loop, but only while something is pressed. */
  readonly onlyPressed: boolean;
  /** A button whose two conductors come from one point. */
  readonly sameSide?: SameSide;
}

interface Feeding {
  readonly unfed: readonly Unfed[];
  /** Splices with a single conductor that are told of with a part that is never fed. */
  readonly splicesToldOf: ReadonlySet<string>;
}

const memory = new Beside<Analysis, Feeding>();

export function feedingOf(analysis: Analysis): Feeding {
  const known = memory.get(analysis);
  if (known !== undefined) return known;
  const feeding = findFeeding(analysis);
  memory.set(analysis, feeding);
  return feeding;
}

function findFeeding(analysis: Analysis): Feeding {
  const { topology } = studyOf(analysis);
  const fed = fedEdges(topology.edges);
  const fedAtRest = fedEdges(topology.edges.filter((edge) => !springsBack(analysis, edge)));
  const dead = inOrderOfName(analysis.parts.values()).filter((part) => {
    const needing = needsPower(part).filter((element) => !isLineSideElement(analysis, element));
    const bypassed = needing.some((element) => isTakenOut(analysis, element));
    const isFed = (element: ResolvedElement) =>
      (ringsByItself(part) ? fedAtRest.has(element.id) && isFedAtRest(analysis, element) : fed.has(element.id)) &&
      !isJoinedPast(analysis, element);
    return needing.length > 0 && !bypassed && mayBeJudged(analysis, part) && !needing.some(isFed);
  });
  const groups = new Map<string, Unfed>();
  const ownOpen = new Map(
    dead.flatMap((part) => {
      const open = openTerminal(analysis, part);
      return open === undefined ? [] : [[part.name, open] as const];
    }),
  );
  for (const part of dead) {
    const element = needsPower(part)[0]!;
    const component = topology.componentOf(element.a);
    const edges = [
      ...topology.edgesIn(component),
      ...(topology.componentOf(element.b) === component ? [] : topology.edgesIn(topology.componentOf(element.b))),
    ];
    const around = topology.looseEnds.filter(({ point }) => edges.some(({ a, b }) => a === point || b === point));
    const completing = around.filter((end) => wouldFeed(edges, [end], element) || wouldFeed(edges, around, element));
    if (completing.some(({ kind }) => kind !== 'splice')) continue;
    const splices = (isUnlanded(analysis, part) ? topology.looseEnds : completing)
      .filter(({ kind }) => kind === 'splice')
      .map(({ point }) => point);
    const joinedPast = isJoinedPast(analysis, element);
    const sameSide = joinedPast ? undefined : sameSideContact(analysis, edges);
    const neighbour = [...ownOpen].find(([name]) => edges.some(({ element: e }) => e?.part === name));
    const open = joinedPast
      ? undefined
      : (ownOpen.get(part.name) ?? neighbour?.[1] ?? openTerminalAmong(analysis, edges, part.name));
    const hasSupply = edges.some(({ element: e }) => e?.element.kind === 'winding');
    const key = joinedPast ? `joined ${component}` : open === undefined ? `component ${component}` : pointOf(open);
    const group = groups.get(key);
    const parts = [...(group?.parts ?? []), part.name].sort((one) => (one === open?.part ? -1 : 0));
    groups.set(key, {
      parts,
      open,
      splices: [...new Set([...(group?.splices ?? []), ...splices])],
      hasSupply,
      joinedPast,
      onlyPressed: fed.has(element.id),
      sameSide,
    });
  }
  const unfed = [...groups.values()];
  return { unfed, splicesToldOf: new Set(unfed.flatMap(({ splices }) => splices)) };
}

/** Whether a part's own contacts, as they are at rest, leave its load a loop: what it must switch on first is never there to switch. */
function isFedAtRest(analysis: Analysis, element: ResolvedElement): boolean {
  const edges = studyOf(analysis).topology.edgesIn(studyOf(analysis).topology.componentOf(element.a));
  const isOwnContact = (edge: Edge) => edge.element?.part === element.part && edge.element.element.kind === 'contact';
  const resting = edges.filter(
    (edge) => !springsBack(analysis, edge) && (!isOwnContact(edge) || isBare(edge, AT_REST)),
  );
  return resting.length === edges.length || fedEdges(resting).has(element.id);
}

const AT_REST: ReadonlySet<string> = new Set();

/** Whether wire and joints alone join both ends of a load: whatever stands in its loop, no volts stand across it. */
function isJoinedPast(analysis: Analysis, element: ResolvedElement): boolean {
  return element.element.kind === 'load' && studyOf(analysis).isBypassed(element, []);
}

/** So that what is told does not depend on the order of statements. */
function inOrderOfName(parts: Iterable<ResolvedPart>): ResolvedPart[] {
  return [...parts].sort((one, other) => (one.name < other.name ? -1 : one.name > other.name ? 1 : 0));
}

/** What works on the volts of its label: loads, lamps of parts that switch nothing, and coils that neither ring nor pull in. */
export function worksOnItsLabel(
  analysis: Analysis,
  { element, part, ringsFromVolts, pullsInFromVolts }: ResolvedElement,
): boolean {
  if (element.kind === 'load') return true;
  if (element.kind === 'coil')
    return ringsFromVolts === undefined && pullsInFromVolts === undefined && element.humsFrom === undefined;
  if (element.kind !== 'lamp') return false;
  return !(analysis.parts.get(part)?.elements.some((own) => own.element.kind === 'contact') ?? false);
}

/** Elements for which a part is there at all: loads and coils, and the lamp of a part that switches nothing. */
export function needsPower(part: ResolvedPart): readonly ResolvedElement[] {
  const switches = part.elements.some(({ element }) => element.kind === 'contact');
  return part.elements.filter(
    ({ element: { kind }, present }) =>
      present && (kind === 'load' || kind === 'coil' || (kind === 'lamp' && !switches)),
  );
}

/** Edges that lie in one closed loop with a winding, every contact conducting. */
export function fedEdges(edges: readonly Edge[], extra: readonly Edge[] = []): ReadonlySet<string> {
  const all = [...edges, ...extra];
  const blocks = blocksOf(all);
  const live = new Set(
    all.filter(({ element }) => element?.element.kind === 'winding').flatMap(({ id }) => blocks.get(id) ?? []),
  );
  return new Set([...blocks].filter(([, block]) => live.has(block)).map(([id]) => id));
}

/** A part that takes power and has a contact of its own, as a doorbell has: it works at rest, or it can't answer a press. */
function ringsByItself({ elements }: ResolvedPart): boolean {
  const kinds = elements.map(({ element }) => element.kind);
  return kinds.includes('load') && kinds.includes('contact');
}

function springsBack({ momentary }: Analysis, { element }: Edge): boolean {
  if (element?.element.kind !== 'contact' || element.contact === undefined) return false;
  return momentary.has(element.contact) && !element.element.normallyClosed;
}

/** A coil that metal bridges, or a load with a jumper of its own across it, was put out of use; a load whose conductors meet elsewhere was not. */
function isTakenOut(analysis: Analysis, element: ResolvedElement): boolean {
  if (!studyOf(analysis).isBypassed(element, [])) return false;
  if (element.element.kind !== 'load') return true;
  return [...analysis.jumpers.values()].some(({ from, to }) => {
    const ends = [pointOf(from), pointOf(to)];
    return ends.includes(element.a) && ends.includes(element.b);
  });
}

function mayBeJudged(analysis: Analysis, part: ResolvedPart): boolean {
  const { broken } = analysis.installation;
  if (broken.has(part.name)) return false;
  return analysis.circuitsOfPart(part.name).every(({ held }) => !held);
}

/** Whether no terminal of a part has anything on it: what was to come to it ends somewhere else. */
function isUnlanded(analysis: Analysis, part: ResolvedPart): boolean {
  return part.terminals.every(({ name }) => isEmpty(analysis, part.name, name));
}

/** Whether landing the loose ends somewhere could complete the element's loop. */
function wouldFeed(edges: readonly Edge[], ends: readonly LooseEnd[], element: ResolvedElement): boolean {
  const windings = edges.flatMap(({ element: e }) => (e?.element.kind === 'winding' ? [e.a, e.b] : []));
  const landings = [element.a, element.b, ...windings];
  const joined = ends.slice(1).map((end, index): Edge => guess(`guess/${index}`, ends[0]!.point, end.point));
  return (
    landings.some((b) => fedEdges(edges, [...joined, guess('guess', ends[0]!.point, b)]).has(element.id)) ||
    (joined.length > 0 && fedEdges(edges, joined).has(element.id))
  );
}

function guess(id: string, a: string, b: string): Edge {
  return { id, a, b, kind: 'wire' };
}

/** The first terminal that a part needs and that has nothing on it. */
export function openTerminal(
  analysis: Analysis,
  part: ResolvedPart,
): { readonly part: string; readonly terminal: string } | undefined {
  const used = new Set(part.elements.filter(({ present }) => present).flatMap(({ a, b }) => [a, b]));
  const open = part.terminals.find(
    ({ name, optional, lineSide }) =>
      !optional &&
      lineSide === undefined &&
      used.has(pointOf({ part: part.name, terminal: name })) &&
      isEmpty(analysis, part.name, name),
  );
  return open === undefined ? undefined : { part: part.name, terminal: open.name };
}

/** Whether nothing is landed on a terminal, nor its own lead on another. */
export function isEmpty(analysis: Analysis, part: string, terminal: string): boolean {
  const point = pointOf({ part, terminal });
  return analysis.landedOn(point).length === 0 && !leadsOf(analysis.installation).has(point);
}

const leads = new Beside<Installation, ReadonlySet<string>>();

/** Terminals whose own leads are landed somewhere. */
function leadsOf(installation: Installation): ReadonlySet<string> {
  const known = leads.get(installation);
  if (known !== undefined) return known;
  const found = new Set<string>();
  for (const { name, lands } of [...installation.supplies, ...installation.devices]) {
    for (const { terminal } of lands) found.add(pointOf({ part: name, terminal }));
  }
  leads.set(installation, found);
  return found;
}

function openTerminalAmong(analysis: Analysis, edges: readonly Edge[], besides: string) {
  const names = new Set(edges.flatMap(({ element }) => (element === undefined ? [] : [element.part])));
  const parts = [...names].filter((name) => name !== besides).map((name) => analysis.parts.get(name)!);
  const supplies = parts.filter(({ kind }) => kind === 'supply');
  const others = parts.filter(({ kind }) => kind !== 'supply');
  for (const part of [...supplies, ...others]) {
    const open = openTerminal(analysis, part);
    if (open !== undefined) return open;
  }
  return undefined;
}
