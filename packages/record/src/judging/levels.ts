/** Levels of checks that somebody has set: how grave a code counts, or that it is not wanted at all. Dangers keep theirs. */

import { checkSummaries } from '../checks/index.js';
import type { Severity } from '../finding.js';
import { nearestNames } from '../probe/nearest.js';
import { didYouMean, quote, quotedList } from './words.js';

export type Level = Severity | 'off';

/** By code. */
export type Levels = ReadonlyMap<string, Level>;

const LEVELS: readonly Level[] = ['error', 'warning', 'info', 'hint', 'off'];

export interface ReadLevels {
  readonly levels: Levels;
  /** One sentence for each entry that can't be honoured; the others hold. */
  readonly problems: readonly string[];
}

/** Settings of any shape, such as `{ "drop-high": "off" }`. What can't be honoured is left out and said. */
export function levelsFrom(settings: unknown): ReadLevels {
  const levels = new Map<string, Level>();
  const problems: string[] = [];
  if (settings === undefined || settings === null) return { levels, problems };
  if (typeof settings !== 'object' || Array.isArray(settings)) {
    return { levels, problems: ['Levels are an object of codes, such as { "drop-high": "off" }.'] };
  }
  for (const [code, level] of Object.entries(settings)) {
    const problem = problemOf(code, level);
    if (problem === undefined) levels.set(code, level as Level);
    else problems.push(problem);
  }
  return { levels, problems };
}

function problemOf(code: string, level: unknown): string | undefined {
  const check = checkSummaries.get(code);
  if (check === undefined) {
    return `${quote(code)} is no check's code.${didYouMean(nearestNames(code, [...checkSummaries.keys()]))}`;
  }
  if (!LEVELS.includes(level as Level)) {
    return `${quote(code)} can be ${quotedList(LEVELS, 'or')}, not ${quote(String(level))}.`;
  }
  if (level === 'error') return undefined;
  if (check.forbidsAccepting) return `${quote(code)} is a danger: its level stays at error.`;
  if (!check.acceptable && check.severity === 'error') {
    return `${quote(code)} keeps part of the record from being read: its level stays at error.`;
  }
  return undefined;
}

/** Findings with their levels, in the order given; those that are off are left out. */
export function withLevels<F extends { readonly code: string; readonly severity: Severity }>(
  findings: readonly F[],
  levels: Levels,
): readonly F[] {
  if (levels.size === 0) return findings;
  return findings.flatMap((finding) => {
    const level = levels.get(finding.code) ?? finding.severity;
    return level === 'off' ? [] : [level === finding.severity ? finding : { ...finding, severity: level }];
  });
}

/** Both at once: `levelsFrom` and `withLevels`. */
export function applyLevels<F extends { readonly code: string; readonly severity: Severity }>(
  findings: readonly F[],
  settings: unknown,
): { readonly findings: readonly F[]; readonly problems: readonly string[] } {
  const { levels, problems } = levelsFrom(settings);
  return { findings: withLevels(findings, levels), problems };
}
