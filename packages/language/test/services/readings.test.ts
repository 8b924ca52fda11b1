// Lines of readings in the editor: completed, laid out, followed, explained, and written from a panel.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';
import { complete } from '../../src/services/completion.js';
import { completionRecord } from '../../src/services/completion-record.js';
import { flattenPlan } from '../../src/services/flatten.js';
import { applyChanges, formatText } from '../../src/services/format.js';
import { hoverAt } from '../../src/services/hover.js';
import { documentLinks } from '../../src/services/links.js';
import { importEdits } from '../../src/services/moved-files.js';
import { definitionsAt } from '../../src/services/names.js';
import { readingChoices } from '../../src/services/reading-choices.js';
import { readingsLenses, readingsLensWords } from '../../src/services/readings-at.js';
import { renamed } from '../../src/services/rename.js';
import { semanticTokens } from '../../src/services/semantic-tokens.js';
import { takeReading } from '../../src/services/take-reading.js';

const bell = readFileSync(new URL('../../../../examples/as-found-bell.wiring', import.meta.url), 'utf8');
const uri = 'file:///house/bell.wiring';
const known = completionRecord(readRecord(parseWiring(uri, bell)));

function labels(line: string): string[] {
  const text = `${bell}\nreadings on 2026-11-20 {\n    ${line}`;
  const position = (character: number) => ({ line: 0, character });
  const rangeOf = (start: number, end: number) => ({ start: position(start), end: position(end) });
  return complete(text, text.length, known, { snippets: true, rangeOf }).map(({ label }) => label);
}

describe('completion', () => {
  it.each([
    ['', ['idle', 'pressed', 'bridged', 'off', 'mains', 'meter', 'note', 'label', 'photo', 'installed']],
    ['pressed ', ['porch-button', 'yard-button']],
    ['pressed porch-button, bridged ', ['porch-button', 'yard-button']],
    ['off, ', ['pressed']],
    ['off, pressed ', ['porch-button', 'yard-button']],
    ['off, pressed porch-button bell-tx.a, bell-tx.b 1.7 ', ['ohm', 'kohm', 'Mohm']],
    ['pressed porch-button, bridged yard-button hall-chime ', ['silent', 'rings', 'hums', 'dark', 'lit']],
    ['idle hall-chime ', ['silent', 'rings', 'hums', 'dark', 'lit']],
    ['pressed yard-button hall-chime rings ', ['trans', 'front', 'rear']],
    ['off tx-to-hall.red ', ['at']],
    ['off tx-to-hall.red at ', ['basement', 'hall', 'porch', 'yard-door']],
    ['idle bell-tx.a, bell-tx.b 18.7 ', ['V AC', 'V DC', 'V']],
    ['off bell-tx.a, bell-tx.b 1.7 ', ['ohm', 'kohm', 'Mohm']],
    ['off bell-tx.a, bell-tx.b ', ['OL']],
    ['idle through tx-to-hall.red 0.6 ', ['A', 'mA']],
    ['idle bell-tx.a, bell-tx.b 18.7 V ', ['within']],
    ['idle bell-tx.a, bell-tx.b 18.7 V within 3 ', ['%', 'V']],
    ['idle mains 118 ', ['V']],
    ['meter 10 ', ['Mohm', 'kohm']],
  ])('of `%s`', (line, expected) => {
    expect(labels(line)).toEqual(expected);
  });

  it('offers points first where something is landed, those of the line side last', () => {
    const points = labels('idle bell-tx.a, ');
    expect(points.slice(0, 2)).toEqual(['bell-tx.a', 'bell-tx.b']);
    expect(points.indexOf('tx-to-hall.red')).toBeGreaterThan(points.indexOf('joist-joint'));
    expect(points.indexOf('bell-tx.line')).toBeGreaterThan(points.indexOf('tx-to-hall.red'));
  });
});

describe('formatting', () => {
  const text = `readings on 2026-11-20 {
  idle bell-tx.a ,bell-tx.b 18.7 v
      note "x"
  pressed porch-button  across hall-chime.trans, hall-chime.front   14.9 V within 3 % // held
  off bell-tx.a, bell-tx.b ol
  pressed porch-button hall-chime rings "FRONT"
  off , pressed porch-button porch-button.a, porch-button.b 0.4 ohm
  pressed yard-button,bridged porch-button bell-tx.a, bell-tx.b -12.1 V
}
`;
  it('sets readings in columns and what is around them not', () => {
    const formatted = formatText(text);
    expect(formatted).toBe(`readings on 2026-11-20 {
    idle                                       bell-tx.a, bell-tx.b                       18.7 V
    note "x"
    pressed porch-button                       across hall-chime.trans, hall-chime.front  14.9 V within 3 %  // held
    off                                        bell-tx.a, bell-tx.b                       OL
    pressed porch-button                       hall-chime                                 rings "FRONT"
    off, pressed porch-button                  porch-button.a, porch-button.b             0.4 ohm
    pressed yard-button, bridged porch-button  bell-tx.a, bell-tx.b                       -12.1 V
}
`);
    expect(formatText(formatted as string)).toBe(formatted);
  });
});

