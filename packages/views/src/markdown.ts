/** Words, names and tables in Markdown in which nothing that somebody else chose can become markup. */

import { oneLine } from './plain.js';

/** On one line, with every mark that Markdown or HTML could read escaped. */
export function text(words: string): string {
  return oneLine(words).replace(/[\\`*_{}[\]<>()#+!|~&$@:]|^[-=]/g, (mark) =>
    /[(){}+:$]/.test(mark) ? mark : `\\${mark}`,
  );
}

/** A sentence whose names stand between backticks, which become code. */
export function sentence(words: string): string {
  const pieces = oneLine(words).split('`');
  if (pieces.length % 2 === 0) return text(words);
  return pieces.map((piece, index) => (index % 2 === 1 ? code(piece) : spaced(piece))).join('');
}

/** Escaped, with the spaces at its ends kept. */
function spaced(words: string): string {
  const start = words.startsWith(' ') ? ' ' : '';
  const end = words.endsWith(' ') && words.trim() !== '' ? ' ' : '';
  return `${start}${text(words)}${end}`;
}

export function code(words: string): string {
  const name = oneLine(words);
  return /[`|\\]/.test(name) || name === '' ? text(name) : `\`${name}\``;
}

/** Columns from the `numbersFrom`th on hold figures. */
export function table(head: readonly string[], rows: readonly (readonly string[])[], numbersFrom = 1): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const rule = head.map((_, index) => (index >= numbersFrom ? '---:' : '---'));
  return [line(head), line(rule), ...rows.map(line)].join('\n');
}
