/** The panel's page: renders what the host sends, patches what changed, and reports what is clicked. */

import type { LocatedFinding } from '@ohmstead/language/protocol';
import type { Budget } from '@ohmstead/record';
import { budgetPanelHtml } from '@ohmstead/views';
import morphdomModule from 'morphdom';
import type { KeptState, ToHost, ToPage } from './messages.js';

declare function acquireVsCodeApi(): {
  postMessage(message: ToHost): void;
  getState(): KeptState | undefined;
  setState(state: KeptState): void;
};

// Its types describe a CommonJS module; the bundle takes the ES module, whose default is the function itself.
const morphdom = morphdomModule as unknown as typeof morphdomModule.default;

const host = acquireVsCodeApi();
const root = document.getElementById('root')!;

let kept: KeptState = host.getState() ?? { uri: '', shown: {}, scroll: 0 };
let budget: Budget | null = null;
let findings: readonly LocatedFinding[] = [];
let stale = false;
let marked: string | null = null;
let toRestore: number | undefined = kept.scroll;

function keep(change: Partial<KeptState>): void {
  kept = { ...kept, ...change };
  host.setState(kept);
}

function markup(): string {
  if (budget !== null) {
    return budgetPanelHtml(budget, { findings, shown: kept.shown, stale, ...(marked !== null && { marked }) });
  }
  return '<p class="empty" role="status">No load budget yet: the record cannot be read as it stands. Its errors are in the Problems view.</p>';
}

function render(): void {
  const made = document.createElement('div');
  made.innerHTML = markup();
  morphdom(root, made, {
    childrenOnly: true,
    onBeforeElUpdated: (from, to) => !from.isEqualNode(to),
  });
  if (toRestore !== undefined && budget !== null) {
    window.scrollTo(0, toRestore);
    toRestore = undefined;
  }
}

window.addEventListener('message', ({ data }: MessageEvent<ToPage>) => {
  if (data.kind === 'marked') {
    marked = data.name;
  } else {
    const another = data.uri !== kept.uri;
    if (another) {
      keep({ uri: data.uri, shown: {}, scroll: 0 });
      if (budget !== null) toRestore = 0;
    }
    // While the text can't be read, the last good result of the same record stays.
    stale = data.stale || (data.budget === null && !another);
    if (data.budget !== null || another) budget = data.budget;
    findings = data.findings;
    marked = data.marked;
  }
  render();
});

document.addEventListener('change', ({ target }) => {
  if (!(target instanceof HTMLInputElement) || target.dataset['circuit'] === undefined) return;
  keep({ shown: { ...kept.shown, [target.dataset['circuit']]: target.value } });
  render();
});

document.addEventListener('click', ({ target }) => {
  const button = target instanceof Element ? target.closest<HTMLElement>('button') : null;
  if (!button) return;
  const { part, uri, range } = button.dataset;
  if (part !== undefined) host.postMessage({ kind: 'reveal-part', name: part });
  if (uri !== undefined && range !== undefined)
    host.postMessage({ kind: 'reveal-range', uri, range: JSON.parse(range) });
});

let scrolled: ReturnType<typeof setTimeout> | undefined;
window.addEventListener('scroll', () => {
  clearTimeout(scrolled);
  scrolled = setTimeout(() => keep({ scroll: window.scrollY }), 150);
});

host.postMessage({ kind: 'ready' });
