/** A reading that is being taken, and the line of the record that it becomes. */

import type { NextStep } from '@ohmstead/record';

export type DraftKind = 'across' | 'through' | 'sign' | 'mains';

export interface ReadingDraft {
  /** `idle`, `off`, `off, pressed porch-button`, the contacts that are held: `porch-button`, or after `bridged` those whose wires are held together. */
  readonly state: string;
  readonly kind: DraftKind;
  /** Names of the two points of `across`, in the order in which they were chosen; of `through` the first alone counts. */
  readonly points: readonly string[];
  readonly part: string;
  readonly shows: 'silent' | 'rings' | 'hums' | 'dark' | 'lit';
  /** As typed: `14.9`, `14.9 V`, `OL`. */
  readonly value: string;
}

export const EMPTY_DRAFT: ReadingDraft = {
  state: 'idle',
  kind: 'across',
  points: [],
  part: '',
  shows: 'silent',
  value: '',
};

/** The line as the notation has it, and as far as it is known: a gap is left out. A bare figure gets the unit that fits. */
export function draftLine(draft: ReadingDraft): string {
  const { state, kind, points, part, shows } = draft;
  const how = /^(idle|off|(off, )?pressed .*|bridged .*)$/.test(state) ? state : `pressed ${state}`;
  switch (kind) {
    case 'mains':
      return words('mains', figureOf(draft, 'V'));
    case 'sign':
      return words(how, part, part === '' ? '' : shows);
    case 'through':
      return words(how, 'through', points[0] ?? '', figureOf(draft, 'A'));
    case 'across':
      return words(how, points.slice(0, 2).join(', '), figureOf(draft, /^off\b/.test(state) ? 'ohm' : 'V'));
  }
}

function words(...pieces: readonly string[]): string {
  return pieces.filter((piece) => piece !== '').join(' ');
}

function figureOf({ value }: ReadingDraft, unit: string): string {
  // The notation has a point where a meter or a habit may have a comma.
  const written = value.trim().replace(/^([-\u2212]?\d+),(\d+)/, '$1.$2');
  return /^[-\u2212]?\d+(\.\d+)?$/.test(written) ? `${written} ${unit}` : written;
}

/** What is still to be done before there is a reading, in a sentence; null where the rest is for the notation to judge. */
export function missingWords({ kind, points, part, value }: ReadingDraft): string | null {
  if (kind === 'sign') return part === '' ? 'Choose the part that was heard or seen.' : null;
  const figure = value.trim() === '';
  const left = (kind === 'mains' ? 0 : kind === 'through' ? 1 : 2) - points.length;
  if (left <= 0) return figure ? 'Write the figure that the meter shows.' : null;
  const what = kind === 'through' ? 'a conductor or terminal' : left === 1 ? 'one more point' : 'two points';
  return `Choose ${what}${figure ? ', and write the figure that the meter shows' : ''}.`;
}

export const isComplete = (draft: ReadingDraft): boolean => missingWords(draft) === null;

/** A point chosen, or taken back where it was chosen before; of more than two the latest two stay. */
export function withPoint(draft: ReadingDraft, point: string): ReadingDraft {
  const left = draft.points.filter((one) => one !== point);
  const points = left.length < draft.points.length ? left : [...left, point].slice(draft.kind === 'through' ? -1 : -2);
  return { ...draft, points };
}

function stateOf(state: NextStep['asked']['state']): string {
  const { pressed = [] } = state;
  if (state.kind === 'off') return pressed.length === 0 ? 'off' : `off, pressed ${pressed.join(', ')}`;
  if (state.bridged !== undefined && state.bridged.length > 0) {
    const bridged = `bridged ${state.bridged.join(', ')}`;
    return pressed.length === 0 ? bridged : `pressed ${pressed.join(', ')}, ${bridged}`;
  }
  return state.pressed.length === 0 ? 'idle' : state.pressed.join(', ');
}

/** What the finder asks for next, ready for its figure. */
export function draftOf({ asked }: NextStep): ReadingDraft {
  const { state, of } = asked;
  const how = stateOf(state);
  const draft = { ...EMPTY_DRAFT, state: how };
  if (of.kind === 'mains') return { ...draft, kind: 'mains' };
  if (of.kind === 'sign') return { ...draft, kind: 'sign', part: of.part };
  const points = of.between.map((point) =>
    point.kind === 'conductor'
      ? `${point.run}.${point.colour}${point.at === undefined ? '' : ` at ${point.at}`}`
      : point.end.terminal === undefined
        ? point.end.part
        : `${point.end.part}.${point.end.terminal}`,
  );
  return { ...draft, kind: 'across', points };
}
