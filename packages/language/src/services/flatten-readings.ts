/** What was read before the work that a plan asks for: readings on wiring that it leaves alone go on to count, the others are kept as comments. */

import { type AstNode, AstUtils } from 'langium';
import type { End, Readings } from '../generated/ast.js';
import { type Stretch, stretchOf } from '../lower/sites.js';
import type { WiringDocument } from '../reading/document.js';

/** A stretch of a record's text, and what stands in its place. */
export interface Rewritten {
  readonly stretch: Stretch;
  readonly text: string;
}

const REASON = 'Read before this wiring was changed:';

/** `isUnchanged` tells by a name whether all that hangs together with it is as it was. */
export function readingsAfter(document: WiringDocument, isUnchanged: (name: string) => boolean): readonly Rewritten[] {
  return document.slices.flatMap(({ statement, offset, end }): readonly Rewritten[] => {
    if (statement?.$type !== 'Readings') return [];
    const isOver = (line: AstNode): boolean => [...namesIn(line)].some((name) => !isUnchanged(name));
    const read = statement.readings.filter((line) => namesIn(line).size > 0);
    const over = read.filter(isOver);
    const stretch = { offset, end };
    if (over.length === 0) return [];
    if (over.length === read.length) return [{ stretch, text: commented(document.text.slice(offset, end)) }];
    const lines = over.map((line) => stretchOf({ document, node: line }));
    if (lines.every((line) => isAlone(document.text, line)))
      return lines.map((line) => ({
        stretch: line,
        text: commented(inOneColumn(document.text.slice(line.offset, line.end))),
      }));
    return [{ stretch, text: takenApart(document, statement, stretch, over) }];
  });
}

/** Parts, splices and runs that a line is about; none for the meter, the mains and a note. */
function namesIn(line: AstNode): ReadonlySet<string> {
  const names = new Set<string>();
  const { part } = line as { readonly part?: string };
  if (part !== undefined) names.add(part);
  for (const node of AstUtils.streamAllContents(line)) if (node.$type === 'End') names.add((node as End).part);
  return names;
}

function commented(text: string): string {
  return `// ${REASON} ${text.replace(/\r\n|\n|\r/g, '$&// ')}`;
}

function inOneColumn(line: string): string {
  return line.replace(/"[^"\r\n]*"|[ \t]+/g, (found) => (found.startsWith('"') ? found : ' '));
}

function isAlone(text: string, { offset, end }: Stretch): boolean {
  const before = /[^\r\n]*$/.exec(text.slice(0, offset))![0];
  return before.trim() === '' && /^[ \t]*(?:\/\/|[\r\n]|$)/.test(text.slice(end));
}

/** Several readings in one line of the text: those that are over go above the rest. */
function takenApart(
  document: WiringDocument,
  { readings }: Readings,
  { offset, end }: Stretch,
  over: readonly AstNode[],
): string {
  const textOf = (node: AstNode): string => {
    const at = stretchOf({ document, node });
    return document.text.slice(at.offset, at.end);
  };
  const written = document.text.slice(offset, end);
  const head = written.slice(0, written.indexOf('{') + 1);
  const left = readings.filter((line) => !over.includes(line)).map(textOf);
  return [...over.map((line) => commented(inOneColumn(textOf(line)))), head, ...left, '}'].join('\n');
}
