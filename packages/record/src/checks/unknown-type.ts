import { didYouMean, quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface UnknownTypeFacts {
  readonly type: string;
  readonly kind: 'device' | 'supply' | 'cable';
  readonly nearest: readonly string[];
  /** Set where a type of that name exists but is of this other kind. */
  readonly isA?: 'device' | 'supply' | 'cable';
}

export const unknownType = defineReaderCheck<UnknownTypeFacts>({
  code: 'unknown-type',
  severity: 'error',
  title: 'A type is neither in the library nor in the record',
  sentence({ type, kind, nearest, isA }) {
    if (isA !== undefined) {
      const start = isA === 'cable' ? 'run' : isA;
      const mend =
        kind === 'cable'
          ? 'a run takes a cable such as `18/2`'
          : `start the line with ${quote(start)}, or name a ${kind} type`;
      return `${quote(type)} is a ${isA} type: ${mend}.`;
    }
    const way = kind === 'cable' ? 'a cable such as `18/2` or a `cable type`' : `a ${kind} type`;
    const mend =
      nearest.length > 0
        ? didYouMean(nearest)
        : ` Name one that is, or write ${quote(`${kind} type ${type}`)} with what its label says.`;
    return `${quote(type)} is not ${way} of the library or of this record.${mend}`;
  },
});
