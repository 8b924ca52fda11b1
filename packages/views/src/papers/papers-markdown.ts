/** The papers as Markdown: tables, no HTML. */

import { table as markdownTable, text } from '../markdown.js';
import { cautionWords } from '../words.js';
import { colourWords } from './colour-letters.js';
import type { Block, Cell } from './paper.js';
import type { Papers } from './papers.js';

/** Ends in a line end. */
export function papersMarkdown({ site, subtitle, profile, papers }: Papers): string {
  const blocks = papers.flatMap(({ title, blocks: inside }) => [`## ${title}`, ...inside.map(block)]);
  const head = [`# ${text(site)}`, ...(subtitle === '' ? [] : [text(subtitle)])];
  return `${[...head, ...blocks, cautionWords(profile)].filter((each) => each !== '').join('\n\n')}\n`;
}

function block(each: Block): string {
  switch (each.kind) {
    case 'heading':
      return `### ${text(each.text)}`;
    case 'words':
      return text(each.text);
    case 'list':
      return each.items
        .map((item, index) => `${each.numbered ? `${index + 1}.` : '-'} ${each.tick ? '[ ] ' : ''}${text(item)}`)
        .join('\n');
    case 'facts':
      return each.rows
        .map(([term, cells]) => `- ${text(term)}: ${cells.map((one) => cell(one) || '\\_\\_\\_\\_').join(' ')}`)
        .join('\n');
    case 'table':
      return markdownTable(
        each.head.map(text),
        each.rows.map((row) => row.map(cell)),
        each.head.length,
      );
    case 'cards':
      return each.cards
        .map(({ goesOn, title, lines }) => `- ${text(goesOn)}: **${text(title)}**; ${lines.map(text).join('; ')}`)
        .join('\n');
  }
}

function cell(each: Cell): string {
  if (typeof each === 'string') return text(each);
  return 'colour' in each ? text(colourWords(each.colour)) : '';
}
