/** The panel's inner markup: a reading is taken at the top, and below it stands what fits all of them. */

import { draftLine, missingWords, type ReadingDraft } from './explain-draft.js';
import { type ExplainSurface, explainSections } from './explain-html.js';
import { type Explained, explainView } from './explain-view.js';
import { type Html, html, sentence } from './html.js';

/** What a reading can be made of, by name. */
export interface ReadingChoices {
  /** Where a probe can be held, by part: `hall-chime` with `hall-chime.trans` and its words. */
  readonly points: readonly {
    readonly part: string;
    readonly points: readonly { readonly point: string; readonly words: string }[];
  }[];
  /** Conductors by run. */
  readonly conductors: ReadingChoices['points'];
  /** Contacts that can be held. */
  readonly contacts: readonly string[];
  /** Parts that can be heard or seen. */
  readonly parts: readonly string[];
}

export interface ExplainPanelChoice {
  readonly choices: ReadingChoices;
  readonly draft: ReadingDraft;
  /** The line as typed over what the choices make of it; null where it was not touched. */
  readonly typed: string | null;
  /** Why the last reading was not written. */
  readonly refused: string | null;
  /** The reading that was written last. */
  readonly taken: string | null;
  readonly recentWork: boolean;
  /** The text no longer reads as a record; this is the last that did. */
  readonly stale: boolean;
}

const KINDS = [
  ['across', 'Across two points'],
  ['through', 'Through a conductor'],
  ['sign', 'Heard or seen'],
  ['mains', 'Mains'],
] as const;
const LINE_FORM =
  'Chosen above or typed: `idle`, `off` or `pressed` and what is held, then two points and the figure, or a part and what it does.';
const SIGNS = ['silent', 'rings', 'hums', 'dark', 'lit'] as const;

const surface: ExplainSurface = {
  part: (name) =>
    html`<button type="button" class="name" data-part="${name}" title="Show in the record">${name}</button>`,
  reading: ({ block, index }, words) =>
    html`<button type="button" class="follow" data-reading="${block}/${index}" title="Show in the record">${words}</button>`,
};

/** Inner markup only; the style and what the buttons do are the host's. */
export function explainPanelHtml(explained: Explained, choice: ExplainPanelChoice): string {
  const view = explainView(explained);
  const stale =
    choice.stale &&
    html`<p class="stale" role="status"><strong>Not up to date.</strong> The record has an error in its text; this is from before it.</p>`;
  const next =
    view.next !== null && html`<p><button type="button" class="act" data-act="use-next">Take this reading</button></p>`;
  return html`<div class="changes explain">${stale}<header><h1>${view.title}</h1><p role="status">${sentence(view.verdict)}</p>${next}</header>${readingForm(choice)}${explainSections(view, explained.profile, surface)}</div>`
    .markup;
}

function readingForm(choice: ExplainPanelChoice): Html {
  const { draft, typed, refused, taken, recentWork } = choice;
  const line = typed ?? draftLine(draft);
  const missing = typed === null ? missingWords(draft) : typed.trim() === '' ? 'Write a line, or choose above.' : null;
  const said = html`${refused !== null && html`<p class="refused" role="alert">${sentence(refused)}</p>`}${taken !== null && html`<p class="taken" role="status">Written into the record: <code>${taken}</code></p>`}`;
  return html`<section><h2>Take a reading</h2><form id="take">
${options('state', 'How the house stands', stateOptions(choice), draft.state)}
${options('kind', 'What is read', KINDS, draft.kind)}
${draft.kind === 'sign' ? signFields(choice) : draft.kind === 'mains' ? html`` : pointFields(choice)}
${draft.kind !== 'sign' && html`<p class="field"><label for="value">Figure</label> <input id="value" name="value" autocomplete="off" spellcheck="false" value="${draft.value}" placeholder="${placeholder(draft)}"></p>`}
<p class="field"><label for="line">As a line of the record</label> <input id="line" name="line" autocomplete="off" spellcheck="false" value="${line}" aria-describedby="line-form"></p>
<p class="fine" id="line-form">${sentence(LINE_FORM)}</p>
<p><button type="submit" class="act" aria-describedby="missing"${missing !== null && html` disabled`}>Write into the record</button> <span class="fine" id="missing">${missing ?? ''}</span></p>
${said}</form>
<p class="field"><label><input type="checkbox" name="recent-work"${recentWork && html` checked`}> Something was worked on since it was last right</label></p></section>`;
}

function placeholder({ kind, state }: ReadingDraft): string {
  if (kind === 'through') return '0.6 A';
  return kind === 'across' && state === 'off' ? '6 ohm, or OL' : kind === 'mains' ? '118 V' : '14.9 V';
}

function stateOptions({ choices, draft }: ExplainPanelChoice): readonly (readonly [string, string])[] {
  const held = choices.contacts.map((contact) => [contact, `While ${contact} is held`] as const);
  const known = ['idle', 'off', ...choices.contacts].includes(draft.state);
  const words = draft.state.startsWith('bridged ')
    ? `With the wires at ${draft.state.slice('bridged '.length)} held together`
    : `While ${draft.state} are held`;
  const several = known ? [] : [[draft.state, words] as const];
  return [['idle', 'At rest'], ...held, ...several, ['off', 'With the supplies isolated']];
}

function options(name: string, legend: string, list: readonly (readonly [string, string])[], chosen: string): Html {
  const radios = list.map(
    ([value, words]) =>
      html`<label class="choice"><input type="radio" name="${name}" value="${value}"${value === chosen && html` checked`}> <span>${words}</span></label>`,
  );
  return html`<fieldset class="states"><legend>${legend}</legend>${radios}</fieldset>`;
}

function pointFields({ choices, draft }: ExplainPanelChoice): Html {
  const legend = draft.kind === 'across' ? 'Choose two points' : 'Choose a conductor or terminal';
  const groups = (draft.kind === 'across' ? choices.points : [...choices.conductors, ...choices.points]).map(
    ({ part, points }) =>
      html`<div class="terminals" role="group" aria-label="${part}"><span class="of" aria-hidden="true">${part}</span>${points.map(({ point, words }) => pointButton(point, words, draft.points.indexOf(point)))}</div>`,
  );
  return html`<fieldset class="points"><legend>${legend}</legend>${groups}</fieldset>`;
}

function pointButton(point: string, words: string, chosen: number): Html {
  const mark = chosen >= 0 && html` <span class="order">${chosen + 1}</span>`;
  return html`<button type="button" class="terminal" data-point="${point}" aria-pressed="${chosen >= 0 ? 'true' : 'false'}" aria-label="${point}">${words}${mark}</button>`;
}

function signFields({ choices, draft }: ExplainPanelChoice): Html {
  const parts = choices.parts.map((part) => [part, part] as const);
  return html`${options('part', 'At which part', parts, draft.part)}${options(
    'shows',
    'What it does',
    SIGNS.map((sign) => [sign, sign] as const),
    draft.shows,
  )}`;
}
