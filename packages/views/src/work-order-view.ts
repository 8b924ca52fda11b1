/** Work orders as titled lists of steps, for every way of printing them. */

import { formatVolts } from '@ohmstead/circuit';
import type { ExpectedReading, WorkOrder, WorkPhase, WorkStep } from '@ohmstead/record';
import { stateLabel } from './words.js';

interface WorkSection {
  readonly heading: string;
  readonly steps: readonly { readonly words: string; readonly place: string; readonly caution: boolean }[];
}

export interface ReadingLine {
  readonly between: string;
  readonly place: string;
  readonly when: string;
  readonly volts: string;
  readonly band: string;
}

export interface WorkView {
  readonly heading: string;
  readonly about: string;
  readonly sections: readonly WorkSection[];
  readonly readings: readonly ReadingLine[];
}

const headings: Readonly<Record<WorkPhase, string>> = {
  isolate: 'Isolate, and prove it dead',
  label: 'Photograph and label',
  lift: 'Lift',
  remove: 'Take out',
  mount: 'Mount',
  pull: 'Pull',
  land: 'Land',
  bypass: 'Jumpers and bypass',
  set: 'Settings',
  restore: 'Restore and read',
};

export const noWorkWords = 'Nothing at the wiring is to be done.';
export const readingBasis =
  'The band runs from low to high mains and from warm to cold wire. Note the mains volts beside the readings.';

export function workView(order: WorkOrder, way: 'there' | 'back'): WorkView {
  const sections: { heading: string; steps: WorkStep[] }[] = [];
  for (const step of order.steps) {
    const heading = headings[step.phase];
    const last = sections.at(-1);
    if (last?.heading === heading) last.steps.push(step);
    else sections.push({ heading, steps: [step] });
  }
  return {
    heading: way === 'there' ? 'Work order' : 'The way back',
    about: `From “${order.before ?? 'untitled record'}” to “${order.after ?? 'untitled record'}”.`,
    sections: sections.map(({ heading, steps }) => ({
      heading,
      steps: steps.map(({ words, place, caution }) => ({ words, place: place ?? '', caution })),
    })),
    readings: order.expected.map(readingLine),
  };
}

const bandOf = (least: string, most: string): string => (least === most ? least : `${least} to ${most}`);

function readingLine(reading: ExpectedReading): ReadingLine {
  const { between, place, volts, least, most } = reading;
  return {
    between: between.map((point) => `\`${point}\``).join(' to '),
    place: place ?? '',
    when: stateLabel(reading),
    volts: formatVolts(volts),
    band: bandOf(formatVolts(least), formatVolts(most)),
  };
}
