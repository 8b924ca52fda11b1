/** What an explanation says, in order, whatever it is written on. Names stand between backticks. */

import type { ExplainedFault, Explanation, NextStep, ShownReading } from '@ohmstead/record';
import { upperFirst } from './words.js';

export interface Explained {
  readonly title: string;
  readonly profile: string;
  readonly explanation: Explanation;
  readonly readings: readonly ShownReading[];
}

export interface FaultView {
  /** "the contact of `porch-button` is stuck open" */
  readonly what: string;
  /** "62 %" */
  readonly share: string;
  /** Width of its bar, 0..1. */
  readonly likelihood: number;
  readonly parts: readonly string[];
  /** "across `a` and `b` at rest: 0 V to 0.4 V" */
  readonly predicts: readonly {
    readonly words: string;
    readonly fits: boolean;
    readonly block: number;
    readonly index: number;
  }[];
  /** Those that can't be told apart from it, each with its own share: "red of `tx-to-hall` is broken on its way (2 %)". */
  readonly sameAs: readonly string[];
}

interface ReadingView extends ShownReading {
  /** "across `bell-tx.a` and `bell-tx.b` at rest" */
  readonly where: string;
  /** "agrees", "disagrees", "can't be right", "nothing to compare" */
  readonly verdict: string;
}

export interface ExplainView {
  readonly title: string;
  /** One sentence or two. */
  readonly verdict: string;
  readonly next: NextStep | null;
  /** Over the faults: in a sound house they are what has not been ruled out. */
  readonly faultsHeading: string;
  readonly faults: readonly FaultView[];
  readonly excluded: Explanation['excluded'];
  readonly readings: readonly ReadingView[];
  /** Sentences. */
  readonly notes: readonly string[];
}

export const sameWords = 'Not to be told apart from it by volts at the terminals, ohms or what is seen and heard:';
export const explainBasis =
  'How likely a fault is leans on how often such faults are met (common practice, no source) and on how well it fits every reading, the meter and what the record leaves open allowed for. It is a guide to where to look, not a proof.';

export function explainView({ title, explanation, readings }: Explained): ExplainView {
  const { faults, excluded, healthy, next, notes } = explanation;
  return {
    title: title.trim() === '' ? 'Untitled record' : title,
    verdict: verdictOf(explanation, readings),
    next,
    faultsHeading: healthy ? 'What these readings do not rule out' : 'What fits, best first',
    // Of a sound house what each would show is what was read.
    faults: groupsOf(faults).map((group) => (healthy ? { ...faultView(group), predicts: [] } : faultView(group))),
    excluded,
    readings: readings.map((reading) => ({
      ...reading,
      where: `${reading.place} ${reading.state}`.trim(),
      verdict: verdictOn(reading),
    })),
    notes: notes.map((note) => asSentence(note)),
  };
}

function verdictOf({ healthy, faults }: Explanation, readings: readonly ShownReading[]): string {
  const taken = readings.length;
  if (taken === 0) return 'Nothing has been read yet.';
  const [first] = faults;
  if (healthy)
    return `${taken === 1 ? 'The reading is' : `The ${taken} readings are`} what the house as recorded shows: no fault is needed to explain ${taken === 1 ? 'it' : 'them'}.`;
  if (first === undefined) return 'No fault, and no two together, explain these readings.';
  const [group, ...rest] = groupsOf(faults);
  const same = group!.length - 1;
  const another = same === 1 ? 'another' : `one of ${same} others`;
  const alike = same === 0 ? '' : `, or ${another} that can't be told apart from it`;
  const others =
    rest.length === 0 ? 'Nothing else fits' : `${rest.length} more ${rest.length === 1 ? 'fits' : 'fit'}, less well`;
  return `Likeliest, at ${percent(shareOf(group!))}: ${first.what}${alike}. ${others}.`;
}

/** Those that nothing tells apart stand together, the likeliest first; so do the groups. */
function groupsOf(faults: readonly ExplainedFault[]): readonly (readonly ExplainedFault[])[] {
  const groups: ExplainedFault[][] = [];
  for (const fault of faults) {
    const group = groups.find(([first]) => first!.sameAs.includes(fault.what));
    if (group) group.push(fault);
    else groups.push([fault]);
  }
  return groups
    .map((group) => group.sort((one, other) => other.likelihood - one.likelihood))
    .sort((one, other) => shareOf(other) - shareOf(one));
}

function shareOf(group: readonly ExplainedFault[]): number {
  return group.reduce((sum, { likelihood }) => sum + likelihood, 0);
}

function faultView(group: readonly ExplainedFault[]): FaultView {
  const [{ what, predicts, sameAs }, ...others] = group as readonly [ExplainedFault, ...ExplainedFault[]];
  const told = new Set(group.map((one) => one.what));
  const likelihood = shareOf(group);
  return {
    what,
    share: percent(likelihood),
    likelihood,
    parts: [...new Set(group.flatMap(({ parts }) => parts))],
    predicts: predicts.map(({ at, words, fits, block, index }) => ({ words: `${at}: ${words}`, fits, block, index })),
    sameAs: [
      ...others.map((one) => `${one.what} (${percent(one.likelihood)})`),
      ...sameAs.filter((one) => !told.has(one)),
    ],
  };
}

function verdictOn({ agrees, bad }: ShownReading): string {
  if (bad !== null) return "can't be right";
  return agrees === null ? 'nothing to compare' : agrees ? 'agrees' : 'disagrees';
}

/** Of a share: "62 %", "less than 1 %". */
function percent(share: number): string {
  if (share > 0 && share < 0.01) return 'less than 1 %';
  return `${share > 0.99 && share < 1 ? '99' : Math.round(share * 100)} %`;
}

export function asSentence(words: string): string {
  return `${upperFirst(words)}${/[.!?]$/.test(words) ? '' : '.'}`;
}
