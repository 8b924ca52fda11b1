/** Brings the panel's regions up to date: what has not changed is not touched, so that nothing flickers and the focus stays. */

import type { PanelRegion } from '@ohmstead/views';
import morphdomModule from 'morphdom';

// Its types describe a CommonJS module; the bundle takes the ES module, whose default is the function itself.
const morphdom = morphdomModule as unknown as typeof morphdomModule.default;

interface Shown {
  readonly markup: string;
  readonly element: HTMLElement;
}

export class Regions {
  private readonly shown = new Map<string, Shown>();

  constructor(private readonly container: HTMLElement) {}

  clear(markup: string): void {
    this.shown.clear();
    this.container.innerHTML = markup;
  }

  patch(regions: readonly PanelRegion[]): void {
    if (this.shown.size === 0) this.container.replaceChildren();
    const wanted = new Set(regions.map(({ key }) => key));
    for (const [key, { element }] of this.shown) {
      if (wanted.has(key)) continue;
      element.remove();
      this.shown.delete(key);
    }
    let before = this.container.firstElementChild;
    for (const { key, markup } of regions) {
      const element = this.brought(key, markup);
      if (element === before) before = before.nextElementSibling;
      else this.container.insertBefore(element, before);
    }
  }

  private brought(key: string, markup: string): HTMLElement {
    const known = this.shown.get(key);
    if (known?.markup === markup) return known.element;
    const made = document.createElement('template');
    made.innerHTML = markup;
    const fresh = made.content.firstElementChild as HTMLElement;
    const element = known ? (morphdom(known.element, fresh, untouchedWhereEqual) as HTMLElement) : fresh;
    this.shown.set(key, { markup, element });
    return element;
  }
}

const untouchedWhereEqual = { onBeforeElUpdated: (from: Element, to: Element) => !from.isEqualNode(to) };
