/** The fault finder. */

import { type Analysis, pointOf, partNameOf } from '../analysis-types.js';
import { meterPointName } from '../judging/reading-words.js';
import { agreesWith, predict } from '../readings/predict.js';
import type { ReadingOf, ReadingState } from '../readings-types.js';
import { type Ask, asksOf, circuitId, placeOfPoint } from './asks.js';
import { type Group, groupsOf, isSettled } from './groups.js';
import type { House } from './house.js';
import { nextStep, standingOf } from './next-step.js';
import { pairsWithinReach } from './pairs.js';
import { type Ranked, type Ranking, rank } from './rank.js';
import { latestBlocks, letGoOf, type Study, studyOf } from './study.js';
import type { Asked, ExplainedFault, Explanation, ExplainOptions, Prediction } from './types.js';
import { weigh } from './weigh.js';
import { askedWords, predictedWords } from './words.js';

const MOST_FAULTS = 12;
const MOST_EXCLUDED = 40;
/** Suspects with less belief than this take no part in what to do next; no more than so many do. */
const SUSPECT_FROM = 1e-3;
const MOST_SUSPECTS = 40;
/** Groups are made among the likeliest. */
const MOST_GROUPED = 24;
const MOST_JOINTS_OF = 8;
/** No more is gone through for one step; of so many suspects the doors are asked about then. */
const MOST_ASKS = 800;
const MOST_DOORS_OF = 12;
/** Of each suspect so many steps of its severity are gone through for the next step, of unlikely ones two; none with next to no belief. */
const MOST_VARIANTS = 4;
const MINOR_BELIEF = 0.02;
const NO_BELIEF = 0.02;

/** Which faults fit the readings of the record, best first, and what to do next. */
export function explain(analysis: Analysis, options: ExplainOptions = {}): Explanation {
  const blocks = options.blocks ?? latestBlocks(analysis.installation.readings ?? []);
  const study = studyOf(analysis, blocks, options.recentWork === true);
  const explanation = explained(study, blocks, options);
  letGoOf(analysis, study);
  return explanation;
}

function explained(study: Study, blocks: readonly number[], options: ExplainOptions): Explanation {
  const { gauge, used, observations } = study;
  const bad = study.taken.flatMap(({ block, index, bad: why }) => (why === undefined ? [] : [{ block, index, why }]));
  const notes = notesOf(study, blocks);
  if (!hasAnswer(study)) {
    const words = 'the volts cannot be told from what is recorded';
    return {
      version: 1,
      healthy: false,
      healthyLikelihood: 0,
      faults: [],
      excluded: [],
      next: null,
      bad,
      notes: [...notes, words],
    };
  }
  let ranking = rank(gauge, study.hypotheses, observations);
  const fitsAlone = [ranking.sound, ...ranking.faults].some(({ excludedBy }) => excludedBy === undefined);
  if (!fitsAlone) {
    const pairs = pairsWithinReach(ranking);
    const both = rank(gauge, [...study.hypotheses, ...pairs], observations);
    const fits = both.faults.some(({ excludedBy }) => excludedBy === undefined);
    if (fits) ranking = both;
    else notes.push('no single fault and no two together fit all readings: take the oddest again');
  }
  const fitting = ranking.faults.filter(({ excludedBy }) => excludedBy === undefined);
  const suspects = [ranking.sound, ...fitting]
    .filter(({ belief }) => belief >= SUSPECT_FROM)
    .sort((x, y) => y.belief - x.belief);
  const every = asksOf(
    study.house,
    study.lastBlock,
    nearbyCircuits(study.house, suspects),
    jointsOf(study.house, suspects),
  );
  const asks = worthAsking(every, study, suspects).map((ask) =>
    ask.spot === undefined ? ask : { ...ask, spot: gauge.known(ask.spot) },
  );
  const taken = new Set(used.flatMap(({ reading }) => subjectOf(reading.state, reading.of) ?? []));
  const untaken = asks.filter(({ asked }) => !taken.has(subjectOf(asked.state, asked.of) ?? ''));
  const atTerminals = asks.filter(isAtTerminals);
  const groups = groupsOf(gauge, likeliest([ranking.sound, ...fitting]), atTerminals);
  const [best] = groups;
  // Where nothing fits, a sound house may still be the least unlikely; it does not explain what was read.
  const isFit = ranking.sound.excludedBy === undefined && observations.length > 0;
  const isSound = isFit && best?.members.includes(ranking.sound) === true;
  const standing = standingOf(study.house, used, (of) => placeOfReading(study.house, of as ReadingOf));
  const next = isSettled(groups, isSound)
    ? null
    : nextStep(gauge, untaken, suspects.slice(0, MOST_SUSPECTS).map(withFewVariants), groups, standing);
  return {
    version: 1,
    healthy: isSound,
    healthyLikelihood: ranking.sound.belief,
    faults: faultsOf(study, groups, fitting, options.mostFaults ?? MOST_FAULTS),
    excluded: excludedOf(study, ranking, options.mostExcluded ?? MOST_EXCLUDED),
    next,
    bad,
    notes,
  };
}

