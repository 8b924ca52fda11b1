// Names, titles and reasons are somebody else's words: none of them may become markup, a table's cell or a terminal's command.
import { describe, expect, test } from 'vitest';
import { escapeHtml, html, sentence } from '../src/html.js';
import { budgetHtml, budgetMarkdown, budgetPanelHtml, budgetText } from '../src/index.js';
import { harmless, wrapped } from '../src/plain.js';
import { budget as hostile, hostileText } from './cases/hostile/input.js';

const range = { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } };
const located = hostile.findings.map((each) => ({ ...each, uri: `file:///${hostileText}`, range }));

describe('markup', () => {
  const forms = {
    page: budgetHtml(hostile),
    panel: budgetPanelHtml(hostile, { findings: located, marked: hostileText, stale: true }),
  };

  test.each(Object.entries(forms))('of the %s has no tag or attribute of a name', (_form, markup) => {
    const body = markup.replace(/<style>[\s\S]*<\/style>/, '');
    const tags = new Set([...body.matchAll(/<\/?([a-zA-Z][\w-]*)/g)].map((match) => match[1]));
    expect(tags).not.toContain('img');
    expect(tags).not.toContain('script');
    // With quoted values taken out, what is left of a tag are names of attributes.
    const attributes = [...body.matchAll(/<[a-z][^>]*>/g)].map((match) => match[0].replace(/"[^"]*"/g, ''));
    expect(attributes.filter((each) => /\son\w+|style=|'/.test(each))).toEqual([]);
    expect(body).not.toContain('\u001b');
  });

  test('of neither form carries a script or reaches for anything', () => {
    for (const markup of Object.values(forms)) {
      expect(markup).not.toMatch(/<script|<link|<iframe|@import|url\(/i);
      expect(markup).not.toMatch(/(?:src|href)="(?!#)/);
    }
  });
});

test('Markdown keeps names out of its tables and links', () => {
  const markdown = budgetMarkdown(hostile);
  const unescaped = markdown.replace(/\\[\s\S]/g, '');
  expect(unescaped).not.toContain('<');
  expect(unescaped).not.toMatch(/\]\(/);
  const rows = markdown.split('\n').filter((line) => line.startsWith('|'));
  const cells = (line: string) => line.replace(/\\./g, '').split('|').length;
  expect(rows.length).toBeGreaterThan(4);
  let width = 0;
  for (const [index, row] of rows.entries()) {
    if (rows[index + 1]?.startsWith('| ---')) width = cells(row);
    expect(cells(row), row).toBe(width);
  }
});

test('a terminal is not steered', () => {
  // Of the codes in it, all are the view's own.
  const codes = budgetText(hostile, { colour: true })
    .split('\u001b')
    .slice(1)
    .map((each) => each.slice(0, each.indexOf('m') + 1));
  expect(codes.length).toBeGreaterThan(0);
  expect(codes.filter((each) => !['[1m', '[22m', '[31m', '[33m', '[36m', '[39m'].includes(each))).toEqual([]);
  expect(budgetText(hostile)).not.toContain('\u001b');
  expect(harmless('a\u001b[2J\u0007\u202eb\u009bc\td')).toBe('a[2Jbc\td');
});

describe('templates', () => {
  test('escape what is text and keep what is markup', () => {
    expect(`${html`<p title="${'"\'<'}">${html`<b>${'a & b'}</b>`}${false}${undefined}${['<', 1]}</p>`}`).toBe(
      '<p title="&quot;&#39;&lt;"><b>a &amp; b</b>&lt;1</p>',
    );
    expect(escapeHtml('\u0000a\u0008')).toBe('a');
  });

  test('set names between backticks as code, and leave an odd one alone', () => {
    expect(`${sentence('`a` gets <1 V')}`).toBe('<code>a</code> gets &lt;1 V');
    expect(`${sentence('one ` only')}`).toBe('one ` only');
  });
});

test('lines are broken at spaces, never between a figure and its unit, and within words only where they must be', () => {
  expect(wrapped('it gets 16.7 V at rest', 12)).toEqual(['it gets', '16.7 V at', 'rest']);
  expect(wrapped('abcdefghij k', 4)).toEqual(['abcd', 'efgh', 'ij k']);
  expect(wrapped('', 10)).toEqual(['']);
});
