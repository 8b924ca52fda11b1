/** The type library's reference as Markdown, made from the library itself. */

import type { CableType, PartType, Rating, Terminal } from '@ohmstead/record';
import { readLibrary } from './read-library.js';
import { stretchOf } from './lower/sites.js';

/** The whole of LIBRARY.md. */
export function libraryPage(): string {
  const { documents, installation, cableTypes } = readLibrary();
  const { partTypes } = installation;
  const out = [
    '# The type library',
    '',
    '<!-- Made from library/*.wiring by write-library-page.mjs; edit those. -->',
    '',
    'These types come with Ohmstead and are written in its own notation. A figure without a source is common practice, and its comment',
    'says so. What is read off the label of the part in hand comes before any figure here.',
  ];
  for (const document of documents) {
    const title = document.file.statements.find((statement) => statement.$type === 'Title')?.title ?? document.uri;
    out.push('', `## ${title.replace(/^.*: /, '').replace(/^./, (first) => first.toUpperCase())}`);
    for (const statement of document.file.statements) {
      if (statement.$type !== 'PartType' && statement.$type !== 'CableType') continue;
      const { offset, end } = stretchOf({ document, node: statement });
      const part = statement.$type === 'PartType' ? partTypes.get(statement.name) : undefined;
      const cable = part ? undefined : cableTypes.get(statement.name);
      out.push('', `### \`${statement.name}\``, '', part ? partWords(part) : cable ? cableWords(cable) : '');
      out.push('', '```', document.text.slice(offset, end).replace(/\r\n?/g, '\n'), '```');
    }
  }
  return `${out.join('\n')}\n`;
}

function partWords(type: PartType): string {
  const kind = type.of === 'supply' ? 'Supply' : 'Device';
  const terminals =
    type.terminals.length === 0 ? 'No terminals.' : `Terminals: ${type.terminals.map(terminalWords).join(', ')}.`;
  const label = type.facts.rating ? ` Label: ${ratingWords(type.facts.rating)}.` : '';
  return `${kind}. ${type.words ?? type.name}. ${terminals}${label}`;
}

function terminalWords({ name, words, optional }: Terminal): string {
  return `\`${name}\`${words === undefined ? '' : ` (${words})`}${optional ? ' optional' : ''}`;
}

function ratingWords({ volts, system, voltAmperes, watts, amps }: Rating): string {
  const kind = system ? ` ${system}` : '';
  const range = volts && (volts.least === volts.most ? `${volts.most}` : `${volts.least}..${volts.most}`);
  const words = [
    range && `${range} V${kind}`,
    voltAmperes && `${voltAmperes} VA`,
    watts && `${watts} W`,
    amps && `${amps} A`,
  ];
  return words.filter(Boolean).join(', ');
}

function cableWords(type: CableType): string {
  return `Cable. ${type.words ?? type.name}. Conductors: ${type.colours.join(', ')}.`;
}
