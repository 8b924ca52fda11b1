/** What is clicked, chosen and folded in the panel's page. */

import type { KeptState, ToHost } from './messages.js';

interface Page {
  readonly host: { postMessage(message: ToHost): void };
  kept(): KeptState;
  keep(change: Partial<KeptState>): void;
  /** Something that is shown was chosen anew; pictures too where the server has to be asked. */
  changed(pictures: boolean): void;
}

export function listen(page: Page): void {
  const { host, kept, keep, changed } = page;

  document.addEventListener('change', ({ target }) => {
    if (target instanceof HTMLInputElement && target.dataset['circuit'] !== undefined) {
      keep({ shown: { ...kept().shown, [target.dataset['circuit']]: target.value } });
      changed(true);
    } else if (target instanceof HTMLSelectElement && target.dataset['pick'] !== undefined) {
      const { [target.dataset['pick'] as 'circuit']: _before, ...others } = kept().picked;
      keep({ picked: target.value === '' ? others : { ...others, [target.dataset['pick']]: target.value } });
      changed(true);
    }
  });

  document.addEventListener('input', ({ target }) => {
    if (!(target instanceof HTMLInputElement) || target.dataset['value'] === undefined) return;
    keep({ values: { ...kept().values, [target.dataset['value']]: target.valueAsNumber } });
    changed(true);
  });

  document.addEventListener('click', ({ target }) => {
    if (target instanceof Element) follow(page, target);
  });

  document.addEventListener('keydown', (event) => {
    const { target, key } = event;
    if (!(target instanceof SVGElement) || target.getAttribute('role') !== 'button') return;
    if (key !== 'Enter' && key !== ' ') return;
    event.preventDefault();
    follow(page, target);
  });

  // This event does not rise to the document by itself.
  document.addEventListener(
    'toggle',
    ({ target }) => {
      if (!(target instanceof HTMLDetailsElement)) return;
      const name = target.dataset['open'];
      if (name === undefined || kept().open[name] === target.open) return;
      keep({ open: { ...kept().open, [name]: target.open } });
    },
    true,
  );

  let scrolled: ReturnType<typeof setTimeout> | undefined;
  window.addEventListener('scroll', () => {
    clearTimeout(scrolled);
    scrolled = setTimeout(() => keep({ scroll: window.scrollY }), 150);
  });

  let resized: ReturnType<typeof setTimeout> | undefined;
  window.addEventListener('resize', () => {
    clearTimeout(resized);
    resized = setTimeout(() => changed(false), 100);
  });

  function follow({ host: to }: Page, at: Element): void {
    const button = at.closest<HTMLElement | SVGElement>(
      '[data-part], [data-range], [data-pin], [data-full-size], [data-values]',
    );
    if (!button) return;
    const { part, uri, range, pin, values } = button.dataset;
    if (part !== undefined) to.postMessage({ kind: 'reveal-part', name: part });
    if (uri !== undefined && range !== undefined)
      to.postMessage({ kind: 'reveal-range', uri, range: JSON.parse(range) });
    if (pin !== undefined) {
      keep({ pinned: !kept().pinned });
      host.postMessage({ kind: 'pin', pinned: kept().pinned });
      changed(false);
    }
    if (button.dataset['fullSize'] !== undefined) {
      keep({ fullSize: !kept().fullSize });
      changed(false);
    }
    if (values !== undefined) {
      keep({ values: {} });
      changed(true);
    }
  }
}
