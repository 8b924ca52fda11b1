/** An explanation for a terminal or a plain printer. */

import { asSentence, type Explained, type ExplainView, explainBasis, explainView, sameWords } from './explain-view.js';
import { oneLine, wrapped } from './plain.js';
import { cautionWords } from './words.js';

const WIDTH = 100;
const bare = (words: string): string => oneLine(words.replaceAll('`', ''));

/** Ends in a line end. */
export function explainText(explained: Explained): string {
  const view = explainView(explained);
  const blocks = [
    [view.title, ...wrapped(bare(view.verdict), WIDTH)].join('\n'),
    ...(view.next ? [['Next', ...lines(view.next.words, 2)].join('\n')] : []),
    ...faults(view),
    ...(view.excluded.length > 0
      ? [
          [
            'Excluded',
            ...view.excluded.flatMap(({ what, by }) => lines(`${asSentence(what)} ${asSentence(by)}`, 6, '  ')),
          ].join('\n'),
        ]
      : []),
    ...readings(view),
    ...(view.notes.length > 0 ? [view.notes.flatMap((note) => lines(note, 0)).join('\n')] : []),
    [...(view.faults.length > 0 ? lines(explainBasis, 0) : []), ...lines(cautionWords(explained.profile), 0)].join(
      '\n',
    ),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function lines(words: string, by: number, first = ' '.repeat(by)): string[] {
  return wrapped(bare(words), WIDTH - by).map((line, index) => (index === 0 ? first : ' '.repeat(by)) + line);
}

function faults({ faults: found, faultsHeading }: ExplainView): string[] {
  if (found.length === 0) return [];
  const blocks = found.map(({ what, share, predicts, sameAs }, index) => {
    const head = `  ${String(index + 1).padStart(2)}  `;
    return [
      ...lines(`${asSentence(what).slice(0, -1)}: ${share}.`, head.length, head),
      ...predicts.flatMap(({ words, fits }) =>
        lines(words, head.length + 4, `${' '.repeat(head.length)}${fits ? '  = ' : '  ! '}`),
      ),
      ...(sameAs.length === 0 ? [] : lines(`${sameWords} ${sameAs.join('; ')}.`, head.length + 4)),
    ].join('\n');
  });
  const legend = found.some(({ predicts }) => predicts.length > 0) ? ' (= as read, ! off)' : '';
  return [[`${faultsHeading}${legend}`, ...blocks].join('\n')];
}

function readings({ readings: taken }: ExplainView): string[] {
  if (taken.length === 0) return [];
  const rows = taken.map(({ on, where, read, expected, verdict, bad }) => ({
    cells: [on, bare(read), verdict, bare(expected ?? '–')],
    where: `${where}${bad === null ? '' : `. ${asSentence(bad)}`}`,
  }));
  const widths = [0, 1, 2, 3].map((column) =>
    Math.min(28, Math.max(...rows.map(({ cells }) => cells[column]!.length))),
  );
  const table = rows.flatMap(({ cells, where }) => {
    const head = `  ${cells.map((cell, column) => cell.padEnd(widths[column]!)).join('  ')}`.trimEnd();
    return [head, ...lines(where, 6)];
  });
  return [['Readings: read, and what a sound house shows', ...table].join('\n')];
}
