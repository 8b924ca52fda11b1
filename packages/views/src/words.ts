/** The words in which the budget speaks: states and conditions as somebody on a ladder would name them. */

import { type Budget, type Extreme, regionOf, type Severity, type StateKey } from '@ohmstead/record';

/** "porch-button", "porch-button and back-button", "a, b and c". */
export function listed(names: readonly string[]): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** Contacts by what happens to them: a doorbell rings, a button is held, a switch or a thermostat's contact is on. */
function clauses({ closed, maintained = [] }: StateKey): { names: string; verb: string; one: boolean }[] {
  const passing = closed.filter((name) => !maintained.includes(name));
  const rings = passing.filter((name) => name.endsWith('.ring')).map((name) => name.slice(0, -'.ring'.length));
  const held = passing.filter((name) => !name.endsWith('.ring'));
  const clause = (names: readonly string[], verb: string) =>
    names.length === 0 ? [] : [{ names: listed(names), verb, one: names.length === 1 }];
  return [...clause(rings, 'ring'), ...clause(held, 'held'), ...clause(maintained, 'on')];
}

const peakWords = (state: StateKey): string => (state.loads === 'peak' ? ' with loads at their peak' : '');

/** For the middle of a sentence: "at rest", "while porch-button is held", "at rest with loads at their peak". */
export function stateWords(state: StateKey): string {
  const said = clauses(state).map(({ names, verb, one }) => {
    if (verb === 'ring') return `${names} ${one ? 'rings' : 'ring'}`;
    return `${names} ${one ? 'is' : 'are'} ${verb}`;
  });
  return `${said.length === 0 ? 'at rest' : `while ${listed(said)}`}${peakWords(state)}`;
}

/** For a label or the head of a row: "At rest", "porch-button held", "porch-button held with loads at their peak". */
export function stateLabel(state: StateKey): string {
  const said = clauses(state).map(({ names, verb }) => `${names} ${verb === 'ring' ? 'ringing' : verb}`);
  return `${said.length === 0 ? 'At rest' : listed(said)}${peakWords(state)}`;
}

/** The same for the same state, whichever part's list it stands in. */
export function stateId(state: StateKey): string {
  return `${state.closed.join('+')}/${state.loads}`;
}

const conditions: Record<Extreme['corner'], string> = {
  nominal: 'at nominal mains',
  low: 'at low mains and warm wire',
  high: 'at high mains and cold wire',
};

/** "while porch-button is held, at low mains and warm wire". */
export function extremeWords(extreme: Extreme): string {
  return `${stateWords(extreme)}, ${conditions[extreme.corner]}`;
}

export function profileWords(profile: string): string {
  const region = regionOf(profile);
  return region.name === profile ? region.title : profile;
}

export function titleWords(budget: Budget): string {
  return budget.title.trim() === '' ? 'Untitled record' : budget.title;
}

/** What the figures are, in one sentence. */
export const basisWords =
  'Figures are RMS at nominal mains and 20 °C wire; least and most are taken over low and high mains, warm and cold wire as well.';

export const shareWords =
  'Share is of the rated current: lightly loaded, a transformer gives more than its rated volts.';

/** The cautions that every budget carries. */
export function cautionWords(profile: string): string {
  const region = regionOf(profile);
  const side = region.name === profile ? region.words.mainsSide : 'mains side';
  return (
    'Computed from the record, not measured. Before touching a conductor, isolate the supply and prove it dead, ' +
    `with the tester proved before and after. Work on the ${side} is for a licensed electrician, to local code.`
  );
}

/** Said wherever a lock or strike is: what a way out has to do is not for a solver to say. */
export const EXIT_CAUTION =
  'Free exit and fire release are decided by code and the authority: nothing here says that a door lets people out.';

/** Whether a record has a lock or strike. */
export function hasLock({ devices }: Pick<Budget, 'devices'>): boolean {
  return devices.some(({ role }) => role === 'lock' || role === 'strike');
}

/** The cautions of one budget: those of its profile, and that of its locks. */
export function budgetCautions(budget: Pick<Budget, 'devices' | 'profile'>): string {
  const caution = cautionWords(budget.profile);
  return hasLock(budget) ? `${caution} ${EXIT_CAUTION}` : caution;
}

export const severityWords: Record<Severity, string> = {
  error: 'Error',
  warning: 'Warning',
  info: 'Info',
  hint: 'Hint',
};

const severityOrder: readonly Severity[] = ['error', 'warning', 'info', 'hint'];

interface Counted {
  readonly severity: Severity;
  readonly accepted?: unknown;
}

/** "2 errors, 1 warning, 1 accepted"; "No findings" where there are none. */
export function countWords(findings: readonly Counted[]): string {
  const standing = findings.filter((each) => !each.accepted);
  const accepted = findings.length - standing.length;
  const counted = severityOrder.flatMap((severity) => {
    const count = standing.filter((each) => each.severity === severity).length;
    const word = severity === 'info' ? 'note' : severity;
    return count === 0 ? [] : [`${count} ${word}${count === 1 ? '' : 's'}`];
  });
  if (accepted > 0) counted.push(`${accepted} accepted`);
  return counted.length === 0 ? 'No findings' : counted.join(', ');
}

export function worstFirst<F extends { readonly severity: Severity }>(findings: readonly F[]): F[] {
  return [...findings].sort((a, b) => severityOrder.indexOf(a.severity) - severityOrder.indexOf(b.severity));
}

/** "Accepted: the owner moves it in spring"; empty where it stands. */
export function acceptedWords(accepted: boolean | { readonly because: string } | undefined): string {
  if (!accepted) return '';
  return accepted === true ? 'Accepted' : `Accepted: ${accepted.because}`;
}

export function upperFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
