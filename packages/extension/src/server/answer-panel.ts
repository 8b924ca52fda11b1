/** Answers what the panel asks: the views' pictures and papers of what was concluded from a record. */

import type { Asked } from '@ohmstead/language/server';
import { PAPERS_REQUEST, PICTURES_REQUEST, type PapersParams, type PicturesParams } from '../panel/pictures.js';
import { papersAnswer } from './papers-answer.js';
import { noPictures, picturesAnswer } from './pictures-answer.js';

export function answerPanel({ connection, records }: Asked): void {
  connection.onRequest(PICTURES_REQUEST, ({ uri, ...ask }: PicturesParams) => {
    if (records.checked(uri) === undefined) records.check(uri);
    const good = records.lastGood(uri);
    return good === undefined ? noPictures : picturesAnswer(good, ask);
  });
  connection.onRequest(PAPERS_REQUEST, ({ uri, ...ask }: PapersParams) => {
    const record = records.check(uri)?.record;
    const baseUri = record?.reading.plan?.baseUri;
    const base = baseUri === undefined ? undefined : records.check(baseUri)?.record;
    return papersAnswer(record, base, ask);
  });
}
