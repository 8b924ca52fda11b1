/**
 * One mistake, one finding. A finding yields to one that ranks above it where both are about the same circuit or part and, as far as the
 * mend of the upper one can be tried out, the lower one is gone with it; what outlives the mend is a mistake of its own and stays.
 */

import type { Raised } from '../checks/types.js';
import type { Analysis } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import type { RecordChange } from '../finding.js';
import { raisedBy, severityRank } from './raise.js';
import { studyOf } from './study.js';
import { trial, whatIf } from './what-if.js';

type Scope = 'circuit' | 'part';

/** For each code the codes that yield to it, and whether sharing a circuit is enough or a part must be shared. */
const yielding: readonly (readonly [code: string, scope: Scope, yields: readonly string[]])[] = [
  [
    'supply-shorted',
    'circuit',
    [
      'chime-silenced',
      'chime-never-rings',
      'coil-never-pulls-in',
      'chime-energized-idle',
      'ring-setting-unknown',
      'always-dead-contact',
      'terminal-unused',
      'never-fed',
      'supply-overloaded',
      'contact-overloaded',
      'conductor-overcurrent',
      'device-overvoltage',
      'shared-return',
    ],
  ],
  ['supply-shorted', 'part', ['terminal-crowded']],
  [
    'supplies-parallel',
    'circuit',
    [
      'chime-never-rings',
      'coil-never-pulls-in',
      'wrong-kind',
      'device-overvoltage',
      'device-undervoltage',
      'load-collapses',
      'supply-overloaded',
      'supply-too-small',
      'shared-return',
    ],
  ],
  [
    'wrong-kind',
    'part',
    [
      'device-overvoltage',
      'device-undervoltage',
      'load-collapses',
      'chime-never-rings',
      'coil-never-pulls-in',
      'chime-energized-idle',
      'chime-hums',
      'bypass-missing',
    ],
  ],
  ['wrong-kind', 'circuit', ['supply-overloaded', 'drop-high']],
  [
    'line-meets-low-voltage',
    'circuit',
    ['neutral-missing', 'ground-missing', 'joint-not-boxed', 'hot-neutral-swapped'],
  ],
  [
    'no-load-unlikely',
    'circuit',
    ['chime-never-rings', 'device-undervoltage', 'load-collapses', 'supply-overloaded', 'reading-impossible'],
  ],
  [
    'device-overvoltage',
    'circuit',
    [
      'supply-overloaded',
      'supply-too-small',
      'contact-overloaded',
      'resistor-overheats',
      'conductor-overcurrent',
      'chime-hums',
      'drop-high',
    ],
  ],
  ['device-overvoltage', 'part', ['chime-never-rings', 'coil-never-pulls-in', 'device-undervoltage', 'load-collapses']],
  ['polarity-reversed', 'circuit', ['colour-habit']],
  ['resistor-overheats', 'part', ['supply-overloaded']],
  [
    'never-fed',
    'part',
    [
      'device-undervoltage',
      'load-collapses',
      'chime-never-rings',
      'coil-never-pulls-in',
      'bypass-missing',
      'terminal-unused',
    ],
  ],
  ['never-fed', 'circuit', ['always-dead-contact']],
  [
    'chime-energized-idle',
    'circuit',
    [
      'always-dead-contact',
      'terminal-unused',
      'supply-overloaded',
      'supply-headroom',
      'load-collapses',
      'chime-never-rings',
      'coil-never-pulls-in',
    ],
  ],
  ['chime-energized-idle', 'part', ['chime-hums', 'chime-never-rings', 'coil-never-pulls-in']],
  [
    'supply-too-small',
    'circuit',
    [
      'supply-overloaded',
      'supply-headroom',
      'load-collapses',
      'device-undervoltage',
      'chime-never-rings',
      'coil-never-pulls-in',
      'drop-high',
    ],
  ],
  [
    'supply-overloaded',
    'circuit',
    ['load-collapses', 'device-undervoltage', 'chime-never-rings', 'coil-never-pulls-in', 'supply-headroom'],
  ],
  ['load-collapses', 'part', ['device-undervoltage', 'wire-too-thin', 'terminal-crowded']],
  ['load-collapses', 'circuit', ['supply-overloaded', 'drop-high', 'chime-never-rings', 'coil-never-pulls-in']],
  ['device-undervoltage', 'part', ['wire-too-thin', 'drop-high']],
  ['chime-never-rings', 'part', ['wire-too-thin', 'drop-high', 'chime-hums', 'terminal-unused']],
  ['chime-never-rings', 'circuit', ['always-dead-contact']],
  ['coil-never-pulls-in', 'part', ['device-undervoltage', 'wire-too-thin', 'drop-high', 'terminal-unused']],
  ['coil-energized-at-rest', 'circuit', ['always-dead-contact']],
  ['lock-never-releases', 'circuit', ['always-dead-contact']],
  ['lock-not-held', 'circuit', ['always-dead-contact']],
  ['bypass-missing', 'part', ['chime-hums', 'supply-headroom']],
  ['always-dead-contact', 'part', ['terminal-unused']],
  [
    'line-meets-low-voltage',
    'circuit',
    ['never-fed', 'chime-never-rings', 'always-dead-contact', 'terminal-unused', 'conductor-one-end', 'supply-shorted'],
  ],
  ['neutral-missing', 'circuit', ['conductor-one-end']],
  ['ground-missing', 'circuit', ['conductor-one-end']],
  ['conductor-reused', 'part', ['conductor-one-end', 'colour-not-in-cable']],
];

/** Codes that yield or are yielded to. */
export const PRECEDENT_CODES: ReadonlySet<string> = new Set(yielding.flatMap(([code, , yields]) => [code, ...yields]));

