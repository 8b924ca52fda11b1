/** Readings by their place in the text, with what the last check expects of them. */

import {
  at,
  type JudgedReading,
  judgedReadings,
  predictedWords,
  readingPlaceWords,
  readingShownWords,
  readingStateWords,
} from '@ohmstead/record';
import { type Site, type Stretch, stretchOf } from '../lower/sites.js';
import type { CheckedRecord } from '../pipeline.js';
import type { Reading as ReadRecord } from '../read.js';
import type { TextRange, WiringDocument } from '../reading/document.js';

export interface ReadingAt {
  readonly block: number;
  readonly index: number;
  readonly stretch: Stretch;
}

export function readingAt({ installation, sourceMap, document }: ReadRecord, offset: number): ReadingAt | undefined {
  for (const [block, { readings }] of (installation.readings ?? []).entries()) {
    const whole = stretchIn(document, sourceMap.exact(at.readings(block)));
    if (!whole || offset < whole.offset || offset > whole.end) continue;
    for (const index of readings.keys()) {
      const stretch = stretchIn(document, sourceMap.exact(at.reading(block, index)));
      if (stretch && stretch.offset <= offset && offset <= stretch.end) return { block, index, stretch };
    }
  }
  return undefined;
}

function stretchIn(document: WiringDocument, site: Site | undefined): Stretch | undefined {
  return site?.document === document ? stretchOf(site) : undefined;
}

/** Read against expected; undefined where the check is of an earlier text. */
export function readingHover(reading: ReadRecord, checked: CheckedRecord | undefined, place: ReadingAt) {
  if (checked?.reading !== reading) return undefined;
  const judged = judgedReadings(checked.analysis).find(
    ({ block, index }) => block === place.block && index === place.index,
  );
  return judged && judgedHover(checked, judged);
}

function judgedHover({ analysis }: CheckedRecord, { reading, predicted, agrees, bad, sets }: JudgedReading): string {
  const { of } = reading;
  const where = of.kind === 'sign' ? `at \`${of.part}\`` : readingPlaceWords(of);
  const head = `**${readingShownWords(of).replaceAll('`', '')}** ${where} ${readingStateWords(analysis, reading)}`;
  const words = predictedWords(predicted);
  const lines = [head];
  if (bad !== undefined) lines.push(`This reading can't be right: ${bad}.`);
  else if (predicted.kind === 'unknown') lines.push(`Nothing can be expected here: ${predicted.reason}.`);
  else {
    const verdict = agrees === undefined ? '' : agrees ? 'It agrees. ' : '**It disagrees.** ';
    lines.push(`${verdict}As recorded, a sound house shows ${words}.`);
    if (predicted.kind === 'figure' && predicted.leansOn.length > 0)
      lines.push(`The band allows for ${predicted.leansOn.join(', ')}.`);
    if (predicted.kind === 'sign' && !predicted.sure) lines.push('It is near a limit: either would be no surprise.');
  }
  if (sets.length > 0)
    lines.push(`It sets the volts of ${sets.map((name) => `\`${name}\``).join(', ')} for the readings of its block.`);
  return lines.join('\n\n');
}

export interface ReadingsLens {
  readonly block: number;
  readonly range: TextRange;
}

/** Above each `readings` statement of the record's own file. */
export function readingsLenses({ installation, sourceMap, document }: ReadRecord): ReadingsLens[] {
  return [...(installation.readings ?? []).keys()].flatMap((block) => {
    const stretch = stretchIn(document, sourceMap.exact(at.readings(block)));
    return stretch ? [{ block, range: document.rangeAt(stretch.offset, stretch.offset + 'readings'.length) }] : [];
  });
}

/** "2 of 6 disagree: what fits these readings?" */
export function readingsLensWords({ analysis }: CheckedRecord, block: number): string {
  const judged = judgedReadings(analysis).filter((one) => one.block === block);
  const off = judged.filter(({ agrees }) => agrees === false).length;
  const compared = judged.filter(({ agrees }) => agrees !== undefined).length;
  const question = 'what fits these readings?';
  if (off > 0) return `${off} of ${judged.length} ${off === 1 ? 'disagrees' : 'disagree'}: ${question}`;
  if (compared > 0 && compared === judged.length) return `all ${compared} as recorded: ${question}`;
  return question[0]!.toUpperCase() + question.slice(1);
}
