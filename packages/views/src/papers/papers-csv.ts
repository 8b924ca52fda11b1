/** One paper's table as CSV (RFC 4180): a head line, then one line for each row. */

import { oneLine } from '../plain.js';
import type { Cell, Paper } from './paper.js';
import { colourLetters } from './colour-letters.js';

/** Undefined for a paper that is no table. */
export function paperCsv({ table }: Paper): string | undefined {
  if (table === undefined) return undefined;
  const colourAt = table.head.indexOf('Colour');
  // Colour and letters get a column each: whoever sorts by one does not want the other in it.
  const split = <T>(cells: readonly T[], letters: (cell: T) => T): T[] =>
    cells.flatMap((cell, index) => (index === colourAt ? [cell, letters(cell)] : [cell]));
  const head = split(table.head, () => 'IEC 60757');
  const rows = table.rows.map((cells) => split(cells.map(plainCell), (colour) => colourLetters(colour) ?? ''));
  return [head, ...rows].map((cells) => `${cells.map(field).join(',')}\r\n`).join('');
}

function plainCell(cell: Cell): string {
  if (typeof cell === 'string') return cell;
  return 'colour' in cell ? cell.colour : '';
}

/** A cell that a spreadsheet would take for a formula is marked as text; a plain figure stays one. */
function field(words: string): string {
  const text = oneLine(words);
  const inert = /^[=+\-@]/.test(text) && !/^-?[\d.]+$/.test(text) ? `'${text}` : text;
  return /[",\n]/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}
