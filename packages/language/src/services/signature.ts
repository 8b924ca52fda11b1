/** What can stand in the braces of an element, with the figure that is being written marked. */

import type { SignatureHelp } from 'vscode-languageserver';
import { cursorAt } from './cursor.js';
import { ELEMENT_FACTS } from './fact-words.js';

/** Undefined outside the braces of an element. */
export function elementSignature(text: string, offset: number): SignatureHelp | undefined {
  const cursor = cursorAt(text, offset);
  if (cursor.quiet || cursor.depth < 2 || cursor.header[1]?.text.toLowerCase() !== 'type') return undefined;
  const kind = cursor.opener[0]?.text.toLowerCase() ?? '';
  const facts = Object.hasOwn(ELEMENT_FACTS, kind) ? ELEMENT_FACTS[kind]! : [];
  if (facts.length === 0) return undefined;
  const label = `${cursor.opener.map((token) => token.text).join(' ')} { ${facts.map(({ word }) => word).join(', ')} }`;
  const started = [...cursor.item.map((token) => token.text), cursor.typed].join(' ').trim().toLowerCase();
  const active = facts.findIndex(
    ({ word }) => started !== '' && (started.startsWith(word) || word.startsWith(started)),
  );
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
