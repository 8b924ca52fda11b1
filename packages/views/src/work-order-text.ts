/** A work order for a terminal or a plain printer. */

import type { WorkOrders } from '@ohmstead/record';
import { oneLine, wrapped } from './plain.js';
import { noWorkWords, readingBasis, type WorkView, workView } from './work-order-view.js';

const WIDTH = 100;
const bare = (words: string): string => oneLine(words.replaceAll('`', ''));

/** Ends in a line end. */
export function workOrderText({ there, back }: WorkOrders): string {
  return `${[orderText(workView(there, 'there')), orderText(workView(back, 'back'))].join('\n\n\n')}\n`;
}

function orderText({ heading, about, sections, readings }: WorkView): string {
  const blocks = [[heading, ...wrapped(bare(about), WIDTH)].join('\n')];
  if (sections.length === 0) return [...blocks, noWorkWords].join('\n\n');
  let count = 0;
  for (const section of sections) {
    const lines = section.steps.flatMap(({ words, place, caution }) => {
      const head = `  ${String(++count).padStart(2)}  ${caution ? '! ' : ''}`;
      const where = place === '' ? '' : `${place}: `;
      return wrapped(`${where}${bare(words)}`, WIDTH - head.length).map((line, index) =>
        index === 0 ? `${head}${line}` : `${' '.repeat(head.length)}${line}`,
      );
    });
    blocks.push([section.heading, ...lines].join('\n'));
  }
  if (readings.length > 0) {
    const cells = readings.map(({ between, when, volts, band }) => [bare(between), bare(when), volts, band]);
    const widths = [0, 1, 2].map((column) => Math.max(...cells.map((row) => row[column]!.length)));
    const rows = cells.map(
      ([between, when, volts, band]) =>
        `  ${between!.padEnd(widths[0]!)}  ${when!.padEnd(widths[1]!)}  ${volts!.padStart(widths[2]!)}  ${band}  ______`,
    );
    blocks.push(
      ['Readings to expect', ...rows, ...wrapped(readingBasis, WIDTH - 2).map((line) => `  ${line}`)].join('\n'),
    );
  }
  return blocks.join('\n\n');
}
