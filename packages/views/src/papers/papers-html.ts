/** The papers as one HTML page: self-contained, without script, each paper on sheets of its own when printed. */

import { swatch } from '../bars.js';
import { Html, html } from '../html.js';
import { cautionWords } from '../words.js';
import { colourLetters } from './colour-letters.js';
import type { Block, Cell, Table } from './paper.js';
import type { Papers } from './papers.js';
import { pageSizeStyle, paperStyle, type SheetSize } from './paper-style.js';

export interface PaperHtmlOptions {
  /** Left to the printer where there is none. */
  readonly sheet?: SheetSize;
  /** For a host that allows nothing but styles with this mark. */
  readonly nonce?: string;
}

export function papersHtml(
  { site, subtitle, profile, papers }: Papers,
  { sheet, nonce }: PaperHtmlOptions = {},
): string {
  const sections = papers.map(
    ({ name, title, blocks }) =>
      html`<section class="paper" id="${name}"><header><p class="site">${site}${subtitle !== '' && `, ${subtitle}`}</p><h1>${title}</h1><p class="caution">${cautionWords(profile)}</p></header>
${blocks.map(block)}</section>
`,
  );
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
${nonce !== undefined && html`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'nonce-${nonce}'">\n`}<title>${site}: papers</title>
<style${nonce !== undefined && html` nonce="${nonce}"`}>${new Html(paperStyle + pageSizeStyle(sheet))}</style>
</head>
<body>
<main>
${sections}</main>
</body>
</html>
`.markup;
}

function block(each: Block): Html {
  switch (each.kind) {
    case 'heading':
      return html`<h2>${each.text}</h2>\n`;
    case 'words':
      return html`<p>${each.text}</p>\n`;
    case 'list': {
      const items = each.items.map((item) => html`<li>${each.tick && html`<span class="box"></span> `}${item}</li>`);
      return each.numbered ? html`<ol>${items}</ol>\n` : html`<ul${each.tick && html` class="ticks"`}>${items}</ul>\n`;
    }
    case 'facts':
      return html`<dl>${each.rows.map(([term, cells]) => html`<div><dt>${term}</dt><dd>${cells.map((one) => html`<span>${cell(one)}</span> `)}</dd></div>`)}</dl>\n`;
    case 'table':
      return table(each);
    case 'cards':
      return html`<ul class="cards">${each.cards.map(({ goesOn, title, lines }) => html`<li><span class="goes-on">${goesOn}</span><div class="card"><strong>${title}</strong>${lines.map((line) => html`<span>${line}</span>`)}</div></li>`)}</ul>\n`;
  }
}

function table({ head, rows, numbers = [], widths = [] }: Table): Html {
  const figure = (index: number) => numbers.includes(index) && html` class="figure"`;
  const whole = widths.reduce((sum, width) => sum + width, 0);
  const columns = widths.map((width) => html`<col width="${Number(((100 * width) / whole).toFixed(1))}%">`);
  const row = (cells: readonly Cell[]) =>
    html`<tr>${cells.map((each, index) => html`<td${figure(index)}>${cell(each)}</td>`)}</tr>\n`;
  const bodies = rowGroups(rows).map((group) => html`<tbody>\n${group.map(row)}</tbody>`);
  return html`<table>${widths.length > 0 && html`<colgroup>${columns}</colgroup>`}<thead><tr>${head.map((words, index) => html`<th scope="col"${figure(index)}>${words}</th>`)}</tr></thead>${bodies}</table>\n`;
}

/** Rows that one name stands for stay on one sheet. */
function rowGroups(rows: Table['rows']): (readonly Cell[])[][] {
  const groups: (readonly Cell[])[][] = [];
  for (const row of rows) {
    const group = groups.at(-1);
    if (row[0] === '' && group !== undefined) group.push(row);
    else groups.push([row]);
  }
  return groups;
}

function cell(each: Cell): Html {
  if (typeof each === 'string') return html`${each}`;
  if ('write' in each)
    return each.write === 'narrow' ? html`<span class="box"></span>` : html`<span class="line"></span>`;
  const code = colourLetters(each.colour);
  return html`<span class="colour">${swatch(each.colour)}${each.colour}${code !== undefined && html` <b>${code}</b>`}</span>`;
}
