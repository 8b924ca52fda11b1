/** What can stand in the braces of an element, with the figure that is being written marked. */

import type { SignatureHelp } from 'vscode-languageserver';
import { cursorAt } from './cursor.js';
import { ELEMENT_FACTS, OWN_FIGURES } from './fact-words.js';
import type { Token } from './scan.js';

/** Undefined outside the braces of an element. */
export function elementSignature(text: string, offset: number): SignatureHelp | undefined {
  const cursor = cursorAt(text, offset);
  if (cursor.quiet || cursor.depth < 2 || cursor.header[1]?.text.toLowerCase() !== 'type') return undefined;
  const kind = cursor.opener[0]?.text.toLowerCase() ?? '';
  if (!Object.hasOwn(ELEMENT_FACTS, kind)) return undefined;
  const own = (OWN_FIGURES[kind] ?? []).map((word) => ({
    word,
    says: 'its own, in place of what the part is rated at',
  }));
  const facts = [...own, ...ELEMENT_FACTS[kind]!];
  if (facts.length === 0) return undefined;
  const label = `${cursor.opener.map((token) => token.text).join(' ')} { ${facts.map(({ word }) => word).join(', ')} }`;
  const isTaps = cursor.fact[0]?.text.toLowerCase() === 'taps';
  const started = [...(isTaps ? cursor.fact : cursor.item).map((token) => token.text), cursor.typed]
    .join(' ')
    .trim()
    .toLowerCase();
  // Own figures come one after the other, each told by its place.
  const figures = cursor.fact.filter(
    (token, index) => token.kind === 'number' && isFirst(cursor.fact[index - 1]),
  ).length;
  const isFigure = /^\d/.test(started);
  const active = isFigure
    ? Math.min(figures - (cursor.item.length > 0 ? 1 : 0), own.length - 1)
    : facts.findIndex(({ word }) => started !== '' && (started.startsWith(word) || word.startsWith(started)));
  let from = label.indexOf('{') + 2;
  const parameters = facts.map(({ word, says }) => {
    const at: [number, number] = [from, from + word.length];
    from = at[1] + 2;
    return { label: at, ...(says === '' ? {} : { documentation: says }) };
  });
  return {
    signatures: [{ label, parameters }],
    activeSignature: 0,
    // Beyond the last: none is being written yet.
    activeParameter: active < 0 ? facts.length : active,
  };
}

function isFirst(before: Token | undefined): boolean {
  return before === undefined || before.text === ',';
}
