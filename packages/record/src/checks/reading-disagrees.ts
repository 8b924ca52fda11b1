import { formatAmps, formatOhms, formatVolts } from '@ohmstead/circuit';
import type { Analysis } from '../analysis-types.js';
import { badReading, partsOfReading } from '../judging/bad-readings.js';
import { predictedWords, readingPlaceWords, readingShownWords, readingStateWords } from '../judging/reading-words.js';
import { listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { judgeReadings } from '../readings/judge.js';
import type { JudgedReading } from '../readings/types.js';
import { defineCheck } from './types.js';

export const readingDisagrees = defineCheck({
  code: 'reading-disagrees',
  severity: 'warning',
  title: 'A reading outside of what the record makes one expect',
  run(analysis, report) {
    for (const judged of judgeReadings(analysis)) {
      if (judged.agrees !== false || judged.bad !== undefined) continue;
      if (badReading(analysis, judged.reading) !== undefined) continue;
      report({
        path: at.reading(judged.block, judged.index),
        message: () => sentence(analysis, judged),
        parts: partsOfReading(judged.reading),
      });
    }
  },
});

const WRITE = { V: formatVolts, A: formatAmps, ohm: formatOhms } as const;

function sentence(analysis: Analysis, { reading, predicted }: JudgedReading): string {
  const when = readingStateWords(analysis, reading);
  const { of } = reading;
  if (of.kind === 'sign')
    return `${quote(of.part)} was found ${found(of.shows)}${of.note === undefined ? '' : ` (${quote(of.note)})`} ${when}; as recorded, it would be ${predictedWords(predicted)}.`;
  const read = `${readingShownWords(of)} was read ${readingPlaceWords(of)} ${when}`;
  if (predicted.kind !== 'figure') return `${read}; as recorded, it would be ${predictedWords(predicted)}.`;
  const leans = predicted.leansOn.length === 0 ? '' : ` The band allows for ${listOf(predicted.leansOn)}.`;
  return `${read}; as recorded, a sound house shows ${predictedWords(predicted)}, most likely ${WRITE[predicted.unit](predicted.value)}.${leans}`;
}

function found(shows: string): string {
  return { rings: 'to ring', hums: 'to hum' }[shows] ?? shows;
}
