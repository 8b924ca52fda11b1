/** Quick fixes of the findings at a place: those the reader of the text offers and those computed from the circuit. */

import type { CheckedRecord, LocatedFinding } from '../pipeline.js';
import type { TextRange } from '../reading/document.js';
import type { TextFix } from '../lower/context.js';

export interface QuickFix extends TextFix {
  readonly finding: LocatedFinding;
}

/** Of findings that touch a range, in their order. */
export function quickFixes(checked: CheckedRecord, range: TextRange): QuickFix[] {
  return checked.findings
    .filter((finding) => finding.accepted === undefined && touch(finding.range, range))
    .flatMap((finding) => checked.fixesOf(finding).map((fix) => ({ ...fix, finding })));
}

function touch(one: TextRange, other: TextRange): boolean {
  return !isBefore(one.end, other.start) && !isBefore(other.end, one.start);
}

function isBefore(one: TextRange['start'], other: TextRange['start']): boolean {
  return one.line < other.line || (one.line === other.line && one.character < other.character);
}
