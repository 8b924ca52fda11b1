import { piecesOf } from '../analyse/analyse.js';
import { keptWith } from '../analyse/lazily.js';
import type { Analysis, ResolvedPart } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { isEmpty } from '../judging/feeding.js';
import { quote } from '../judging/words.js';
import { runsEntering } from '../line-side/box-contents.js';
import { type LineSide, lineSideOf } from '../line-side/line-side.js';
import { DEFERS } from '../line-side/words.js';
import type { Box } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck, type Report } from './types.js';

export const groundMissing = defineCheck({
  code: 'ground-missing',
  severity: 'error',
  title: 'A metal box or a part with a grounding terminal is not grounded',
  forbidsAccepting: true,
  run(analysis, report) {
    const pieces = piecesOf(analysis);
    // Where no branch circuit has a grounding conductor, the record is not of grounding.
    if (pieces.some(isGroundedAnywhere)) for (const piece of pieces) ungroundedIn(piece).forEach(report);
  },
});

const isGroundedAnywhere = keptWith(
  (piece: Analysis) => lineSideOf(piece)?.branches.some(({ ground }) => ground !== undefined) === true,
);

const ungroundedIn = keptWith((piece: Analysis): readonly Report[] => {
  const lineSide = lineSideOf(piece);
  if (lineSide === undefined) return [];
  const found: Report[] = [];
  const bare = lineSide.boxes.filter((box) => isUngrounded(piece, lineSide, box));
  for (const box of bare) {
    found.push({
      path: at.place(box.name),
      message: `${quote(box.name)} is metal, holds line voltage, and is joined to no grounding conductor that comes from the panel: a conductor that touches it makes it live. Bond it with \`ground … to ${box.name}\`. ${DEFERS}`,
      parts: [box.name],
      mends: () => bonds(piece, lineSide, box),
    });
  }
  for (const part of piece.parts.values()) {
    const terminal = ungroundedTerminal(piece, lineSide, part, bare);
    if (terminal === undefined) continue;
    found.push({
      path: at.part(part.name),
      message: `${quote(pointOf({ part: part.name, terminal }))} is a grounding terminal, and no grounding conductor of ${quote(lineSide.feederOf(part)!.part.name)} comes to it. ${DEFERS}`,
      parts: [part.name],
      mends: () => leads(piece, lineSide, part, terminal),
    });
  }
  return found;
});

/** A metal box that line voltage enters. Where the breaker itself stands in it, its bonding is the service's. */
function isUngrounded(analysis: Analysis, lineSide: LineSide, box: Box): boolean {
  const { broken } = analysis.installation;
  const net = lineSide.netOf(box.name);
  if (!box.metal || broken.has(box.name) || lineSide.isGrounded(net) || lineSide.leadsOn(net)) return false;
  if (lineSide.branches.some(({ part }) => lineSide.boxAround(part.place?.name) === box)) return false;
  return runsEntering(analysis, lineSide, box).some(({ run }) => lineSide.carriesLine(run.name));
}

function ungroundedTerminal(
  { installation }: Analysis,
  lineSide: LineSide,
  part: ResolvedPart,
  bare: readonly Box[],
): string | undefined {
  if (installation.broken.has(part.name) || lineSide.feederOf(part)?.ground === undefined) return undefined;
  const terminals = lineSide.markedOf(part, 'ground');
  const optional = part.terminals.filter((one) => one.optional).map(({ name }) => name);
  return terminals.find(({ point, terminal }) => {
    const net = lineSide.netOf(point);
    const toldOf = bare.some((box) => lineSide.same(box.name, point));
    // Of grounding on a conductor that carries current there is something worse to say.
    if (lineSide.isLine(net)) return false;
    const isOpen = !lineSide.isGrounded(net) && !lineSide.leadsOn(net) && !lineSide.isHeld(net);
    return isOpen && !toldOf && !optional.includes(terminal);
  })?.terminal;
}

/** A splice in the box, or near it, that a grounding conductor comes to. */
function groundSplices({ installation }: Analysis, lineSide: LineSide, box: Box | undefined): readonly string[] {
  return installation.splices
    .filter(({ name, place }) => lineSide.isGrounded(lineSide.netOf(name)) && lineSide.boxAround(place) === box)
    .map(({ name }) => name);
}

function bonds(analysis: Analysis, lineSide: LineSide, box: Box): readonly Fix[] {
  return groundSplices(analysis, lineSide, box).map((part) => ({
    title: `Ground ${quote(box.name)} from ${quote(part)}`,
    changes: [{ kind: 'add-ground', from: { part }, box: box.name }],
  }));
}

function leads(analysis: Analysis, lineSide: LineSide, part: ResolvedPart, terminal: string): readonly Fix[] {
  if (!isEmpty(analysis, part.name, terminal)) return [];
  const box = lineSide.boxAround(part.place?.name) ?? boxOfLeads(analysis, lineSide, part);
  return groundSplices(analysis, lineSide, box).map((splice) => ({
    title: `Land ${quote(terminal)} of ${quote(part.name)} on ${quote(splice)}`,
    changes: [{ kind: 'set-lead', part: part.name, terminal, on: { part: splice } }],
  }));
}

/** The box that its other leads go into. */
function boxOfLeads({ installation }: Analysis, lineSide: LineSide, { name }: ResolvedPart): Box | undefined {
  const stated = [...installation.supplies, ...installation.devices].find((one) => one.name === name);
  return stated?.lands.map(({ on }) => lineSide.boxOfPoint(on)).find((box) => box !== undefined);
}
