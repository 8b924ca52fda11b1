/** What goes wrong with joints and cables, and ends landed where others belong. */

import { partNameOf } from '../analysis-types.js';
import { keptWith } from '../analyse/lazily.js';
import { quote } from '../judging/words.js';
import { type Suspect, stepsOf } from './hypotheses.js';
import type { ConductorEnd, House, HouseConductor } from './house.js';
import type { Variant } from './variants.js';
import { severities, sound } from './practice.js';

const ENDS = [0, 1] as const;
const END_NAMES = ['from', 'to'] as const;

export function conductorWords({ run, colour }: { readonly run: string; readonly colour: string }): string {
  return `${colour} of ${quote(run)}`;
}

/** At the end's place in words, where the run says it. */
export function endWords(conductor: HouseConductor, end: 0 | 1): string {
  const { on, place } = conductor.ends[end];
  if (on !== undefined) return `${conductorWords(conductor)} at ${quote(on)}`;
  return place === undefined ? conductorWords(conductor) : `${conductorWords(conductor)} in ${quote(place)}`;
}

function looseVariants(branch: number): readonly Variant[] {
  const steps = stepsOf(severities.looseOhms, 6).map(({ value, half, share }) => ({
    share: share / 2,
    changes: [{ branch, ohms: value }],
    spread: { branches: [branch], share: half },
  }));
  return [{ share: 0.5, changes: [{ branch, ohms: sound.open }] }, ...steps];
}

/** Of the joint at the first end where a conductor has one: what is in series with it shows the same. */
const looseAtFirst = keptWith((conductor: HouseConductor) => looseVariants(conductor.ends[0].joint!));

function alikeInSeries(conductor: HouseConductor, variants: readonly Variant[]): readonly Variant[] {
  if (conductor.ends[0].joint === undefined) return variants;
  const between = conductor.ends.map(({ node }) => node);
  const first = looseAtFirst(conductor);
  return variants.map((variant, k) => ({ ...variant, alike: { variant: first[k]!, between } }));
}

export function jointFaults(house: House): readonly Suspect[] {
  const ofConductors = house.conductors.flatMap((conductor) =>
    ENDS.flatMap((end): Suspect[] => {
      const { joint, on } = conductor.ends[end];
      if (joint === undefined || on === undefined) return [];
      return [
        {
          kind: 'joint-loose',
          on: `${conductor.run}.${conductor.colour}@${END_NAMES[end]}`,
          what: `the joint of ${endWords(conductor, end)} is loose`,
          parts: [conductor.run, partNameOf(on)],
          variants: end === 0 ? looseAtFirst(conductor) : alikeInSeries(conductor, looseVariants(joint)),
        },
      ];
    }),
  );
  const ofLinks = house.links.flatMap(({ kind, name, branch }): Suspect[] => {
    if (bypasses(house, branch)) return [];
    const what = kind === 'jumper' ? `the jumper ${quote(name)} is loose` : `a lead of ${quote(name)} is loose`;
    return [{ kind: 'joint-loose', on: `${kind}/${name}`, what, parts: [name], variants: looseVariants(branch) }];
  });
  return [...ofConductors, ...ofLinks];
}

/** Whether a link joins both ends of a sounder: a bypass. */
export function bypasses(house: House, link: number): boolean {
  const { a, b } = house.branches[link]!;
  return house.branches.some(
    ({ kind, a: x, b: y }) => (kind === 'coil' || kind === 'load') && ((x === a && y === b) || (x === b && y === a)),
  );
}

export function cableFaults(house: House): readonly Suspect[] {
  const open = house.conductors.flatMap((conductor): Suspect[] => {
    if (!isLanded(conductor)) return [];
    return [
      {
        kind: 'conductor-open',
        on: `${conductor.run}.${conductor.colour}`,
        what: `${conductorWords(conductor)} is broken on its way`,
        parts: [conductor.run],
        variants: alikeInSeries(conductor, [{ share: 1, changes: [{ branch: conductor.wire, ohms: sound.open }] }]),
      },
    ];
  });
  const pairs = pairsOf(house).flatMap(([one, other]): Suspect[] => {
    const strays = ENDS.map((end) => house.stray(one.ends[end].node, other.ends[end].node));
    const on = `${one.run}.${one.colour}-${other.colour}`;
    const names = `${one.colour} and ${other.colour} of ${quote(one.run)}`;
    const parts = [one.run];
    return [
      {
        kind: 'pair-shorted',
        on,
        what: `${names} touch in the cable`,
        parts,
        variants: strays.map((branch) => ({
          share: 0.5,
          changes: [{ branch, ohms: severities.shortOhms }],
        })),
      },
      {
        kind: 'pair-leaking',
        on,
        what: `${names} leak into each other`,
        parts,
        variants: stepsOf(severities.leakOhms, 6).map(({ value, half, share }) => ({
          share,
          changes: [{ branch: strays[1]!, ohms: value }],
          spread: { branches: [strays[1]!], share: half },
        })),
      },
    ];
  });
  return [...open, ...pairs];
}

