/** A comparison as lists of short lines, for every way of printing it. Names stand between backticks. */

import { formatLength, formatShare, formatVolts } from '@ohmstead/circuit';
import type {
  ComparedFinding,
  Comparison,
  ConductorDifference,
  FactDifference,
  FigureDifference,
  JumperEnds,
  Pair,
  PartDifference,
  RunDifference,
} from '@ohmstead/record';
import { inTradeWords } from '@ohmstead/record';
import { none } from './figures.js';
import { severityWords, stateWords, upperFirst, worstFirst } from './words.js';

interface ChangeLine {
  /** "added", "moved": what was done, in a word or two. */
  readonly change: string;
  readonly words: string;
}

interface ChangeGroup {
  readonly heading: string;
  readonly lines: readonly ChangeLine[];
}

interface FigureLine {
  readonly what: string;
  readonly before: string;
  readonly after: string;
  /** "while `porch-button` is held"; two where what was worst before is not so after: "before at rest", "after while …". */
  readonly when: readonly string[];
}

interface FindingLine {
  readonly state: 'gone' | 'new';
  readonly severity: string;
  readonly code: string;
  readonly message: string;
}

export interface CompareView {
  readonly before: string;
  readonly after: string;
  readonly verdict: string;
  readonly groups: readonly ChangeGroup[];
  readonly figures: readonly FigureLine[];
  readonly findings: readonly FindingLine[];
  readonly kept: string;
}

export function compareView(comparison: Comparison): CompareView {
  const { parts, runs, conductors, jumpers, leads, places, accepts, findings, profile } = comparison;
  const lengths = profile.after === 'north-america' ? 'feet' : 'metres';
  const trade = profile.after ?? profile.before ?? '';
  const groups: ChangeGroup[] = [
    { heading: 'Parts', lines: parts.map(partLine) },
    { heading: 'Cables', lines: runs.map((run) => runLine(run, lengths)) },
    { heading: 'Conductors', lines: conductors.map(conductorLine) },
    {
      heading: inTradeWords(trade, 'Jumpers and leads'),
      lines: [
        // No other line is put into words of the trade: labels stand in them, which are word for word.
        ...jumpers.map(({ kind, change, before, after }) => ({
          change,
          words: inTradeWords(trade, jumperWords(kind, before, after)),
        })),
        ...leads.map(({ part, terminal, change, before, after }) => ({
          change,
          words: `lead ${quote(`${part.after ?? part.before}.${terminal}`)}: ${endWords(before)}, now ${endWords(after)}`,
        })),
      ],
    },
    {
      heading: 'Places',
      lines: places.map(({ name, changes, facts }) => ({
        change: changes.join(', '),
        words: [nameWords(name), ...facts.map(factWords)].join('; '),
      })),
    },
    {
      heading: 'Accepted findings',
      lines: accepts.map(({ code, on, because, change }) => ({
        change,
        words: `${quote(code)}${on === null ? '' : ` on ${quote(on)}`}: ${because}`,
      })),
    },
  ].filter(({ lines }) => lines.length > 0);
  return {
    before: titleOf(comparison.title.before),
    after: titleOf(comparison.title.after),
    verdict: verdictOf(comparison),
    groups,
    figures: comparison.figures.map(figureLine),
    findings: [...findingLines(findings.new, 'new'), ...findingLines(findings.gone, 'gone')],
    kept:
      findings.kept === 0
        ? ''
        : `${findings.kept} ${findings.kept === 1 ? 'finding' : 'findings'} on what changed ${findings.kept === 1 ? 'is' : 'are'} in both.`,
  };
}

function verdictOf({ same, profile, findings }: Comparison): string {
  if (profile.before !== profile.after) return `The profile was ${profile.before} and is ${profile.after}.`;
  if (!same) return '';
  return findings.gone.length + findings.new.length === 0
    ? 'The wiring is the same.'
    : 'The wiring is the same; what is said of it is not.';
}

const quote = (name: string): string => `\`${name}\``;

function titleOf(title: string | null): string {
  return title === null || title.trim() === '' ? 'Untitled record' : title;
}

/** "`porch-cam`", or "`old`, now `new`". */
function nameWords({ before, after }: Pair<string>): string {
  if (before === null || after === null) return quote((before ?? after)!);
  return before === after ? quote(before) : `${quote(before)}, now ${quote(after)}`;
}

function factWords({ fact, before, after }: FactDifference): string {
  if (before === null) return `${fact} ${after}`;
  return after === null ? `${fact} ${before} no longer stated` : `${fact} ${before}, now ${after}`;
}

