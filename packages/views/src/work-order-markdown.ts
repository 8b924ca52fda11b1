/** A work order as Markdown: numbered steps and a table of readings to be filled in. */

import type { WorkOrders } from '@ohmstead/record';
import { sentence, table, text } from './markdown.js';
import { noWorkWords, readingBasis, type WorkView, workView } from './work-order-view.js';

/** Ends in a line end. */
export function workOrderMarkdown({ there, back }: WorkOrders): string {
  return `${[...order(workView(there, 'there')), ...order(workView(back, 'back'))].join('\n\n')}\n`;
}

function order({ heading, about, sections, readings }: WorkView): string[] {
  const blocks = [`# ${text(heading)}`, text(about)];
  if (sections.length === 0) return [...blocks, noWorkWords];
  let count = 0;
  for (const section of sections) {
    const steps = section.steps.map(({ words, place, caution }) => {
      const said = `${place === '' ? '' : `*${text(place)}*: `}${sentence(words)}`;
      return `${++count}. ${caution ? `**Caution.** ${said}` : said}`;
    });
    blocks.push(`## ${text(section.heading)}`, steps.join('\n'));
  }
  if (readings.length > 0) {
    const rows = readings.map(({ between, place, when, volts, band }) => [
      sentence(between),
      text(place),
      text(when),
      text(volts),
      text(band),
      ' ',
    ]);
    blocks.push(
      '## Readings to expect',
      table(['Between', 'At', 'When', 'Expected', 'Band', 'Read'], rows, 3),
      text(readingBasis),
    );
  }
  return blocks;
}
