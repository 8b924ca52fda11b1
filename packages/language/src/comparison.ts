/** Two checked records compared, the same for the command line and the editor. */

import { type ComparedFinding, type ComparedSide, type Comparison, compareRecords } from '@ohmstead/record';
import type { CheckedRecord } from './pipeline.js';

export function compareChecked(before: CheckedRecord, after: CheckedRecord): Comparison {
  return compareRecords(comparedSide(before), comparedSide(after));
}

/** With everything that is concluded of the circuit: what a plan leaves to the record underneath is true of its circuit too. */
export function comparedSide({ analysis, read, concluded }: CheckedRecord): ComparedSide {
  return { analysis, findings: [...read, ...concluded].map(comparedFinding) };
}

function comparedFinding(
  finding: Omit<ComparedFinding, 'accepted'> & { readonly accepted?: unknown },
): ComparedFinding {
  const { code, severity, message, parts, accepted } = finding;
  return { code, severity, message, parts, accepted: accepted !== undefined };
}
