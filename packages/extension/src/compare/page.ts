/** The comparison's page: renders what the host sends, patches what changed, and reports which name is clicked. */

import { comparePanelHtml } from '@ohmstead/views';
import morphdomModule from 'morphdom';
import type { Compared, KeptComparison, ToCompareHost, ToComparePage } from './messages.js';

declare function acquireVsCodeApi(): {
  postMessage(message: ToCompareHost): void;
  getState(): KeptComparison | undefined;
  setState(state: KeptComparison): void;
};

// Its types describe a CommonJS module; the bundle takes the ES module, whose default is the function itself.
const morphdom = morphdomModule as unknown as typeof morphdomModule.default;

const host = acquireVsCodeApi();
const root = document.getElementById('root')!;

let kept = host.getState();
let locations: Compared['locations'] = { before: {}, after: {} };
let toRestore = kept?.scroll;

const sideOf = (name: string): 'before' | 'after' | undefined =>
  (['after', 'before'] as const).find((side) => Object.hasOwn(locations[side] ?? {}, name));

function render(markup: string): void {
  const made = document.createElement('div');
  made.innerHTML = markup;
  morphdom(root, made, {
    childrenOnly: true,
    onBeforeElUpdated(from, to) {
      // What the reader has opened stays open.
      if (from instanceof HTMLDetailsElement && from.open) to.setAttribute('open', '');
      return !from.isEqualNode(to);
    },
  });
}

window.addEventListener('message', ({ data }: MessageEvent<ToComparePage>) => {
  kept = { ...data.pair, scroll: kept?.scroll ?? 0 };
  host.setState(kept);
  if (data.kind === 'refused') {
    const words = document.createElement('p');
    words.className = 'empty';
    words.setAttribute('role', 'status');
    words.textContent = data.message;
    render(words.outerHTML);
    return;
  }
  const { comparison, orders, stale, broken } = data.compared;
  locations = data.compared.locations;
  render(comparePanelHtml(comparison, orders, { labels: data.labels, sideOf, stale, broken }));
  if (toRestore !== undefined) window.scrollTo(0, toRestore);
  toRestore = undefined;
});

document.addEventListener('click', ({ target }) => {
  const button = target instanceof Element ? target.closest<HTMLElement>('button[data-part]') : null;
  const { part, side } = button?.dataset ?? {};
  const location = part === undefined ? undefined : locations[side === 'before' ? 'before' : 'after']?.[part];
  if (location) host.postMessage({ kind: 'reveal', location });
});

let scrolled: ReturnType<typeof setTimeout> | undefined;
window.addEventListener('scroll', () => {
  clearTimeout(scrolled);
  scrolled = setTimeout(() => {
    if (kept) host.setState({ ...kept, scroll: window.scrollY });
  }, 150);
});

host.postMessage({ kind: 'ready' });
