/** HTML from templates in which everything is escaped that is not HTML already. */

import { harmless } from './plain.js';

/** Markup that may be put into a page as it is. */
export class Html {
  constructor(readonly markup: string) {}
  toString(): string {
    return this.markup;
  }
}

const entities: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** Fit for text and for quoted attributes. */
export function escapeHtml(text: string): string {
  return harmless(text).replace(/[&<>"']/g, (each) => entities[each] ?? each);
}

type Value = Html | string | number | undefined | false | readonly Value[];

function markupOf(value: Value): string {
  if (value === undefined || value === false) return '';
  if (value instanceof Html) return value.markup;
  if (typeof value === 'string' || typeof value === 'number') return escapeHtml(String(value));
  return value.map(markupOf).join('');
}

export function html(parts: TemplateStringsArray, ...values: readonly Value[]): Html {
  return new Html(parts.reduce((made, part, index) => made + markupOf(values[index - 1]) + part));
}

const asCode = (name: string): Html => html`<code>${name}</code>`;

/** A sentence in which names stand between backticks, as findings have them. `named` sets one; as code where it is not given. */
export function sentence(text: string, named: (name: string) => Html = asCode): Html {
  const pieces = text.split('`');
  // An odd backtick out is one of the sentence's own.
  if (pieces.length % 2 === 0) return html`${text}`;
  return html`${pieces.map((piece, index) => (index % 2 === 1 ? named(piece) : piece))}`;
}
