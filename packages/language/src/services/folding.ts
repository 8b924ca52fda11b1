/** Folding: the braces of statements, and comments over several lines. */

import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver';
import { scan } from './scan.js';

/** Lines from 0. */
export function foldingRanges(text: string): FoldingRange[] {
  const ranges: FoldingRange[] = [];
  const open: number[] = [];
  let comments: { first: number; last: number } | undefined;
  const finishComments = (): void => {
    if (comments && comments.last > comments.first) {
      ranges.push({ startLine: comments.first, endLine: comments.last, kind: FoldingRangeKind.Comment });
    }
    comments = undefined;
  };
  let number = 0;
  for (const line of scan(text)) {
    const height = text.slice(line.start, line.end).split(/\r\n|\r|\n/).length;
    const commentOnly = line.tokens.length > 0 && line.tokens.every((token) => token.kind === 'comment');
    if (commentOnly) comments = { first: comments?.first ?? number, last: number + height - 1 };
    else finishComments();
    for (const token of line.tokens) {
      if (token.kind !== 'mark') continue;
      if (token.text === '{') open.push(number);
      if (token.text !== '}') continue;
      const first = open.pop();
      if (first !== undefined && number > first + 1) ranges.push({ startLine: first, endLine: number - 1 });
    }
    number += height;
  }
  finishComments();
  return ranges.sort((one, other) => one.startLine - other.startLine);
}
