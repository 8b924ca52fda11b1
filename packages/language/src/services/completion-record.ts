/** What completion knows of a record: the last reading of it, the cables that spellings mean, the codes of checks. */

import { type CableType, checkSummaries } from '@ohmstead/record';
import { type Reading, readRecord } from '../read.js';
import { parseWiring } from '../reading/document.js';
import type { CompletionRecord } from './completion-drafts.js';

export function completionRecord(reading: Reading): CompletionRecord {
  return {
    installation: reading.installation,
    ...(reading.plan ? { base: reading.plan.base.installation } : {}),
    cableTypes: [...reading.cableTypes.values()],
    cableOf: (words) => reading.cableTypes.get(words) ?? spelledCable(words, reading.installation.profile),
    codes: [...checkSummaries.values()].filter((summary) => summary.acceptable),
  };
}

const spelled = new Map<string, CableType | undefined>();

/** The cable that a spelling such as `18/2` means, read as the notation reads it under a profile. */
function spelledCable(words: string, profile: string): CableType | undefined {
  const text = `profile ${profile}\nrun spelling : ${words}`;
  if (!spelled.has(text)) {
    const { installation } = readRecord(parseWiring('cable:spelling', text));
    spelled.set(text, installation.runs[0]?.cable);
  }
  return spelled.get(text);
}
