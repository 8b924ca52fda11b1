/** The records that the fault finder is tried on. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkRecord, parseWiring, readRecord } from '../../packages/language/src/index.js';
import type { Analysis } from '../../packages/record/src/index.js';
import { drawsFrom } from './draws.js';
import { randomRecord } from './random-records.js';

export interface Tried {
  readonly name: string;
  readonly analysis: Analysis;
}

export function analysisOf(text: string): Analysis {
  return checkRecord(readRecord(parseWiring('file:///house/record.wiring', text))).analysis;
}

export function examples(root: string): readonly Tried[] {
  return readdirSync(join(root, 'examples'))
    .filter((file) => file.endsWith('.wiring'))
    .map((file) => ({ name: file, analysis: analysisOf(readFileSync(join(root, 'examples', file), 'utf8')) }));
}

export function randomRecords(count: number, seed: number): readonly Tried[] {
  return Array.from({ length: count }, (_, k) => {
    const text = randomRecord(drawsFrom(seed + 7919 * k), k + 1);
    return { name: `any house ${k + 1}`, analysis: analysisOf(text) };
  });
}
