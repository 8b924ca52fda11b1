/** An explanation as Markdown. */

import { asSentence, type Explained, explainBasis, explainView, sameWords } from './explain-view.js';
import { sentence, table, text } from './markdown.js';
import { cautionWords } from './words.js';

/** Ends in a line end. */
export function explainMarkdown(explained: Explained): string {
  const view = explainView(explained);
  const blocks = [`# ${text(view.title)}`, sentence(view.verdict)];
  if (view.next) blocks.push('## Next', sentence(view.next.words));
  if (view.faults.length > 0) {
    const items = view.faults.map(({ what, share, predicts, sameAs }, index) =>
      [
        `${index + 1}. **${text(share)}** ${sentence(what)}`,
        ...predicts.map(({ words, fits }) => `   - ${sentence(words)}${fits ? '' : ' (**off**)'}`),
        ...(sameAs.length === 0 ? [] : [`   - ${text(sameWords)} ${sameAs.map(sentence).join('; ')}`]),
      ].join('\n'),
    );
    blocks.push(`## ${view.faultsHeading}`, items.join('\n'), text(explainBasis));
  }
  if (view.excluded.length > 0) {
    const rows = view.excluded.map(({ what, by }) => [sentence(what), sentence(by)]);
    blocks.push('## Excluded', table(['Fault', 'By'], rows, 2));
  }
  if (view.readings.length > 0) {
    const rows = view.readings.map(({ on, where, read, expected, verdict, bad }) => [
      text(on),
      sentence(where),
      sentence(read),
      sentence(expected ?? '–'),
      bad === null ? text(verdict) : sentence(asSentence(bad)),
    ]);
    blocks.push('## Readings', table(['On', 'Where', 'Read', 'Expected', 'Verdict'], rows, 5));
  }
  for (const note of view.notes) blocks.push(sentence(note));
  blocks.push(text(cautionWords(explained.profile)));
  return `${blocks.join('\n\n')}\n`;
}
