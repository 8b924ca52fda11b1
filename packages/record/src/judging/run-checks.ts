/** All findings of a record: every check run, one mistake kept to one finding, acceptances honoured, in a settled order. */

import { clusterAnalyses } from '../analyse/analyse.js';
import type { Analysis } from '../analysis-types.js';
import { recordChecks } from '../checks/registry.js';
import type { Raised, RecordCheck } from '../checks/types.js';
import type { Finding } from '../finding.js';
import { keepOnePerMistake, PRECEDENT_CODES } from './precedence.js';
import { accepts, raise, raisedBy, severityRank } from './raise.js';

/** Codes of checks that conclude from one cluster alone, so that what they say of it holds until it changes. All others see the whole record. */
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
  'colour-not-in-cable',
  'terminal-crowded',
  'terminal-unused',
  'run-place-mismatch',
  'short-record',
  'assumed-rating',
]);

const narrow = recordChecks.filter(({ code }) => WITHIN_CLUSTER.has(code));
const wide = recordChecks.filter(({ code }) => !WITHIN_CLUSTER.has(code));

/** What the checks conclude; `fixes` stays empty here, for `fixesFor` to work out when they are asked for. */
export function runChecks(analysis: Analysis): Finding[] {
  return inOrder(settledFindings(analysis).map((raised) => asFinding(analysis, raised)));
}

const settled = new WeakMap<Analysis, readonly Raised[]>();

/** Findings after precedence, before their words are made. */
export function settledFindings(analysis: Analysis): readonly Raised[] {
  let known = settled.get(analysis);
  if (known === undefined) {
    const clusters = clusterAnalyses(analysis);
    known = (clusters && settledByCluster(analysis, clusters)) ?? settledInOnePiece(analysis);
    settled.set(analysis, known);
  }
  return known;
}

function settledInOnePiece(analysis: Analysis): readonly Raised[] {
  const kept = keptOf(analysis, recordChecks);
  return [...kept, ...lateOf(recordChecks, analysis, kept)];
}

/** Undefined where clusters can't be settled apart: a check of the whole record has a say in which finding yields to which. */
function settledByCluster(analysis: Analysis, clusters: readonly Analysis[]): readonly Raised[] | undefined {
  const raised = wide.flatMap((check) => raisedBy(check, analysis));
  if (raised.some(({ check }) => PRECEDENT_CODES.has(check.code))) return undefined;
  const kept: Raised[] = [...raised];
  const late: Raised[] = [];
  for (const cluster of clusters) {
    const own = keptWithin(cluster);
    const touching = raised.filter(({ parts }) => parts.some((name) => isIn(cluster, name)));
    kept.push(...own);
    late.push(...(touching.length === 0 ? lateWithin(cluster) : lateOf(narrow, cluster, [...touching, ...own])));
  }
  return [...kept, ...late, ...lateOf(wide, analysis, kept)];
}

function isIn({ parts, runs, jumpers, installation }: Analysis, name: string): boolean {
  return (
    parts.has(name) || runs.has(name) || jumpers.has(name) || installation.splices.some((one) => one.name === name)
  );
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

/** What is said of a cluster holds as long as its analysis is taken over. */
const keptWithin = perAnalysis((cluster) => keptOf(cluster, narrow));
const lateWithin = perAnalysis((cluster) => lateOf(narrow, cluster, keptWithin(cluster)));

function perAnalysis<T extends object>(make: (analysis: Analysis) => T): (analysis: Analysis) => T {
  const made = new WeakMap<Analysis, T>();
  return (analysis) => {
    const known = made.get(analysis) ?? make(analysis);
    made.set(analysis, known);
    return known;
  };
}

/** Sentences cost more than findings: one that stays is not worded again. */
const words = new WeakMap<Raised, string>();

function messageOf(raised: Raised): string {
  if (typeof raised.message === 'string') return raised.message;
  const known = words.get(raised) ?? raised.message();
  words.set(raised, known);
  return known;
}

function asFinding(analysis: Analysis, raised: Raised): Finding {
  const { check, severity, path, related = [], parts } = raised;
  const acceptance = check.forbidsAccepting
    ? undefined
    : analysis.installation.accepts.find((accept) => accepts(accept, check.code, parts));
  const finding = { code: check.code, severity, path, message: messageOf(raised), related, parts, fixes: [] };
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
