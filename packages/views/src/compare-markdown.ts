/** A comparison as Markdown, fit for a comment on a pull request: tables, no HTML. */

import type { Comparison } from '@ohmstead/record';
import { compareView, figureBasis } from './compare-view.js';
import { code, sentence, table, text } from './markdown.js';
import { cautionWords } from './words.js';

/** Ends in a line end. */
export function compareMarkdown(comparison: Comparison): string {
  const view = compareView(comparison);
  const blocks = [
    `# ${text(view.after)}`,
    `Compared with ${text(view.before)}.${view.verdict === '' ? '' : ` ${text(view.verdict)}`}`,
    ...view.groups.flatMap(({ heading, lines }) => [
      `## ${text(heading)}`,
      lines.map(({ change, words }) => `- **${text(change)}** ${sentence(words)}`).join('\n'),
    ]),
    ...(view.figures.length === 0
      ? []
      : [
          '## Figures',
          table(
            ['Figure', 'When', 'Before', 'After'],
            view.figures.map(({ what, before, after, when }) => [
              sentence(what),
              sentence(when.join(', ')),
              text(before),
              text(after),
            ]),
            2,
          ),
          text(figureBasis),
        ]),
    ...(view.findings.length === 0 && view.kept === ''
      ? []
      : [
          '## Findings',
          ...(view.findings.length === 0
            ? []
            : [
                view.findings
                  .map((one) => `- **${one.state} ${text(one.severity)}** ${sentence(one.message)} (${code(one.code)})`)
                  .join('\n'),
              ]),
          ...(view.kept === '' ? [] : [text(view.kept)]),
        ]),
    text(cautionWords(comparison.profile.after ?? '')),
  ];
  return `${blocks.join('\n\n')}\n`;
}
