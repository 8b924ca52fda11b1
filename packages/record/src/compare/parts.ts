/** Supplies, devices, splices, runs and places that differ. */

import type { Box, Place, Run } from '../model.js';
import { compare } from '../resolve/parts.js';
import {
  type AnyPart,
  type ComparedRecords,
  type Couple,
  type Indexed,
  nameOf,
  pairOf,
  placeNameOf,
} from './context.js';
import {
  cableWords,
  type FactWords,
  partFactWords,
  placeFactWords,
  runFactWords,
  spliceFactWords,
} from './fact-words.js';
import type { Change, FactDifference, Pair, PartDifference, PlaceDifference, RunDifference } from './types.js';

/** Facts that are read off the part itself: with another one of these it is another part. */
const OF_THE_PART: ReadonlySet<string> = new Set(['declared type', 'label', 'output', 'rating', 'installed']);
/** Less than what a tape measure tells, metres. */
const SAME_LENGTH = 1e-9;

export function partDifferences(records: ComparedRecords): readonly PartDifference[] {
  return records.parts.flatMap((couple) => {
    const kind = (couple.before ?? couple.after)!.kind;
    const name = pairOf(couple, nameOf);
    const type = pairOf(couple, (part) => (part.kind === 'splice' ? undefined : part.part.type));
    const place = pairOf(couple, placeNameOf);
    const facts =
      couple.before && couple.after
        ? factDifferences(words(couple.before, records.before), words(couple.after, records.after))
        : [];
    const replaced = type.before !== type.after || facts.some((fact) => OF_THE_PART.has(fact.fact) && isOther(fact));
    const changes = changesOf(couple, name, {
      replaced,
      moved: placeAs(records, place.before) !== place.after,
      restated: !replaced && facts.length > 0,
    });
    return changes.length === 0 ? [] : [{ kind, name, changes, type, place, facts }];
  });
}

/** A label or a date that only one of the two records has tells of no other part. */
function isOther({ fact, before, after }: FactDifference): boolean {
  return (
    (fact !== 'label' && fact !== 'installed') ||
    (before !== null && after !== null) ||
    (fact === 'installed' && before === null)
  );
}

function placeAs({ match }: ComparedRecords, place: string | null): string | null {
  return place === null ? null : (match.places.get(place) ?? null);
}

function words(part: AnyPart, { installation }: Indexed): FactWords {
  if (part.kind === 'splice') return spliceFactWords(part.splice);
  const { type } = part.part;
  return partFactWords(part.part, type === undefined ? undefined : installation.partTypes.get(type));
}

/** What most depends on comes first. */
const FIRST = ['output', 'no-load', 'rating', 'limits', 'needs supply', 'ring', 'label'];

function rankOf(fact: string): number {
  const rank = FIRST.indexOf(fact);
  return rank < 0 ? FIRST.length : rank;
}

function factDifferences(before: FactWords, after: FactWords): readonly FactDifference[] {
  const names = [...new Set([...before.keys(), ...after.keys()])];
  return names
    .map((fact) => ({ fact, before: before.get(fact) ?? null, after: after.get(fact) ?? null }))
    .filter((one) => one.before !== one.after)
    .sort((one, other) => rankOf(one.fact) - rankOf(other.fact) || compare(one.fact, other.fact));
}

function changesOf(
  { before, after }: Couple<unknown>,
  name: Pair<string>,
  kept: { readonly replaced: boolean; readonly moved: boolean; readonly restated: boolean },
): readonly Change[] {
  if (before === undefined) return ['added'];
  if (after === undefined) return ['removed'];
  const changes: Change[] = [];
  if (kept.replaced) changes.push('replaced');
  if (kept.moved) changes.push('moved');
  if (name.before !== name.after) changes.push('renamed');
  if (kept.restated) changes.push('restated');
  return changes;
}

export function runDifferences(records: ComparedRecords): readonly RunDifference[] {
  return records.runs.flatMap((couple) => {
    const name = pairOf(couple, (run: Run) => run.name);
    const { before, after } = couple;
    const places = orderedPlaces(records, couple);
    const lengthMetres = pairOf(couple, (run: Run) => run.length?.value);
    const facts = before && after ? factDifferences(runFactWords(before), runFactWords(after)) : [];
    const isSameLength =
      lengthMetres.before === lengthMetres.after ||
      Math.abs((lengthMetres.before ?? Infinity) - (lengthMetres.after ?? -Infinity)) <= SAME_LENGTH;
    const replaced = madeOf(before) !== madeOf(after);
    const changes = changesOf(couple, name, {
      replaced,
      moved: places.moved,
      restated: !isSameLength || facts.some(({ fact }) => fact !== 'cable'),
    });
    if (changes.length === 0) return [];
    const cable = pairOf(couple, (run: Run) => run.cableWords);
    return [{ name, changes, cable, from: places.from, to: places.to, lengthMetres, facts }];
  });
}

/** What a run's cable is, however it is spelled. */
function madeOf(run: Run | undefined): string {
  return run?.cable === undefined ? (run?.cableWords ?? '') : cableWords(run.cable);
}

/** The same run told from its other end has not moved. */
function orderedPlaces(
  records: ComparedRecords,
  couple: Couple<Run>,
): { readonly from: Pair<string>; readonly to: Pair<string>; readonly moved: boolean } {
  const from = pairOf(couple, (run) => run.fromPlace);
  const to = pairOf(couple, (run) => run.toPlace);
  const was = [placeAs(records, from.before), placeAs(records, to.before)];
  const straight = was[0] === from.after && was[1] === to.after;
  const crossed = was[0] === to.after && was[1] === from.after;
  return { from, to, moved: !straight && !crossed };
}

function boxOf({ installation }: Indexed, { name }: Place): Box | undefined {
  return installation.boxes?.find((box) => box.name === name);
}

export function placeDifferences(records: ComparedRecords): readonly PlaceDifference[] {
  return records.places.flatMap((couple) => {
    const name = pairOf(couple, (place: Place) => place.name);
    const { before, after } = couple;
    const facts =
      before && after
        ? factDifferences(
            placeFactWords(before, boxOf(records.before, before)),
            placeFactWords(after, boxOf(records.after, after)),
          )
        : [];
    const within = pairOf(couple, (place: Place) => place.within);
    const changes = changesOf(couple, name, {
      replaced: false,
      moved: placeAs(records, within.before) !== within.after,
      restated: facts.length > 0,
    });
    return changes.length === 0 ? [] : [{ name, changes, facts }];
  });
}
