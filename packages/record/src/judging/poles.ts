/** Which pole a terminal's name or words mark. */

import type { ResolvedPart } from '../analysis-types.js';

export function poleOf(part: ResolvedPart | undefined, terminal: string): 'plus' | 'minus' | undefined {
  const words = part?.terminals.find(({ name }) => name === terminal)?.words ?? '';
  for (const mark of [terminal, words]) {
    if (/^(plus|pos(itive)?|\+)$/i.test(mark.trim())) return 'plus';
    if (/^(minus|neg(ative)?|-|\u2212)$/i.test(mark.trim())) return 'minus';
  }
  return undefined;
}
