// What the extension writes into an editor is read back by the notation's own reader: records of the survey, and snippets.
import { readFileSync } from 'node:fs';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { describe, expect, test } from 'vitest';
import { jobChoices, recordText, sampleSurvey, supplyChoices } from '../src/sample-record.js';

const findingsOf = (text: string) => checkRecord(readRecord(parseWiring('file:///new.wiring', text))).findings;

describe('a new record', () => {
  for (const { label, supply } of supplyChoices) {
    for (const { label: job, job: feeds } of jobChoices) {
      test(`${label}: ${job}`, () => {
        const text = recordText({ ...sampleSurvey, supply, job: feeds });
        const wrong = findingsOf(text).filter(({ severity }) => severity === 'error' || severity === 'warning');
        expect(wrong.map(({ code, message }) => `${code}: ${message}`)).toEqual([]);
      });
    }
  }

  test('with lengths not measured reads without an error', () => {
    const text = recordText({ ...sampleSurvey, lengths: { toChime: '', toDoor: '' } });
    expect(findingsOf(text).filter(({ severity }) => severity === 'error')).toEqual([]);
  });
});

describe('a snippet', () => {
  const snippets: Record<string, { prefix: string; body: string[] }> = JSON.parse(
    readFileSync(new URL('../snippets/ohmstead.code-snippets', import.meta.url), 'utf8'),
  );

  /** As it stands in the editor when nothing is changed in it. */
  const expanded = (body: readonly string[]) =>
    body
      .join('\n')
      .replace(/\$\{\d+\|([^,|]*)[^}]*\|\}/g, '$1')
      .replace(/\$\{\d+:((?:\\\}|[^}])*)\}/g, '$1')
      .replaceAll('\\}', '}')
      .replace(/\$\d/g, '');

  test('with a mistake in it would be seen', () => {
    expect(findingsOf('supply bell-tx : {\n').map(({ code }) => code)).toContain('syntax');
  });

  test.each(Object.entries(snippets))('%s reads without a syntax error', (_name, { prefix, body }) => {
    const text = expanded(body);
    expect(text).not.toContain('$');
    const plan = /^(replace|remove|relocate|move|land|lift)\b/.test(text) ? 'changes "as-found.wiring"\n' : '';
    const statement = prefix === 'conductor' ? `run a : 18/2 {\n    ${text}\n}` : text;
    const syntax = findingsOf(`${plan}${statement}\n`).filter(({ code }) => code === 'syntax');
    expect(syntax.map(({ message }) => message)).toEqual([]);
  });
});