/** All; in a house with very many doors those at rest, and those about the doors that were read at or are suspected most. */
function worthAsking(asks: readonly Ask[], { used }: Study, suspects: readonly Ranked[]): readonly Ask[] {
  if (asks.length <= MOST_ASKS) return asks;
  const parts = new Set(suspects.slice(0, MOST_DOORS_OF).flatMap(({ hypothesis }) => hypothesis?.parts ?? []));
  for (const { reading } of used) for (const name of contactsIn(reading.state)) parts.add(partNameOf(name));
  return asks
    .filter(({ asked }) => contactsIn(asked.state).every((name) => parts.has(partNameOf(name))))
    .slice(0, MOST_ASKS);
}

function contactsIn({ pressed = [], ...state }: ReadingState): readonly string[] {
  return state.kind === 'off' ? pressed : [...pressed, ...(state.bridged ?? [])];
}

/** Whether there is a single answer to what the volts are, wherever something was read. */
function hasAnswer({ gauge, used, house }: Study): boolean {
  const { operation } = gauge;
  const nodes = used.flatMap(({ observation }) => {
    if (observation.kind !== 'figure') return [];
    const { spot } = observation;
    return spot.kind === 'amps' ? [house.branches[spot.branch]!.a] : [spot.a];
  });
  return nodes.every((node) => operation.isSound(operation.islands.list[operation.islands.ofNode[node]!]!));
}

function notesOf(study: Study, blocks: readonly number[]): string[] {
  const notes: string[] = [];
  if (blocks.length === 0) notes.push('no readings are recorded');
  for (const { reason } of study.taken) if (reason !== undefined && !notes.includes(reason)) notes.push(reason);
  return notes;
}

/** The variants that carry a suspect's belief; the lesser the belief, the fewer. */
function withFewVariants(one: Ranked): Ranked {
  const most = one.belief < MINOR_BELIEF ? 2 : MOST_VARIANTS;
  const [best] = one.variants;
  if (best === undefined || one.variants.length <= most) return one;
  const step = (one.variants.length - 1) / (most - 1);
  const variants = Array.from({ length: most }, (_, k) => one.variants[Math.round(k * step)]!);
  return { ...one, variants: variants.filter(({ belief }) => belief > NO_BELIEF * best.belief) };
}

function likeliest(ranked: readonly Ranked[]): readonly Ranked[] {
  return [...ranked].sort((x, y) => y.belief - x.belief).slice(0, MOST_GROUPED);
}

/** A probe on a conductor's bare end tells more than one on a screw: it is not counted when groups are made. */
function isAtTerminals({ asked }: Ask): boolean {
  if (asked.of.kind !== 'volts' && asked.of.kind !== 'ohms') return true;
  return asked.of.between.every(({ kind }) => kind === 'end');
}

/** What a reading is of, by name; undefined for the mains, which may be read as often as one likes. */
function subjectOf(state: ReadingState, of: ReadingOf | Asked['of']): string | undefined {
  if (of.kind === 'mains') return undefined;
  const bridged = state.kind === 'off' ? [] : (state.bridged ?? []);
  const how = [state.kind, ...[...(state.pressed ?? [])].sort(), '+', ...[...bridged].sort()].join(' ');
  if (of.kind === 'sign') return `${how} ${of.part}`;
  const points = of.kind === 'amps' ? [of.through] : of.between;
  return `${how} ${of.kind} ${points.map(meterPointName).sort().join(' ')}`;
}

