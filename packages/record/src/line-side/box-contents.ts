/** What of a record is in a box: cables that enter it, devices, and leads of supplies mounted on it. */

import { type Analysis, pointOf, type ResolvedPart, type ResolvedRun } from '../analysis-types.js';
import { areaOf } from '../judging/units.js';
import type { Box, ConductorSize, Landing } from '../model.js';
import { lineLimitTable } from '../regions/line-limits.js';
import type { BoxContents } from './box-fill.js';
import type { LineSide } from './line-side.js';

/** Undefined where the size of a cable that enters is not known. */
export function contentsOf(analysis: Analysis, lineSide: LineSide, box: Box): BoxContents | undefined {
  const conductors: ConductorSize[] = [];
  const grounds: ConductorSize[] = [];
  for (const run of runsEntering(analysis, lineSide, box)) {
    const size = run.cable?.size;
    if (size === undefined) return undefined;
    for (const colour of run.cable!.colours) {
      (isGrounding(lineSide, run, colour) ? grounds : conductors).push(size);
    }
  }
  for (const { name, lands } of analysis.installation.supplies) {
    const part = analysis.parts.get(name);
    for (const { terminal, on } of lands) {
      const side = part?.terminals.find((one) => one.name === terminal)?.lineSide;
      // Blades in the slots of a receptacle enter no box; leads are joined in it.
      if (side !== undefined && on.terminal === undefined && lineSide.boxOfPoint(on) === box)
        (side === 'ground' ? grounds : conductors).push(LEAD);
    }
  }
  const thickest = largest(conductors) ?? LEAD;
  const yokes = devicesIn(analysis, lineSide, box).map((part) => largestOn(analysis, lineSide, part) ?? thickest);
  return { conductors, grounds, yokes, clamps: box.clamps };
}

/** A transformer's own lead: counted as in the table of limits. */
const LEAD: ConductorSize = { kind: 'awg', awg: lineLimitTable.leadGauge.by['north-america'].value };

/** Runs one end of which is in the box; one that lies wholly inside counts for nothing. */
export function runsEntering(analysis: Analysis, lineSide: LineSide, box: Box): readonly ResolvedRun[] {
  return [...analysis.runs.values()].filter(({ run }) => {
    const places = [run.fromPlace, run.toPlace].map((place) => lineSide.boxAround(place) === box);
    const landings = run.conductors.map(({ from, to }) => [from, to].map((one) => isIn(lineSide, box, one)));
    const isInside = places.every(Boolean) || landings.some((ends) => ends.every(Boolean));
    return !isInside && (places.some(Boolean) || landings.some((ends) => ends.some(Boolean)));
  });
}

function isIn(lineSide: LineSide, box: Box, landing: Landing | undefined): boolean {
  return landing?.kind === 'on' && lineSide.boxOfPoint(landing.end) === box;
}

/** By its insulation, or by what it is on. */
function isGrounding(lineSide: LineSide, { run, cable }: ResolvedRun, colour: string): boolean {
  if (/^(bare|green\/yellow|yellow\/green)$/.test(colour)) return true;
  if (cable?.withGround === true && cable.colours.at(-1) === colour) return true;
  const stated = run.conductors.find((one) => one.colour === colour);
  return [stated?.from, stated?.to].some((one) => {
    const net = one?.kind === 'on' ? lineSide.netOf(pointOf(one.end)) : undefined;
    return net !== undefined && lineSide.isGround(net) && !lineSide.isLine(net);
  });
}

/** Devices on a yoke: those in the box that have line-voltage terminals. */
function devicesIn({ parts }: Analysis, lineSide: LineSide, box: Box): readonly ResolvedPart[] {
  return [...parts.values()].filter(
    ({ kind, place, terminals }) =>
      kind === 'device' &&
      lineSide.boxAround(place?.name) === box &&
      terminals.some(({ lineSide: side }) => side !== undefined),
  );
}

/** Of the runs on the device's own circuit conductors. */
function largestOn(analysis: Analysis, lineSide: LineSide, part: ResolvedPart): ConductorSize | undefined {
  const nets = new Set(
    [...lineSide.markedOf(part, 'hot'), ...lineSide.markedOf(part, 'neutral')].map(({ point }) =>
      lineSide.netOf(point),
    ),
  );
  const landed = new Set(part.terminals.map(({ name }) => pointOf({ part: part.name, terminal: name })));
  const onIt = sizesOf(analysis, ({ from, to }) =>
    [from, to].some((one) => one?.kind === 'on' && landed.has(pointOf(one.end))),
  );
  if (onIt.length > 0) return largest(onIt);
  return largest(
    sizesOf(analysis, ({ from, to }) =>
      [from, to].some((one) => one?.kind === 'on' && nets.has(lineSide.netOf(pointOf(one.end)))),
    ),
  );
}

function sizesOf(
  { runs }: Analysis,
  matches: (conductor: { readonly from?: Landing; readonly to?: Landing }) => boolean,
): readonly ConductorSize[] {
  return [...runs.values()].flatMap(({ run, cable }) =>
    cable?.size !== undefined && run.conductors.some((one) => !one.spare && matches(one)) ? [cable.size] : [],
  );
}

function largest(sizes: readonly ConductorSize[]): ConductorSize | undefined {
  return [...sizes].sort((one, other) => areaOf(other) - areaOf(one))[0];
}
