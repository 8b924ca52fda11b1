/** Requests about readings: what fits them, and one that was just taken. */

import { at, type Explanation, explain, shownReadings } from '@ohmstead/record';
import type { CheckedRecord } from '../pipeline.js';
import {
  EXPLAIN_REQUEST,
  type ExplainAnswer,
  type ExplainParams,
  type ProtocolLocation,
  TAKE_READING_REQUEST,
  type TakeReadingAnswer,
  type TakeReadingParams,
} from '../protocol.js';
import { readingChoices } from '../services/reading-choices.js';
import { takeReading } from '../services/take-reading.js';
import type { Asked } from './asked.js';
import { locationsOf } from './findings.js';
import { canBeRead } from './records.js';

export function answerReadings({ connection, records, ways }: Asked): void {
  const { uriFor } = ways;

  connection.onRequest(EXPLAIN_REQUEST, ({ uri, recentWork }: ExplainParams): ExplainAnswer => {
    const checked = records.check(uri);
    const reading = records.reading(uri);
    const good = records.lastGood(uri);
    const version = checked?.version ?? null;
    if (!good) return { version, stale: true, explained: null, locations: {}, readings: {} };
    const { analysis } = good;
    const { title = '', profile } = analysis.installation;
    return {
      version,
      stale: !reading || checked?.record.reading !== reading || !canBeRead(reading),
      explained: {
        title,
        profile,
        explanation: explanationOf(good, recentWork === true),
        readings: shownReadings(analysis),
        choices: readingChoices(analysis.installation),
      },
      locations: checked ? locationsOf(checked.record, uriFor) : {},
      readings: checked ? placesOfReadings(checked.record, uriFor) : {},
    };
  });

  connection.onRequest<TakeReadingAnswer, void>(TAKE_READING_REQUEST, ({ uri, line, on }: TakeReadingParams) => {
    const document = records.document(uri);
    const open = records.openDocument(uri);
    if (!document || !open) return { refused: 'Open the record first.' };
    const taken = takeReading(document, { document: (other) => records.document(other) }, line, on);
    return 'refused' in taken ? taken : { edit: taken.edit, version: open.version };
  });
}

/** By record and by whether something was worked on: the same question is asked again whenever a panel comes into sight. */
const kept = new WeakMap<CheckedRecord['analysis'], Map<boolean, Explanation>>();

function explanationOf({ analysis }: CheckedRecord, recentWork: boolean): Explanation {
  const known = kept.get(analysis) ?? new Map<boolean, Explanation>();
  kept.set(analysis, known);
  const explanation = known.get(recentWork) ?? explain(analysis, { recentWork });
  known.set(recentWork, explanation);
  return explanation;
}

/** By `block/index`. */
function placesOfReadings(
  { reading }: CheckedRecord,
  uriFor: (uri: string) => string,
): Readonly<Record<string, ProtocolLocation>> {
  const places: Record<string, ProtocolLocation> = {};
  for (const [block, { readings }] of (reading.installation.readings ?? []).entries()) {
    for (const index of readings.keys()) {
      const place = reading.sourceMap.locate(at.reading(block, index));
      if (place) places[`${block}/${index}`] = { uri: uriFor(place.uri), range: place.range };
    }
  }
  return places;
}
