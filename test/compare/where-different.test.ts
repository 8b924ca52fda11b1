// What is left out where two records have it in common must not show: a comparison says the same as when everything is worked out.
import { readFileSync } from 'node:fs';
import { checkRecord, compareChecked, comparedSide, parseWiring, readRecord } from '@ohmstead/language';
import type { CheckedRecord, CheckOptions } from '@ohmstead/language';
import { at, compareRecords, type Levels } from '@ohmstead/record';
import { describe, expect, test } from 'vitest';

const bell = readFileSync(new URL('../../examples/as-found-bell.wiring', import.meta.url), 'utf8');

/** A house of two separate circuits, the second of them shorted. */
const house = (() => {
  const second = bell
    .replace(/^wiring .*$/m, '')
    .replace(/^(place|profile) .*$/gm, '')
    .replace(
      /\b(bell-tx|hall-chime|porch-button|yard-button|porch-return|yard-return|joist-joint|tx-to-[a-z]+)\b/g,
      'b-$1',
    );
  return `${bell}${second}\njumper slip : b-hall-chime.trans to b-hall-chime.front\n`;
})();

function checked(text: string, previous?: CheckedRecord, options: CheckOptions = {}): CheckedRecord {
  return checkRecord(readRecord(parseWiring('test:house.wiring', text)), { ...options, previous });
}

function bothWays(old: string, now: string, levels: { before?: Levels; after?: Levels } = {}) {
  const before = checked(old, undefined, levels.before && { levels: levels.before });
  const after = checked(now, before, levels.after && { levels: levels.after });
  const short = compareChecked(before, after);
  const whole = compareRecords(comparedSide(checked(old)), comparedSide(checked(now)));
  return { short, whole };
}

const edits: Record<string, (text: string) => string> = {
  nothing: (text) => text,
  'another output': (text) => text.replace('output 16 V AC, 10 VA', 'output 16 V AC, 20 VA'),
  'a conductor elsewhere': (text) =>
    text.replace('yard-return   to  hall-chime.rear', 'porch-return  to  hall-chime.rear'),
  'the short taken out': (text) => text.replace(/^jumper slip .*$/m, ''),
  'a part renamed': (text) => text.replaceAll('porch-button', 'front-button'),
  'one circuit gone': () => bell,
  'another profile': (text) => text.replace('profile north-america', 'profile europe'),
  'a warm place': (text) => text.replace(/^place basement$/m, 'place basement { temperature 50 degC }'),
  'an acceptance on what is the same': (text) => `${text}\naccept supply-headroom on bell-tx because "It lasts."\n`,
  'an acceptance of nothing named': (text) => `${text}\naccept supply-headroom because "It lasts."\n`,
  'a broken statement': (text) => text.replace('device b-hall-chime :', 'device b-hall-chime'),
};

describe.each(Object.entries(edits))('%s', (_, edit) => {
  test('there', () => {
    const { short, whole } = bothWays(house, edit(house));
    expect(short).toEqual(whole);
  });
  test('and back', () => {
    const { short, whole } = bothWays(edit(house), house);
    expect(short).toEqual(whole);
  });
});

test('the edits are ones, and the house has findings of which most are left out', () => {
  for (const [name, edit] of Object.entries(edits)) if (name !== 'nothing') expect(edit(house), name).not.toBe(house);
  expect(checked(house).findings.some(({ code }) => code === 'supply-shorted')).toBe(true);
  const { short } = bothWays(house, edits['another output']!(house));
  expect(short.findings.gone.concat(short.findings.new).some(({ code }) => code === 'supply-shorted')).toBe(false);
});

test('other levels count for circuits that are the same, too', () => {
  const { short } = bothWays(house, house, {
    after: new Map([
      ['supply-headroom', 'off'],
      ['short-record', 'warning'],
    ]),
  });
  expect(short.same).toBe(true);
  const told = [...short.findings.gone, ...short.findings.new].map(({ code }) => code);
  expect(new Set(told)).toEqual(
    new Set(
      checked(house)
        .findings.map(({ code }) => code)
        .filter((code) => code === 'supply-headroom' || code === 'short-record'),
    ),
  );
});

test('a text that is read by the likeness of another says the same, where each of its statements stands', () => {
  const like = parseWiring('test:like.wiring', house);
  for (const [name, edit] of Object.entries(edits)) {
    const text = `\n${edit(house)}`;
    const told = (document: ReturnType<typeof parseWiring>) => {
      const reading = readRecord(document);
      const { runs, supplies } = reading.installation;
      const paths = [...runs.map(({ name }) => at.run(name)), ...supplies.map(({ name }) => at.part(name))];
      const places = paths.map((path) => reading.sourceMap.locate(path));
      expect(places).not.toContain(undefined);
      return { places, findings: checkRecord(reading).findings };
    };
    const quick = told(parseWiring(`test:quick-${name}.wiring`, text, like));
    const plain = told(parseWiring(`test:plain-${name}.wiring`, text));
    const renamed = JSON.stringify(quick).replaceAll(`quick-${name}`, `plain-${name}`);
    expect(JSON.parse(renamed), name).toEqual(JSON.parse(JSON.stringify(plain)));
  }
});
