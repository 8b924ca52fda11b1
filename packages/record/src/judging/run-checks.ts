/** All findings of a record: every check run, one mistake kept to one finding, acceptances honoured, in a settled order. */

import { type AnalysedApart, takenApart } from '../analyse/analyse.js';
import { Beside } from '../analyse/beside.js';
import { keptWith } from '../analyse/lazily.js';
import type { Analysis } from '../analysis-types.js';
import { recordChecks } from '../checks/registry.js';
import type { Raised, RecordCheck, Report } from '../checks/types.js';
import type { Finding } from '../finding.js';
import { inTradeWords } from '../regions/regions.js';
import { compare } from '../resolve/parts.js';
import { keepOnePerMistake, PRECEDENT_CODES } from './precedence.js';
import { accepts, raise, raisedBy, severityRank } from './raise.js';
import { withRightArticles } from './words.js';

/** The check that gathers what it finds all over the record into one finding, which a comparison has cluster by cluster. */
const GATHERED = 'feed-unrecorded';

const narrow = recordChecks.filter(({ reach }) => reach === 'cluster');
const wide = recordChecks.filter(({ reach }) => reach === 'record');

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
  const found = (analysis: Analysis, raised: readonly Raised[]): Finding[] =>
    inOrder(raised.map((one) => asFinding(analysis, one)));
  return { before: found(before, apart.before), after: found(after, apart.after) };
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

const settled = new Beside<Analysis, readonly Raised[]>();

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

/** Undefined where clusters can't be settled apart: a finding about several of them has a say in which finding yields to which. */
function settledByCluster(
  analysis: Analysis,
  { clusters, clusterOf }: AnalysedApart,
  except: ReadonlySet<Analysis> = new Set(),
): readonly Raised[] | undefined {
  const kept: Raised[] = [];
  const late: Raised[] = [];
  const within = new Map<Analysis, Raised[]>();
  const touching = new Map<Analysis, Touching[]>();
  for (const raised of wide.flatMap((check) => raisedByWide(check, analysis))) {
    const about = namesByCluster(raised, clusterOf);
    const isPrecedent = PRECEDENT_CODES.has(raised.check.code);
    if (isPrecedent && about.size === 1) {
      const [cluster] = about.keys();
      put(within, cluster!, raised);
      continue;
    }
    if (isPrecedent && [...about.keys()].some(hasPrecedent)) return undefined;
    kept.push(raised);
    for (const [cluster, names] of about) put(touching, cluster, { raised, names });
  }
  for (const cluster of clusters) {
    if (except.has(cluster)) continue;
    const settledHere = keptWithin(cluster, within.get(cluster) ?? NONE);
    for (const raised of settledHere) kept.push(raised);
    for (const raised of lateWithin(cluster, settledHere, touching.get(cluster) ?? NONE)) late.push(raised);
  }
  return [...kept, ...late, ...lateOf(wide, analysis, kept)];
}

const NONE: readonly never[] = [];

/** What is said of the whole record, with the names that it is about in one cluster. */
interface Touching {
  readonly raised: Raised;
  readonly names: readonly string[];
}

function namesByCluster({ parts }: Raised, clusterOf: AnalysedApart['clusterOf']): ReadonlyMap<Analysis, string[]> {
  const byCluster = new Map<Analysis, string[]>();
  for (const name of parts) {
    const cluster = clusterOf(name);
    if (cluster !== undefined) put(byCluster, cluster, name);
  }
  return byCluster;
}

function put<K, T>(lists: Map<K, T[]>, key: K, item: T): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [item]);
  else list.push(item);
}

const raisedOfReport = new Beside<Report, Raised>();

/** A report that a check has kept over an edit stays the conclusion that it was. */
function raisedByWide(check: RecordCheck, analysis: Analysis): readonly Raised[] {
  const raised: Raised[] = [];
  check.run(analysis, (report) => {
    const known = raisedOfReport.get(report) ?? raise(check, report);
    raisedOfReport.set(report, known);
    raised.push(known);
  });
  return raised;
}

function keptOf(analysis: Analysis, checks: readonly RecordCheck[]): readonly Raised[] {
  return keepOnePerMistake(
    analysis,
    checks.flatMap((check) => raisedBy(check, analysis)),
  );
}

