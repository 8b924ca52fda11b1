/** Requests about two records: what changed between them, and a plan as the record that it results in. */

import { type Pair, workOrders } from '@ohmstead/record';
import { compareChecked } from '../comparison.js';
import type { CheckedRecord } from '../pipeline.js';
import {
  COMPARE_REQUEST,
  type CompareAnswer,
  type ComparedWith,
  type CompareParams,
  FLATTEN_REQUEST,
  type FlattenAnswer,
  PLAN_BASE_REQUEST,
  type PlanBaseAnswer,
  type PlanParams,
} from '../protocol.js';
import { flattenPlan } from '../services/flatten.js';
import type { Asked } from './asked.js';
import { EarlierRecords } from './earlier.js';
import { locationsOf } from './findings.js';
import { canBeRead } from './records.js';

export function answerComparisons({ connection, records, ways }: Asked): void {
  const earlier = new EarlierRecords(records);
  const { uriFor } = ways;

  /** A record with all that it imports, also where the editor has to be asked for its files. */
  const settled = async (uri: string): Promise<CheckedRecord | undefined> => {
    const checked = records.check(uri);
    if (checked && !records.awaitsFiles(uri)) return checked.record;
    await records.gather();
    return records.check(uri)?.record;
  };

  /** What is being written stays comparable while it can't be read. */
  const lastGood = async (uri: string): Promise<CheckedRecord | undefined> => {
    const now = await settled(uri);
    const good = records.lastGood(uri);
    return now && !canBeRead(now.reading) && good && canBeRead(good.reading) ? good : now;
  };

  const before = async (uri: string, against: ComparedWith): Promise<CheckedRecord | CompareAnswer> => {
    switch (against.kind) {
      case 'earlier': {
        const found = earlier.of(uri, against.texts);
        if ('needs' in found) return { kind: 'needs', uris: found.needs.map(uriFor) };
        return 'gone' in found ? refused('It was not there then.') : found.record;
      }
      case 'record':
        return (await lastGood(against.uri)) ?? refused('The other record cannot be read.');
      case 'base': {
        const base = records.reading(uri)?.plan?.baseUri;
        if (base === undefined) return refused('This record is no plan: it names no other that it changes.');
        return (await lastGood(base)) ?? refused('The record that it changes cannot be read.');
      }
    }
  };

  connection.onRequest<CompareAnswer, void>(COMPARE_REQUEST, async ({ uri, against }: CompareParams) => {
    const after = await lastGood(uri);
    if (!after) return refused('The record cannot be read.');
    const old = await before(uri, against);
    if ('kind' in old) return old;
    const pair = <T>(of: (record: CheckedRecord) => T): Pair<T> => ({ before: of(old), after: of(after) });
    return {
      kind: 'compared',
      comparison: compareChecked(old, after),
      orders: workOrders(old.analysis, after.analysis),
      stale: after.reading !== records.reading(uri),
      broken: pair(({ reading }) => !canBeRead(reading)),
      locations: {
        before: against.kind === 'earlier' ? {} : locationsOf(old, uriFor),
        after: locationsOf(after, uriFor),
      },
    };
  });

  connection.onRequest(PLAN_BASE_REQUEST, async ({ uri }: PlanParams): Promise<PlanBaseAnswer> => {
    const base = (await settled(uri))?.reading.plan?.baseUri;
    return { uri: base === undefined ? null : uriFor(base) };
  });

  connection.onRequest<FlattenAnswer, void>(FLATTEN_REQUEST, async ({ uri }: PlanParams) => {
    const reading = (await settled(uri))?.reading;
    if (!reading) return { refused: 'The record cannot be read.' };
    const text = flattenPlan(reading.document, { document: (other) => records.document(other) });
    return typeof text === 'string' ? { text, baseUri: uriFor(reading.plan!.baseUri) } : text;
  });
}

function refused(message: string): CompareAnswer {
  return { kind: 'refused', message };
}