function partLine({ kind, name, changes, type, place, facts }: PartDifference): ChangeLine {
  const is = changes.includes('removed') ? 'before' : 'after';
  const said = [type[is] ?? kind, place[is] === null ? '' : `in ${place[is]}`].filter((word) => word !== '').join(' ');
  const now = changes.includes('added') || changes.includes('removed');
  const details = now
    ? [said]
    : [
        ...(type.before === type.after ? [] : [`${type.before ?? 'no type'}, now ${type.after ?? 'no type'}`]),
        ...(changes.includes('moved') ? [`${place.before ?? 'no place'}, now ${place.after ?? 'no place'}`] : []),
        ...facts.map(factWords),
      ];
  return {
    change: changes.join(', '),
    words: [nameWords(name), details.join('; ')].filter((one) => one !== '').join(': '),
  };
}

function runLine(run: RunDifference, lengths: 'feet' | 'metres'): ChangeLine {
  const { name, changes, cable, from, to, lengthMetres, facts } = run;
  const between = (side: 'before' | 'after'): string =>
    from[side] === null && to[side] === null ? '' : `from ${from[side] ?? '?'} to ${to[side] ?? '?'}`;
  const long = (side: 'before' | 'after'): string => {
    const metres = lengthMetres[side];
    return metres === null ? '' : formatLength(metres, lengths);
  };
  const details: string[] = [];
  if (changes.includes('added') || changes.includes('removed')) {
    const side = changes.includes('added') ? 'after' : 'before';
    details.push([cable[side] ?? '', between(side), long(side)].filter((one) => one !== '').join(', '));
  } else {
    if (changes.includes('replaced')) details.push(`${cable.before}, now ${cable.after}`);
    if (changes.includes('moved')) details.push(`${between('before')}, now ${between('after')}`);
    if (long('before') !== long('after')) {
      details.push(`${long('before') || 'no length'}, now ${long('after') || 'no length'}`);
    }
    details.push(...facts.filter(({ fact }) => fact !== 'cable').map(factWords));
  }
  return {
    change: changes.join(', '),
    words: [nameWords(name), details.join('; ')].filter((one) => one !== '').join(': '),
  };
}

export function endWords(end: string | null): string {
  if (end === null) return 'spare';
  return end === 'capped' || end === 'unknown' ? end : quote(end);
}

function conductorLine({ run, colour, change, before, after }: ConductorDifference): ChangeLine {
  const conductor = `${quote(colour)} of ${quote((run.after ?? run.before)!)}`;
  switch (change) {
    case 'landed':
      return { change, words: `${conductor} on ${endWords(after)}` };
    case 'lifted':
      return { change, words: `${conductor} off ${endWords(before)}${after === 'capped' ? ', capped' : ''}` };
    default:
      return { change, words: `${conductor}: ${endWords(before)}, now ${endWords(after)}` };
  }
}

function jumperWords(kind: string, before: JumperEnds | null, after: JumperEnds | null): string {
  const { from, to } = (after ?? before)!;
  const names = [before?.name, after?.name].filter((name): name is string => typeof name === 'string');
  const named = names.length === 0 ? '' : ` ${[...new Set(names)].map(quote).join(', now ')}`;
  return `${kind}${named} from ${quote(from)} to ${quote(to)}`;
}

function whenWords({ before, after }: FigureDifference['when']): string[] {
  const [was, is] = [before, after].map((state) => (state === null ? undefined : stateWords(state)));
  if (was !== undefined && is !== undefined && was !== is) return [`before ${was}`, `after ${is}`];
  return [is ?? was ?? []].flat();
}

function figureLine({ name, element, figure, unit, before, after, when }: FigureDifference): FigureLine {
  const figures = (value: number | null): string =>
    value === null ? none : unit === 'V' ? formatVolts(Math.abs(value)) : formatShare(value);
  return {
    what: `${nameWords(name)}, ${element}, ${figure}`,
    before: figures(before),
    after: figures(after),
    when: whenWords(when),
  };
}

function findingLines(findings: readonly ComparedFinding[], state: FindingLine['state']): FindingLine[] {
  return worstFirst(findings).map(({ severity, code, message, accepted }) => ({
    state,
    severity: accepted ? `accepted ${severity}` : upperFirst(severityWords[severity]).toLowerCase(),
    code,
    message,
  }));
}

export const figureBasis =
  'Volts are the least and most over every condition, low and high mains, warm and cold wire; shares are of the rated current at nominal mains.';