export function keepOnePerMistake(analysis: Analysis, raised: readonly Raised[]): readonly Raised[] {
  const places = new Map(raised.map((one) => [one, componentsOf(analysis, one.parts)] as const));
  const dropped = new Set<Raised>();
  for (const [code, scope, yields] of yielding) {
    for (const upper of raised) {
      if (upper.check.code !== code || dropped.has(upper)) continue;
      // A winding that is only tired has consequences worth a word; a slip of the pen has none.
      if (code === 'no-load-unlikely' && upper.severity !== 'error') continue;
      for (const lower of raised) {
        if (lower === upper || dropped.has(lower) || !yields.includes(lower.check.code)) continue;
        if (severityRank[lower.severity] < severityRank[upper.severity]) continue;
        const shared =
          scope === 'part'
            ? lower.parts.some((part) => upper.parts.includes(part))
            : places.get(lower)!.some((place) => places.get(upper)!.includes(place));
        if (shared && !outlives(analysis, raised, upper, lower)) dropped.add(lower);
      }
    }
  }
  for (const lower of raised) {
    if (isWarningOfAMissingBypass(raised, lower) || isShortOfReversedPoles(analysis, raised, lower)) dropped.add(lower);
  }
  return raised.filter((one) => !dropped.has(one));
}

/** A starved doorbell that has its error elsewhere, or only a warning, needs no second word beside the missing bypass. */
function isWarningOfAMissingBypass(raised: readonly Raised[], lower: Raised): boolean {
  if (lower.check.code !== 'device-undervoltage' && lower.check.code !== 'load-collapses') return false;
  if (lower.severity !== 'warning') return false;
  return raised.some(({ check, parts }) => check.code === 'bypass-missing' && parts[0] === lower.parts[0]);
}

/** Where plus and minus are exchanged, a diode across a coil shorts the supply: that is one mistake, and neither can be accepted. */
function isShortOfReversedPoles(analysis: Analysis, raised: readonly Raised[], lower: Raised): boolean {
  if (lower.check.code !== 'supply-shorted') return false;
  const hasDiode = lower.parts.some((name) =>
    analysis.parts.get(name)?.elements.some(({ element }) => element.kind === 'diode'),
  );
  return (
    hasDiode && raised.some(({ check, parts }) => check.code === 'polarity-reversed' && parts.includes(lower.parts[0]!))
  );
}

/** What a short leaves as it was: figures of states in which the supply is not shorted. */
const APART_FROM_A_SHORT = new Set([
  'supply-overloaded',
  'contact-overloaded',
  'conductor-overcurrent',
  'device-overvoltage',
]);

/**
 * Whether the lower finding is still there whichever of the upper one's mends is made, and that of a bypass that is missing as well. A drop
 * never is: it is told with the shortfall that it causes.
 */
function outlives(analysis: Analysis, raised: readonly Raised[], upper: Raised, lower: Raised): boolean {
  if (lower.check.code === 'drop-high') return false;
  if (upper.check.code === 'load-collapses' && lower.check.code === 'chime-never-rings') return false;
  if (upper.check.code === 'device-overvoltage' && !isThereWithout(analysis, upper, lower)) return false;
  const mends = [...(upper.mends?.() ?? [])].filter(({ isGuess }) => isGuess !== true);
  if (mends.length === 0) return upper.check.code === 'supply-shorted' && APART_FROM_A_SHORT.has(lower.check.code);
  const bypasses = severityRank[upper.severity] === 0 ? missingBypasses(raised, lower) : [];
  return mends.every(({ changes }) => {
    const after = whatIf(analysis, [...upper.parts, ...lower.parts], [...changes, ...bypasses]);
    return raisedBy(lower.check, after).some(
      ({ parts, severity }) => parts[0] === lower.parts[0] && severityRank[severity] <= severityRank[lower.severity],
    );
  });
}

/** Whether the lower finding is still there with the part out that the upper one is mostly about. */
function isThereWithout(analysis: Analysis, upper: Raised, lower: Raised): boolean {
  const [out] = upper.parts;
  if (lower.check.code !== 'conductor-overcurrent' || out === undefined) return true;
  const after = trial(analysis, [...upper.parts, ...lower.parts], `without ${out}`, (around) => ({
    ...around,
    devices: around.devices.filter(({ name }) => name !== out),
  }));
  return raisedBy(lower.check, after).some(({ parts }) => parts[0] === lower.parts[0]);
}

/** What puts in the bypass that the part of a finding lacks, as far as one is missing. */
function missingBypasses(raised: readonly Raised[], { parts }: Raised): readonly RecordChange[] {
  return raised.flatMap((one) => {
    if (one.check.code !== 'bypass-missing' || one.parts[0] !== parts[0]) return [];
    const [bypass] = one.mends?.() ?? [];
    return bypass?.changes ?? [];
  });
}

/** Everything that parts, runs and jumpers hang together with. */
export function componentsOf(analysis: Analysis, names: readonly string[]): readonly string[] {
  const { topology } = studyOf(analysis);
  const components = new Set<string>();
  for (const name of names) {
    const part = analysis.parts.get(name);
    for (const { a } of part?.elements ?? []) components.add(topology.componentOf(a));
    for (const { name: terminal } of part?.terminals ?? []) components.add(topology.componentOf(`${name}.${terminal}`));
    for (const { from, to } of analysis.runs.get(name)?.conductors ?? []) {
      for (const end of [from, to]) if (end !== undefined) components.add(topology.componentOf(pointOf(end)));
    }
    const jumper = analysis.jumpers.get(name);
    if (jumper !== undefined) components.add(topology.componentOf(pointOf(jumper.from)));
  }
  return [...components];
}