describe('names in readings', () => {
  const text = `${bell}\nreadings on 2026-11-20 {\n    pressed porch-button  hall-chime.trans, tx-to-porch.red at porch  14 V\n}\n`;
  const record = readRecord(parseWiring(uri, text));
  const inLine = (word: string): number => text.lastIndexOf(word) + 1;

  it.each([
    ['porch-button', 'device porch-button'],
    ['hall-chime', 'device hall-chime'],
    ['tx-to-porch', 'run tx-to-porch'],
  ])('lead to where %s is declared', (word, declared) => {
    const [place] = definitionsAt(record.names, record.document, inLine(word));
    expect(text.split('\n')[place!.range.start.line]).toContain(declared);
  });

  it('are renamed along, and highlighted by meaning', () => {
    const symbol = record.names.find('part', 'porch-button')!;
    const sources = { document: () => undefined, insideOf: () => () => true };
    const result = renamed(symbol, 'front-button', [record], sources);
    const lines = 'edits' in result ? result.edits.map(({ range }) => range.start.line) : [];
    expect(lines).toContain(text.split('\n').findIndex((line) => line.includes('pressed porch-button')));
    const offset = text.indexOf('    pressed');
    const within = { offset, end: text.length };
    expect(semanticTokens(record, within).map(([, , length]) => length)).toEqual(
      ['porch-button', 'hall-chime', 'trans', 'tx-to-porch', 'porch'].map((word) => word.length),
    );
  });
});

describe('what is expected of a reading', () => {
  const text = `${bell}
readings on 2026-11-20 {
    idle                  bell-tx.a, bell-tx.b                19.9 V
    pressed porch-button  hall-chime.trans, hall-chime.front  0 V
}
`;
  const record = readRecord(parseWiring(uri, text));
  const checked = checkRecord(record);

  it('is said on hovering, on names beside what is said of them', () => {
    const onFigure = hoverAt(record, checked, text.lastIndexOf('0 V'), () => undefined);
    expect(onFigure?.markdown).toMatch(/^\*\*0 V\*\* across `hall-chime.trans` and `hall-chime.front` while/);
    expect(onFigure?.markdown).toMatch(
      /\*\*It disagrees\.\*\* As recorded, a sound house shows 1\d(\.\d)? to 1\d(\.\d)? V\./,
    );
    const onName = hoverAt(record, checked, text.lastIndexOf('porch-button'), () => undefined);
    expect(onName?.markdown).toMatch(/It disagrees[\s\S]*---[\s\S]*\*\*porch-button\*\*/);
    const agreeing = hoverAt(record, checked, text.indexOf('19.9 V'), () => undefined);
    expect(agreeing?.markdown).toMatch(/It agrees[\s\S]*It sets the volts of `bell-tx`/);
  });

  it('is counted above the block', () => {
    const [lens] = readingsLenses(record);
    expect(lens?.range.start.line).toBe(text.split('\n').findIndex((line) => line.startsWith('readings')));
    expect(readingsLensWords(checked, 0)).toBe('1 of 2 disagrees: what fits these readings?');
  });

  it('is a finding on its own line', () => {
    const findings = checked.findings.filter(({ code }) => code === 'reading-disagrees');
    expect(findings.map(({ range }) => text.split('\n')[range.start.line]?.trim())).toEqual([
      'pressed porch-button  hall-chime.trans, hall-chime.front  0 V',
    ]);
  });
});