function nearbyCircuits(house: House, suspects: readonly Ranked[]): ReadonlySet<string> {
  const names = new Set(suspects.flatMap(({ hypothesis }) => hypothesis?.parts ?? []));
  const circuits = house.analysis.circuits.filter(
    ({ supplies, devices, runs, jumpers }) =>
      names.size === 0 || [supplies, devices, runs, jumpers].some((list) => list.some((name) => names.has(name))),
  );
  const near = circuits.length > 0 ? circuits : house.analysis.circuits;
  return new Set(near.flatMap(({ circuit }) => circuitId(house, circuit.points[0]!) ?? []));
}

/** Joints that the likeliest suspects are about: their bare ends are worth a probe. */
function jointsOf(house: House, suspects: readonly Ranked[]): ReadonlySet<number> {
  const joints = new Set<number>();
  const ofWire = new Map(house.conductors.map(({ wire, ends }) => [wire, ends.flatMap(({ joint }) => joint ?? [])]));
  for (const { variants } of suspects.slice(0, MOST_JOINTS_OF)) {
    for (const { branch } of variants[0]?.variant.changes ?? []) {
      if (house.branches[branch]!.kind === 'joint') joints.add(branch);
      for (const joint of ofWire.get(branch) ?? []) joints.add(joint);
    }
  }
  return joints;
}

function placeOfReading(house: House, of: ReadingOf): string | undefined {
  if (of.kind === 'sign') return house.analysis.parts.get(of.part)?.place?.name ?? of.part;
  if (of.kind !== 'volts' && of.kind !== 'ohms') return undefined;
  const [point] = of.between;
  if (point.kind === 'conductor') return point.at;
  return placeOfPoint(house, pointOf(point.end));
}

function faultsOf(
  study: Study,
  groups: readonly Group[],
  fitting: readonly Ranked[],
  most: number,
): readonly ExplainedFault[] {
  const grouped = groups.flatMap(({ members }) =>
    members.map((one) => ({ one, sameAs: members.filter((other) => other !== one).map(whatOf) })),
  );
  const seen = new Set(grouped.map(({ one }) => one));
  const rest = fitting.filter((one) => !seen.has(one)).map((one) => ({ one, sameAs: [] as readonly string[] }));
  return [...grouped, ...rest]
    .filter(({ one }) => one.hypothesis !== undefined)
    .slice(0, most)
    .map(({ one, sameAs }) => ({
      what: one.hypothesis!.what,
      id: one.hypothesis!.id,
      kinds: one.hypothesis!.kinds,
      parts: one.hypothesis!.parts,
      likelihood: one.belief,
      predicts: predictionsOf(study, one),
      sameAs,
    }));
}

function whatOf({ hypothesis }: Ranked): string {
  return hypothesis?.what ?? 'the house is as recorded';
}

function predictionsOf({ gauge, used, house }: Study, { variants }: Ranked): readonly Prediction[] {
  const { variant } = variants[0]!;
  const alone = weigh(gauge, variant, []);
  return used.map(({ block, index, reading, observation }) => {
    const predicted = predict(gauge, variant, observation, alone);
    return {
      block,
      index,
      at: askedWords(house, reading),
      predicted,
      words: predictedWords(predicted),
      fits: agreesWith(observation, predicted) !== false,
    };
  });
}

function excludedOf(study: Study, { faults }: Ranking, most: number) {
  return faults
    .filter(({ excludedBy }) => excludedBy !== undefined)
    .slice(0, most)
    .map(({ hypothesis, variants, excludedBy }) => {
      const { block, index, reading, observation } = study.used[excludedBy!]!;
      const predicted = predict(
        study.gauge,
        variants[0]!.variant,
        observation,
        weigh(study.gauge, variants[0]!.variant, []),
      );
      const shown = predictedWords(predicted);
      const sounds = predicted.kind === 'sign' && /^(rings|hums)\b/.test(shown);
      const would = sounds ? shown.replace(/^(ring|hum)s/, '$1') : `be ${shown}`;
      const by = `${askedWords(study.house, reading)}: it would ${would}`;
      return { what: hypothesis!.what, id: hypothesis!.id, by, block, index };
    });
}