function isLanded({ ends }: HouseConductor): boolean {
  return ends[0].on !== undefined && ends[1].on !== undefined;
}

/** Two conductors of one cable that are landed at both ends and not on the same two points. */
function pairsOf(house: House): readonly (readonly [HouseConductor, HouseConductor])[] {
  const landed = house.conductors.filter(isLanded);
  return landed.flatMap((one, k) =>
    landed
      .slice(k + 1)
      .filter((other) => other.run === one.run && !ENDS.every((end) => other.ends[end].on === one.ends[end].on))
      .map((other) => [one, other] as const),
  );
}

export function runFaults(house: House): readonly Suspect[] {
  return [...new Set(house.conductors.filter(isLanded).map(({ run }) => run))].map((run) => {
    const wires = house.conductors.filter((one) => one.run === run).map(({ wire }) => wire);
    return {
      kind: 'run-longer-or-thinner',
      on: run,
      what: `${quote(run)} is much longer or thinner than recorded`,
      parts: [run],
      variants: stepsOf(severities.longRunFactor, 3).map(({ value, half, share }) => ({
        share,
        changes: wires.map((branch) => ({ branch, ohms: house.branches[branch]!.ohms * value })),
        spread: { branches: wires, share: half },
      })),
    };
  });
}

interface LandedEnd {
  readonly conductor: HouseConductor;
  readonly end: 0 | 1;
  readonly at: ConductorEnd & { readonly on: string; readonly joint: number };
}

/** Two ends that are landed on one part, or are at one end of one run, each where the other belongs. */
export function swaps(house: House): readonly Suspect[] {
  const ends = house.conductors.flatMap((conductor) =>
    ENDS.flatMap((end): LandedEnd[] => {
      const { on, joint, ...at } = conductor.ends[end];
      return on === undefined || joint === undefined ? [] : [{ conductor, end, at: { ...at, on, joint } }];
    }),
  );
  return ends.flatMap((one, k) =>
    ends.slice(k + 1).flatMap((other): Suspect[] => {
      if (!areNear(one, other) || one.at.on === other.at.on || isEitherScrew(house, one, other)) return [];
      const crossed = [
        house.stray(one.at.node, house.node(other.at.on)),
        house.stray(other.at.node, house.node(one.at.on)),
      ];
      const name = ({ conductor, end }: LandedEnd): string => `${conductor.run}.${conductor.colour}@${END_NAMES[end]}`;
      return [
        {
          kind: 'ends-swapped',
          on: `${name(one)} ${name(other)}`,
          what: `${endWords(one.conductor, one.end)} and ${endWords(other.conductor, other.end)} are swapped`,
          parts: [...new Set([one.conductor.run, other.conductor.run, partNameOf(one.at.on), partNameOf(other.at.on)])],
          variants: [
            {
              share: 1,
              changes: [
                ...[one.at.joint, other.at.joint].map((branch) => ({ branch, ohms: sound.open })),
                ...crossed.map((branch) => ({ branch, ohms: sound.joint })),
              ],
            },
          ],
        },
      ];
    }),
  );
}

function areNear(one: LandedEnd, other: LandedEnd): boolean {
  const sameEnd = one.conductor.run === other.conductor.run && one.end === other.end;
  return sameEnd || (one.at.on.includes('.') && partNameOf(one.at.on) === partNameOf(other.at.on));
}

/** Two screws of a part that has no way round, and nothing else on either: swapping them is no electrical change. */
function isEitherScrew(house: House, one: LandedEnd, other: LandedEnd): boolean {
  const part = house.analysis.parts.get(partNameOf(one.at.on));
  if (part === undefined || partNameOf(other.at.on) !== part.name) return false;
  const between = part.elements.filter(({ element }) => element.kind !== 'primary');
  const isTurnable = between.every(
    ({ a, b, element, system }) =>
      [a, b].sort().join() === [one.at.on, other.at.on].sort().join() &&
      element.kind !== 'diode' &&
      system !== 'DC' &&
      !(element.kind === 'contact' && element.restTo !== undefined),
  );
  const alone = [one.at.on, other.at.on].every((point) => house.analysis.landedOn(point).length === 1);
  return isTurnable && alone;
}
