/** The work order among the papers: the steps from the record that stands to this one, and the way back. */

import type { WorkOrders } from '@ohmstead/record';
import { noWorkWords, readingBasis, type WorkView, workView } from '../work-order-view.js';
import { type Block, type Cell, type Paper, tick, write } from './paper.js';

export function workOrderPaper({ there, back }: WorkOrders): Paper {
  return {
    name: 'work-order',
    title: 'Work order',
    blocks: [...stepBlocks(workView(there, 'there')), ...wayBack(back)],
    table: {
      kind: 'table',
      head: ['Way', 'Step', 'What for', 'Where', 'What', 'Caution'],
      rows: [...stepRows('there', workView(there, 'there')), ...stepRows('back', workView(back, 'back'))],
      numbers: [1],
    },
  };
}

function stepRows(way: string, { sections }: WorkView): Cell[][] {
  let count = 0;
  return sections.flatMap(({ heading, steps }) =>
    steps.map(({ words, place, caution }): Cell[] => [
      way,
      String(++count),
      heading,
      place,
      words.replaceAll('`', ''),
      caution ? 'caution' : '',
    ]),
  );
}

function wayBack(back: WorkOrders['back']): Block[] {
  const view = workView(back, 'back');
  return view.sections.length === 0 ? [] : [{ kind: 'heading', text: view.heading }, ...stepBlocks(view)];
}

function stepBlocks({ sections, readings }: WorkView): Block[] {
  if (sections.length === 0) return [{ kind: 'words', text: noWorkWords }];
  let count = 0;
  const done = sections.flatMap(({ heading, steps }): Block[] => [
    { kind: 'heading', text: heading },
    {
      kind: 'table',
      head: ['Step', 'Where', 'What', 'Done'],
      rows: steps.map(({ words, place, caution }): Cell[] => [
        String(++count),
        place,
        `${caution ? 'Caution. ' : ''}${words.replaceAll('`', '')}`,
        tick,
      ]),
      widths: [7, 17, 68, 8],
    },
  ]);
  return readings.length === 0 ? done : [...done, ...readingBlocks(readings)];
}

function readingBlocks(readings: WorkView['readings']): Block[] {
  return [
    { kind: 'heading', text: 'Readings to expect' },
    {
      kind: 'table',
      head: ['When', 'Between', 'Where', 'Expected', 'Band', 'Read'],
      rows: readings.map(({ between, place, when, volts, band }): Cell[] => [
        when,
        between.replaceAll('`', ''),
        place,
        volts,
        band,
        write,
      ]),
      widths: [22, 26, 14, 11, 17, 10],
    },
    { kind: 'words', text: readingBasis },
  ];
}
