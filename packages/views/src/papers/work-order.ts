/** The work order among the papers: the steps from the record that stands to this one, and the way back. */

import type { WorkOrders } from '@ohmstead/record';
import { noWorkWords, workView } from '../work-order-view.js';
import { type Block, type Cell, type Paper, tick } from './paper.js';

export function workOrderPaper({ there, back }: WorkOrders): Paper {
  return {
    name: 'work-order',
    title: 'Work order',
    blocks: [...stepBlocks(workView(there, 'there')), ...wayBack(back)],
  };
}

function wayBack(back: WorkOrders['back']): Block[] {
  const view = workView(back, 'back');
  return view.sections.length === 0 ? [] : [{ kind: 'heading', text: view.heading }, ...stepBlocks(view)];
}

/** Expected readings are on the test sheet. */
function stepBlocks({ sections }: ReturnType<typeof workView>): Block[] {
  if (sections.length === 0) return [{ kind: 'words', text: noWorkWords }];
  let count = 0;
  return sections.flatMap(({ heading, steps }): Block[] => [
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
}