function lateOf(checks: readonly RecordCheck[], analysis: Analysis, kept: readonly Raised[]): readonly Raised[] {
  const late: Raised[] = [];
  for (const check of checks) check.runAfter(analysis, kept, (report) => late.push(raise(check, report)));
  return late;
}

/** What is said of a cluster holds as long as its analysis is taken over. */
const raisedWithin = keptWith((cluster: Analysis) => narrow.flatMap((check) => raisedBy(check, cluster)));

function hasPrecedent(cluster: Analysis): boolean {
  return raisedWithin(cluster).some(({ check }) => PRECEDENT_CODES.has(check.code));
}

const keptOfClusters = new Beside<Analysis, { readonly of: readonly Raised[]; readonly kept: readonly Raised[] }>();

/** `also`: what checks of the whole record say of the cluster alone, and that may yield or be yielded to. */
function keptWithin(cluster: Analysis, also: readonly Raised[]): readonly Raised[] {
  const known = keptOfClusters.get(cluster);
  if (known !== undefined && isSameList(known.of, also, Object.is)) return known.kept;
  const raised = [...raisedWithin(cluster), ...also];
  if (also.length > 0) raised.sort((one, other) => placeOf.get(one.check)! - placeOf.get(other.check)!);
  const kept = keepOnePerMistake(cluster, raised);
  keptOfClusters.set(cluster, { of: also, kept });
  return kept;
}

const placeOf = new Map(recordChecks.map((check, place) => [check, place]));

const gatheredWithin = keptWith((cluster: Analysis) =>
  wide.filter(({ code }) => code === GATHERED).flatMap((check) => raisedBy(check, cluster)),
);

interface LateWithin {
  readonly kept: readonly Raised[];
  readonly touching: readonly Touching[];
  readonly late: readonly Raised[];
}

const lateOfClusters = new Beside<Analysis, LateWithin>();

function lateWithin(cluster: Analysis, kept: readonly Raised[], touching: readonly Touching[]): readonly Raised[] {
  const known = lateOfClusters.get(cluster);
  if (known?.kept === kept && isSameList(known.touching, touching, saysTheSame)) return known.late;
  const found = touching.map(({ raised, names }): Raised => ({ ...raised, parts: names }));
  const late = lateOf(narrow, cluster, [...found, ...kept]);
  lateOfClusters.set(cluster, { kept, touching, late });
  return late;
}

function saysTheSame(one: Touching, other: Touching): boolean {
  if (one.raised.check !== other.raised.check || one.raised.severity !== other.raised.severity) return false;
  return isSameList(one.names, other.names, Object.is);
}

function isSameList<T>(one: readonly T[], other: readonly T[], isSame: (one: T, other: T) => boolean): boolean {
  return one.length === other.length && one.every((item, index) => isSame(item, other[index]!));
}

/** Sentences cost more than findings: one that stays is not worded again. */
const messageOf = keptWith(({ message }: Raised) => (typeof message === 'string' ? message : message()));

interface AsFinding {
  readonly profile: string;
  readonly because: string | undefined;
  readonly finding: Finding;
}

const findings = new Beside<Raised, AsFinding>();

/** As it is accepted or not in a record: a conclusion that stays is the finding that it was. */
function asFinding({ installation: { profile, accepts: accepted } }: Analysis, raised: Raised): Finding {
  const { check, severity, path, parts } = raised;
  const because =
    check.forbidsAccepting || accepted.length === 0
      ? undefined
      : accepted.find((accept) => accepts(accept, check.code, parts))?.because;
  const known = findings.get(raised);
  if (known !== undefined && known.profile === profile && known.because === because) return known.finding;
  const said = (sentence: string) => inTradeWords(profile, withRightArticles(sentence));
  const related = (raised.related ?? []).map((one) => ({ ...one, message: said(one.message) }));
  const bare = { code: check.code, severity, path, message: said(messageOf(raised)), related, parts, fixes: [] };
  const finding = because === undefined ? bare : { ...bare, accepted: { because } };
  findings.set(raised, { profile, because, finding });
  return finding;
}

function inOrder(found: readonly Finding[]): Finding[] {
  return [...found].sort(
    (one, other) =>
      severityRank[one.severity] - severityRank[other.severity] ||
      compare(one.path, other.path) ||
      compare(one.code, other.code) ||
      compare(one.message, other.message),
  );
}
