/** Every end of every conductor of the record, where it lands and where its other end is. */

import { type Analysis, type Landing, pointOf, type Run } from '@ohmstead/record';

export interface ConductorEnd {
  readonly run: Run;
  readonly colour: string;
  readonly side: 'from' | 'to';
  /** Where this end is; absent for a spare one and for one that the record leaves out. */
  readonly landing?: Landing;
  readonly other?: Landing;
  readonly spare: boolean;
  /** Where this end is to be found, as far as the record says. */
  readonly place?: string;
}

/** In order of runs and conductors, both ends of each, those of conductors that the record does not name included. */
export function conductorEnds(analysis: Analysis): ConductorEnd[] {
  return [...analysis.runs.values()].flatMap(({ run }) => {
    const stated = run.conductors.flatMap((conductor) =>
      (['from', 'to'] as const).map((side): ConductorEnd => {
        const { colour, spare } = conductor;
        const landing = conductor[side];
        const other = conductor[side === 'from' ? 'to' : 'from'];
        return { run, colour, side, landing, other, spare, place: placeOfEnd(analysis, run, side, landing) };
      }),
    );
    return [...stated, ...unnamed(analysis, run)];
  });
}

/** What is not named is spare. */
function unnamed(analysis: Analysis, run: Run): ConductorEnd[] {
  const left = [...(run.cable?.colours ?? [])];
  for (const { colour } of run.conductors) {
    const index = left.indexOf(colour);
    if (index >= 0) left.splice(index, 1);
  }
  return left.flatMap((colour) =>
    (['from', 'to'] as const).map(
      (side): ConductorEnd => ({
        run,
        colour,
        side,
        spare: true,
        place: placeOfEnd(analysis, run, side, undefined),
      }),
    ),
  );
}

function placeOfEnd(analysis: Analysis, run: Run, side: 'from' | 'to', landing: Landing | undefined) {
  const own = landing?.kind === 'on' ? placeOfPart(analysis, landing.end.part) : undefined;
  return own ?? (side === 'from' ? run.fromPlace : run.toPlace);
}

/** The place of a part or of a splice. */
export function placeOfPart({ parts, installation }: Analysis, name: string): string | undefined {
  return parts.get(name)?.place?.name ?? installation.splices.find((splice) => splice.name === name)?.place;
}

/** The point that an end is landed on; undefined for a loose one. */
export function pointOfEnd({ landing, spare }: ConductorEnd): string | undefined {
  return !spare && landing?.kind === 'on' ? pointOf(landing.end) : undefined;
}
