/** Every check, one line each. A retired code is never used again. */

import { duplicateName } from './duplicate-name.js';
import { importCycle } from './import-cycle.js';
import { importMissing } from './import-missing.js';
import { importOutside } from './import-outside.js';
import { notYet } from './not-yet.js';
import { syntax } from './syntax.js';
import type { RecordCheck } from './types.js';
import { unitMismatch } from './unit-mismatch.js';
import { unknownName } from './unknown-name.js';
import { unknownTerminal } from './unknown-terminal.js';
import { unknownType } from './unknown-type.js';
import { valueOutOfRange } from './value-out-of-range.js';

/** Raised while the text is read, by code. */
export const readerChecks = {
  syntax,
  'unknown-name': unknownName,
  'duplicate-name': duplicateName,
  'unknown-terminal': unknownTerminal,
  'unknown-type': unknownType,
  'unit-mismatch': unitMismatch,
  'value-out-of-range': valueOutOfRange,
  'import-missing': importMissing,
  'import-cycle': importCycle,
  'import-outside': importOutside,
  'not-yet': notYet,
} as const;

/** Run over the analysis, in this order. */
export const recordChecks: readonly RecordCheck[] = [];
