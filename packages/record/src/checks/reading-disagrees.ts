import type { Analysis } from '../analysis-types.js';
import { badReading, partsOfReading } from '../judging/bad-readings.js';
import {
  predictedFigure,
  predictedWords,
  readingPlaceWords,
  readingShownWords,
  readingStateWords,
  signWords,
} from '../judging/reading-words.js';
import { listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { judgedReadings, whereRead } from '../readings/judge.js';
import type { JudgedReading } from '../readings/types.js';
import { defineCheck } from './types.js';

export const readingDisagrees = defineCheck({
  code: 'reading-disagrees',
  severity: 'warning',
  title: 'A reading outside of what the record makes one expect',
  run(analysis, report) {
    const where = whereRead(analysis);
    for (const judged of judgedReadings(analysis)) {
      if (judged.agrees !== false || judged.bad !== undefined) continue;
      if (badReading(where, judged.reading) !== undefined) continue;
      report({
        path: at.reading(judged.block, judged.index),
        message: () => sentence(where, judged),
        parts: partsOfReading(judged.reading),
      });
    }
  },
});

function sentence(analysis: Analysis, { reading, predicted }: JudgedReading): string {
  const when = readingStateWords(analysis, reading);
  const { of } = reading;
  if (of.kind === 'sign') {
    const expected = predicted.kind === 'sign' ? signWords(predicted.shows, predicted.note) : predictedWords(predicted);
    return `${quote(of.part)} ${found(of.shows)}${of.note === undefined ? '' : ` (${quote(of.note)})`} ${when}; as recorded, ${expected}.`;
  }
  const read = `${readingShownWords(of)} was read ${readingPlaceWords(of)} ${when}`;
  if (predicted.kind !== 'figure') return `${read}; as recorded, a sound house shows ${predictedWords(predicted)}.`;
  const leans = predicted.leansOn.length === 0 ? '' : ` The band allows for ${listOf(predicted.leansOn)}.`;
  return `${read}; as recorded, a sound house shows ${predictedWords(predicted)}, most likely ${predictedFigure(predicted)}.${leans}`;
}

function found(shows: string): string {
  return { rings: 'was found to ring', hums: 'was found to hum' }[shows] ?? `was found ${shows}`;
}