describe('a reading that is taken', () => {
  const take = (text: string, line: string, on = '2026-11-20') => {
    const document = parseWiring(uri, text);
    const taken = takeReading(document, { document: () => undefined }, line, on);
    if ('refused' in taken) return taken;
    const { range, newText } = taken.edit;
    const [start, end] = [document.offsetAt(range.start), document.offsetAt(range.end)];
    return applyChanges(text, [{ start, end, newText }]);
  };

  it('starts a block of its day, and the next goes into it', () => {
    const first = take(bell, 'idle bell-tx.a, bell-tx.b 18.7 V');
    expect(first).toBe(`${bell}\nreadings on 2026-11-20 {\n    idle  bell-tx.a, bell-tx.b  18.7 V\n}\n`);
    const second = take(first as string, 'pressed  porch-button hall-chime silent');
    expect(second).toBe(
      `${bell}\nreadings on 2026-11-20 {\n    idle                  bell-tx.a, bell-tx.b  18.7 V\n    pressed porch-button  hall-chime            silent\n}\n`,
    );
    expect(take(second as string, 'mains 118 V', '2026-11-21')).toBe(
      `${second}\nreadings on 2026-11-21 {\n    mains 118 V\n}\n`,
    );
  });

  it('goes into the newest of several blocks of the day, and keeps line ends and what stands beside it', () => {
    const text =
      `${bell}\nreadings "one" on 2026-11-20 {\n    mains 118 V\n}\n\nreadings "two" on 2026-11-20 { mains 119 V }\n// end\n`.replaceAll(
        '\n',
        '\r\n',
      );
    const taken = take(text, 'mains 120 V') as string;
    expect(taken.replaceAll('\r\n', '\n')).toContain(
      'readings "two" on 2026-11-20 { mains 119 V\n    mains 120 V\n}\n// end\n',
    );
    expect(taken.replaceAll('\r\n', '')).not.toContain('\n');
    expect(readRecord(parseWiring(uri, taken)).installation.readings?.map(({ readings }) => readings.length)).toEqual([
      1, 2,
    ]);
  });

  it.each([
    ['idle bell-tx.q, bell-tx.b 18 V', 'has no terminal `q`'],
    ['note "x"', 'This is no reading'],
    ['idle bell-tx.a bell-tx.b 18 V', 'belongs here'],
    ['mains 118 V }', 'without braces'],
    [' ', 'nothing to write'],
  ])('is refused with the reason: `%s`', (line, reason) => {
    expect(take(bell, line)).toMatchObject({ refused: expect.stringContaining(reason) });
  });

  it('can be made of what the record has', () => {
    const choices = readingChoices(readRecord(parseWiring(uri, bell)).installation);
    expect(choices.contacts).toEqual(['porch-button', 'yard-button']);
    expect(choices.parts).toEqual(['hall-chime', 'porch-button', 'yard-button']);
    expect(choices.points.map(({ part }) => part)).toEqual([
      'bell-tx',
      'hall-chime',
      'porch-button',
      'yard-button',
      'Splices',
    ]);
    expect(choices.points[1]?.points[0]).toEqual({ point: 'hall-chime.trans', words: 'TRANS' });
    expect(choices.conductors[0]).toEqual({
      part: 'tx-to-hall',
      points: ['red', 'white', 'green'].map((colour) => ({ point: `tx-to-hall.${colour}`, words: colour })),
    });
  });
});

describe('a plan that is written out', () => {
  it('keeps what was read before the work as comments, and its own readings as they are', () => {
    const before = `${bell}\nreadings "as found" on 2026-11-20 {\n    pressed porch-button  hall-chime  rings front\n}\n`;
    const plan =
      'changes "base.wiring"\nremove porch-button\nremove tx-to-porch\nreadings on 2026-11-21 {\n    idle  bell-tx.a, bell-tx.b  19 V\n}\n';
    const document = (other: string) => (other.endsWith('base.wiring') ? parseWiring(other, before) : undefined);
    const flat = flattenPlan(parseWiring('file:///house/plan.wiring', plan), { document }) as string;
    expect(flat).toContain(
      '// Read before this wiring was changed: readings "as found" on 2026-11-20 {\n//     pressed porch-button  hall-chime  rings front\n// }\n',
    );
    const { installation, findings } = readRecord(parseWiring('file:///house/new.wiring', flat));
    expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(installation.readings?.map(({ on }) => on)).toEqual(['2026-11-21']);
  });
});

it('a picture of the meter is a link, and comes along when the record moves', () => {
  const document = parseWiring(uri, 'readings on 2026-11-20 {\n    photo "meter.jpg"\n    idle a.b, c.d 18 V\n}\n');
  const links = documentLinks(document, { isThere: () => true, pageOf: () => undefined });
  expect(links.map(({ target }) => target)).toEqual(['file:///house/meter.jpg']);
  const moved = [{ oldUri: uri, newUri: 'file:///house/attic/bell.wiring' }];
  expect(importEdits(document, moved).map(({ newText }) => newText)).toEqual(['"../meter.jpg"']);
});
