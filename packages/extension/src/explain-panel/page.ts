/** The fault finder's page: renders what the host sends, takes readings, and reports what is clicked. */

import {
  draftOf,
  EMPTY_DRAFT,
  explainPanelHtml,
  draftLine,
  isComplete,
  type ReadingDraft,
  withPoint,
} from '@ohmstead/views';
import morphdomModule from 'morphdom';
import type { KeptExplanation, ToExplainHost, ToExplainPage } from './messages.js';

declare function acquireVsCodeApi(): {
  postMessage(message: ToExplainHost): void;
  getState(): KeptExplanation | undefined;
  setState(state: KeptExplanation): void;
};

// Its types describe a CommonJS module; the bundle takes the ES module, whose default is the function itself.
const morphdom = morphdomModule as unknown as typeof morphdomModule.default;

const host = acquireVsCodeApi();
const root = document.getElementById('root')!;

let kept: KeptExplanation = host.getState() ?? { uri: '', draft: EMPTY_DRAFT, typed: null, recentWork: false };
let shown: Extract<ToExplainPage, { kind: 'explained' }> | undefined;
let refused: string | null = null;
let taken: string | null = null;

function keep(change: Partial<KeptExplanation>): void {
  kept = { ...kept, ...change };
  host.setState(kept);
}

/** Something of the reading was chosen or typed: what was said of the last one no longer matters. */
function draw(change: Partial<ReadingDraft>, typed: string | null = null): void {
  refused = null;
  taken = null;
  keep({ draft: { ...kept.draft, ...change }, typed });
  render();
}

function markup(): string {
  if (!shown?.explained)
    return '<p class="empty" role="status">Nothing to explain yet: the record cannot be read as it stands. Its errors are in the Problems view.</p>';
  const { choices } = shown.explained;
  const { draft, typed, recentWork } = kept;
  return explainPanelHtml(shown.explained, { choices, draft, typed, refused, taken, recentWork, stale: shown.stale });
}

function render(): void {
  const made = document.createElement('div');
  made.innerHTML = markup();
  morphdom(root, made, {
    childrenOnly: true,
    onBeforeElUpdated(from, to) {
      // What was unfolded stays so.
      if (from instanceof HTMLDetailsElement && from.open) to.setAttribute('open', '');
      return !from.isEqualNode(to) || from instanceof HTMLInputElement;
    },
  });
}

window.addEventListener('message', ({ data }: MessageEvent<ToExplainPage>) => {
  if (data.kind === 'explained') {
    if (data.uri !== kept.uri) {
      refused = null;
      taken = null;
      keep({ uri: data.uri, draft: EMPTY_DRAFT, typed: null });
    }
    shown = data;
  } else if (data.kind === 'taken') {
    refused = null;
    taken = data.line;
    keep({ draft: { ...kept.draft, points: [], value: '' }, typed: null });
  } else {
    refused = data.message;
    taken = null;
  }
  render();
});

document.addEventListener('input', ({ target }) => {
  if (!(target instanceof HTMLInputElement)) return;
  if (target.name === 'value') draw({ value: target.value });
  else if (target.name === 'line') draw({}, target.value);
});

document.addEventListener('change', ({ target }) => {
  if (!(target instanceof HTMLInputElement)) return;
  const { name, value } = target;
  if (name === 'recent-work') {
    keep({ recentWork: target.checked });
    host.postMessage({ kind: 'recent-work', recentWork: target.checked });
  } else if (target.type === 'radio') {
    draw({ [name]: value, ...(name === 'kind' ? { points: [] } : {}) } as Partial<ReadingDraft>);
  }
});

document.addEventListener('submit', (event) => {
  event.preventDefault();
  const { draft, typed } = kept;
  if (typed === null ? !isComplete(draft) : typed.trim() === '') return;
  host.postMessage({ kind: 'take', line: typed ?? draftLine(draft) });
});

document.addEventListener('click', ({ target }) => {
  const button = target instanceof Element ? target.closest<HTMLElement>('button') : null;
  if (!button) return;
  const { point, act, part, reading } = button.dataset;
  if (point !== undefined) draw(withPoint(kept.draft, point));
  if (part !== undefined) host.postMessage({ kind: 'reveal-part', name: part });
  if (reading !== undefined) host.postMessage({ kind: 'reveal-reading', reading });
  if (act === 'use-next' && shown?.explained?.explanation.next) {
    draw(draftOf(shown.explained.explanation.next));
    document.getElementById('value')?.focus();
  }
});

host.postMessage({ kind: 'ready', recentWork: kept.recentWork });
