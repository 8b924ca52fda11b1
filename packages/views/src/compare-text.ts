/** A comparison for a terminal. */

import type { Comparison } from '@ohmstead/record';
import { type CompareView, compareView, figureBasis } from './compare-view.js';
import { oneLine, wrapped } from './plain.js';

const WIDTH = 100;

const bare = (words: string): string => oneLine(words.replaceAll('`', ''));

/** Ends in a line end. */
export function compareText(comparison: Comparison): string {
  const view = compareView(comparison);
  const blocks = [
    head(view),
    ...view.groups.map(({ heading, lines }) => group(heading, lines)),
    ...figures(view),
    ...findings(view),
  ];
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function head({ before, after, verdict }: CompareView): string[] {
  const lines = [`before  ${bare(before)}`, `after   ${bare(after)}`];
  return verdict === '' ? lines : [...lines, '', ...wrapped(bare(verdict), WIDTH)];
}

function group(heading: string, lines: CompareView['groups'][number]['lines']): string[] {
  const width = Math.max(...lines.map(({ change }) => change.length));
  return [heading, ...lines.flatMap(({ change, words }) => hanging(`  ${change.padEnd(width)}  `, bare(words)))];
}

/** Words after a head, their further lines under its end. */
function hanging(head: string, words: string): string[] {
  const [first = '', ...rest] = wrapped(words, Math.max(40, WIDTH - head.length));
  return [`${head}${first}`, ...rest.map((line) => `${' '.repeat(head.length)}${line}`)];
}

function figures({ figures: lines }: CompareView): string[][] {
  if (lines.length === 0) return [];
  const what = Math.max(...lines.map((line) => bare(line.what).length));
  const before = Math.max(6, ...lines.map((line) => line.before.length));
  const after = Math.max(5, ...lines.map((line) => line.after.length));
  const row = (cells: readonly [string, string, string, string]): string =>
    `  ${cells[0].padEnd(what)}  ${cells[1].padStart(before)}  ${cells[2].padStart(after)}  ${cells[3]}`.trimEnd();
  return [
    [
      'Figures',
      row(['', 'before', 'after', '']),
      ...lines.flatMap(({ what, before, after, when: [first = '', ...more] }) => [
        row([bare(what), before, after, bare(first)]),
        ...more.map((words) => row(['', '', '', bare(words)])),
      ]),
      ...wrapped(figureBasis, WIDTH - 2).map((line) => `  ${line}`),
    ],
  ];
}

function findings({ findings: lines, kept }: CompareView): string[][] {
  if (lines.length === 0 && kept === '') return [];
  return [
    [
      'Findings',
      ...lines.flatMap(({ state, severity, code, message }) => [
        `  ${state.padEnd(4)}  ${severity} ${code}`,
        ...wrapped(bare(message), WIDTH - 8).map((line) => `        ${line}`),
      ]),
      ...(kept === '' ? [] : [`  ${kept}`]),
    ],
  ];
}
