/** All findings of a record: every check run, one mistake kept to one finding, acceptances honoured, in a settled order. */

import { type AnalysedApart, takenApart } from '../analyse/analyse.js';
import { keptWith } from '../analyse/lazily.js';
import type { Analysis } from '../analysis-types.js';
import { recordChecks } from '../checks/registry.js';
import type { Raised, RecordCheck } from '../checks/types.js';
import type { Finding } from '../finding.js';
import { inTradeWords } from '../regions/regions.js';
import { keepOnePerMistake, PRECEDENT_CODES } from './precedence.js';
import { accepts, raise, raisedBy, severityRank } from './raise.js';
import { withRightArticles } from './words.js';

/**
 * Codes of checks that conclude from what a `Cluster` names alone, so that what they say of it holds until that changes. All others see
 * the whole record, at every change of it.
 */
const WITHIN_CLUSTER: ReadonlySet<string> = new Set([
  'supply-shorted',
  'supplies-parallel',
  'wrong-kind',
  'polarity-reversed',
  'device-overvoltage',
  'supply-too-small',
  'supply-above-maximum',
  'supply-overloaded',
  'supply-headroom',
  'load-collapses',
  'device-undervoltage',
  'chime-never-rings',
  'chime-energized-idle',
  'chime-hums',
  'chime-silenced',
  'coil-never-pulls-in',
  'coil-energized-at-rest',
  'lock-never-releases',
  'lock-not-held',
  'bypass-missing',
  'ring-setting-unknown',
  'no-load-unlikely',
  'class2-exceeded',
  'lit-push-on-electronic-chime',
  'never-fed',
  'always-dead-contact',
  'conductor-overcurrent',
  'contact-overloaded',
  'resistor-overheats',
  'wire-too-thin',
  'drop-high',
  'conductor-one-end',
  'conductor-reused',
  'terminal-crowded',
  'terminal-unused',
  'run-place-mismatch',
  'short-record',
  'shared-return',
  'colour-habit',
  'standby-too-short',
  'budget-exceeded',
  'supply-inaccessible',
  'outdoor-part-indoors-only',
  'assumed-rating',
]);

/** The check that gathers what it finds all over the record into one finding, which a comparison has cluster by cluster. */
const GATHERED = 'feed-unrecorded';

const narrow = recordChecks.filter(({ code }) => WITHIN_CLUSTER.has(code));
const wide = recordChecks.filter(({ code }) => !WITHIN_CLUSTER.has(code));

/** What the checks conclude; `fixes` stays empty here, for `fixesFor` to work out when they are asked for. */
export function runChecks(analysis: Analysis): Finding[] {
  return inOrder(settledFindings(analysis).map((raised) => asFinding(analysis, raised)));
}

export interface ConcludedOfTwo {
  readonly before: readonly Finding[];
  readonly after: readonly Finding[];
}

/**
 * What the checks conclude of two records, of which the later took over what it could of the earlier one's analysis. What is concluded of
 * clusters that are the same in both is left out of both, where that can be told apart from the rest.
 */
export function runChecksWhereDifferent(before: Analysis, after: Analysis): ConcludedOfTwo {
  const apart = settledWhereDifferent(before, after);
  if (!apart) return { before: runChecksApart(before), after: runChecksApart(after) };
  const findings = (analysis: Analysis, raised: readonly Raised[]): Finding[] =>
    inOrder(raised.map((one) => asFinding(analysis, one)));
  return { before: findings(before, apart.before), after: findings(after, apart.after) };
}

/** What the checks conclude, to be compared: what is gathered from the whole record into one finding is told of each cluster by itself. */
export function runChecksApart(analysis: Analysis): Finding[] {
  const pieces = takenApart(analysis)?.clusters ?? [analysis];
  const gathered = pieces.flatMap((piece) => gatheredWithin(piece).map((raised) => asFinding(analysis, raised)));
  return inOrder([...runChecks(analysis).filter(({ code }) => code !== GATHERED), ...gathered]);
}

function settledWhereDifferent(
  before: Analysis,
  after: Analysis,
): { readonly before: readonly Raised[]; readonly after: readonly Raised[] } | undefined {
  const [mine, its] = [takenApart(before), takenApart(after)];
  const accepted = [before, after].flatMap(({ installation }) => installation.accepts);
  // Whether such an acceptance is of use shows in the whole record only.
  if (!mine || !its || accepted.some(({ on }) => on === undefined)) return undefined;
  const also = new Set(its.clusters);
  const shared = new Set(mine.clusters.filter((cluster) => also.has(cluster)));
  for (const { on } of accepted) for (const side of [mine, its]) shared.delete(side.clusterOf(on!)!);
  const one = settledByCluster(before, mine, shared);
  const other = settledByCluster(after, its, shared);
  const apart = (settled: readonly Raised[], { clusters }: AnalysedApart): readonly Raised[] => [
    ...settled.filter(({ check }) => check.code !== GATHERED),
    ...clusters.flatMap((cluster) => (shared.has(cluster) ? [] : gatheredWithin(cluster))),
  ];
  return one && other && { before: apart(one, mine), after: apart(other, its) };
}

const settled = new WeakMap<Analysis, readonly Raised[]>();

/** Findings after precedence, before their words are made. */
export function settledFindings(analysis: Analysis): readonly Raised[] {
  let known = settled.get(analysis);
  if (known === undefined) {
    const apart = takenApart(analysis);
    known = (apart && settledByCluster(analysis, apart)) ?? settledInOnePiece(analysis);
    settled.set(analysis, known);
  }
  return known;
}

function settledInOnePiece(analysis: Analysis): readonly Raised[] {
  const kept = keptOf(analysis, recordChecks);
  return [...kept, ...lateOf(recordChecks, analysis, kept)];
}

/** Undefined where clusters can't be settled apart: a check of the whole record has a say in which finding yields to which. */
function settledByCluster(
  analysis: Analysis,
  { clusters, clusterOf }: AnalysedApart,
  except: ReadonlySet<Analysis> = new Set(),
): readonly Raised[] | undefined {
  const raised = wide.flatMap((check) => raisedBy(check, analysis));
  if (raised.some(({ check }) => PRECEDENT_CODES.has(check.code))) return undefined;
  const kept: Raised[] = [...raised];
  const late: Raised[] = [];
  const touching = raisedByCluster(raised, clusterOf);
  for (const cluster of clusters) {
    if (except.has(cluster)) continue;
    kept.push(...keptWithin(cluster));
    late.push(...lateWithin(cluster, touching.get(cluster) ?? []));
  }
  return [...kept, ...late, ...lateOf(wide, analysis, kept)];
}

/** What is said of the whole record, with the names in each cluster that it is about. */
function raisedByCluster(raised: readonly Raised[], clusterOf: AnalysedApart['clusterOf']): Map<Analysis, Raised[]> {
  const byCluster = new Map<Analysis, Raised[]>();
  for (const one of raised) {
    const parts = new Map<Analysis, string[]>();
    for (const name of one.parts) {
      const cluster = clusterOf(name);
      if (cluster !== undefined) parts.set(cluster, [...(parts.get(cluster) ?? []), name]);
    }
    for (const [cluster, names] of parts) {
      byCluster.set(cluster, [...(byCluster.get(cluster) ?? []), { ...one, parts: names }]);
    }
  }
  return byCluster;
}

function keptOf(analysis: Analysis, checks: readonly RecordCheck[]): readonly Raised[] {
  const raised = checks.flatMap((check) => raisedBy(check, analysis));
  return keepOnePerMistake(analysis, raised);
}

function lateOf(checks: readonly RecordCheck[], analysis: Analysis, kept: readonly Raised[]): readonly Raised[] {
  const late: Raised[] = [];
  for (const check of checks) check.runAfter(analysis, kept, (report) => late.push(raise(check, report)));
  return late;
}

const lateOfClusters = new WeakMap<Analysis, { readonly key: string; readonly late: readonly Raised[] }>();

/** What is said of a cluster holds as long as its analysis is taken over. */
const keptWithin = keptWith((cluster: Analysis) => keptOf(cluster, narrow));

const gatheredWithin = keptWith((cluster: Analysis) =>
  wide.filter(({ code }) => code === GATHERED).flatMap((check) => raisedBy(check, cluster)),
);

/** `touching`: what is said of the cluster by checks of the whole record. */
function lateWithin(cluster: Analysis, touching: readonly Raised[]): readonly Raised[] {
  const key = touching.map(({ check, severity, parts }) => [check.code, severity, ...parts].join(' ')).join('\n');
  const known = lateOfClusters.get(cluster);
  if (known?.key === key) return known.late;
  const late = lateOf(narrow, cluster, [...touching, ...keptWithin(cluster)]);
  lateOfClusters.set(cluster, { key, late });
  return late;
}

/** Sentences cost more than findings: one that stays is not worded again. */
const messageOf = keptWith(({ message }: Raised) => (typeof message === 'string' ? message : message()));

function asFinding(analysis: Analysis, raised: Raised): Finding {
  const { check, severity, path, parts } = raised;
  const { profile } = analysis.installation;
  const said = (sentence: string) => inTradeWords(profile, withRightArticles(sentence));
  const related = (raised.related ?? []).map((one) => ({ ...one, message: said(one.message) }));
  const acceptance = check.forbidsAccepting
    ? undefined
    : analysis.installation.accepts.find((accept) => accepts(accept, check.code, parts));
  const finding = { code: check.code, severity, path, message: said(messageOf(raised)), related, parts, fixes: [] };
  return acceptance === undefined ? finding : { ...finding, accepted: { because: acceptance.because } };
}

function inOrder(findings: readonly Finding[]): Finding[] {
  const keyOf = ({ severity, path, code, message }: Finding) => [severityRank[severity], path, code, message] as const;
  return [...findings].sort((one, other) => {
    const mine = keyOf(one);
    const its = keyOf(other);
    for (let place = 0; place < mine.length; place++) {
      if (mine[place]! !== its[place]!) return mine[place]! < its[place]! ? -1 : 1;
    }
    return 0;
  });
}
