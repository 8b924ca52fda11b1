import { describe, expect, test } from 'vitest';
import { partAt } from '../src/panel/part-at.js';
import { panelShell } from '../src/panel/shell.js';
import { panelStyle } from '../src/panel/style.js';
import { themeStyle } from '../src/panel/theme-style.js';
import { isLength, type Job, placeName, recordText, sampleSurvey } from '../src/sample-record.js';

describe('a new record', () => {
  test('has what was answered, laid out', () => {
    expect(recordText(sampleSurvey)).toBe(`wiring "Door bell, basement to porch"
profile north-america

place basement
place hall
place porch { outdoor }

supply bell-tx : bell-transformer in basement {
    output 16 V AC, 10 VA
}

device chime : two-note-chime in hall

device door-button : push-button in porch

splice joint in basement

run tx-to-chime : 18/2 from basement to hall, 30 ft {
    red    bell-tx.a  to  chime.trans
    white  joint      to  chime.front
}

run tx-to-door : 18/2 from basement to porch, 21 ft 6 in {
    red    bell-tx.b  to  door-button.a
    white  joint      to  door-button.b
}
`);
  });

  test('bypasses the chime of a video doorbell, and needs no chime without one', () => {
    const text = (job: Job) => recordText({ ...sampleSurvey, job });
    expect(text('video-and-chime')).toContain('jumper chime-bypass : chime.trans to chime.front');
    expect(text('video')).not.toContain('chime');
    expect(text('video')).toContain('white  bell-tx.b  to  door-cam.b');
  });

  test('leaves out what is not known, and names a place once', () => {
    const text = recordText({
      ...sampleSurvey,
      supply: { type: 'bell-transformer', output: '' },
      places: { supply: 'hall', chime: 'hall', door: 'porch' },
      lengths: { toChime: '', toDoor: '' },
    });
    expect(text).toContain('supply bell-tx : bell-transformer in hall\n');
    expect(text.match(/^place hall$/gm)).toHaveLength(1);
    expect(text).toContain('run tx-to-chime : 18/2 from hall to hall {');
  });

  test.each([
    ['Front porch', 'front-porch'],
    ['2nd floor', 'nd-floor'],
    ['  Gäste WC ', 'gäste-wc'],
    ['"x" { y', 'x-y'],
    ['12', undefined],
  ])('makes a place of %s', (words, name) => {
    expect(placeName(words)).toBe(name);
  });

  test('knows a length when it sees one', () => {
    for (const words of ['9 m', '30 ft', '21 ft 6 in', `21' 6"`, 'about 40 ft', '9.5m'])
      expect(isLength(words)).toBe(true);
    for (const words of ['9', '9,5 m', 'far', '30 V', '']) expect(isLength(words)).toBe(false);
  });
});

describe('the part at the cursor', () => {
  const lines = [
    'place hall',
    'supply bell-tx : bell-transformer in hall {',
    '    output 16 V AC',
    '}',
    '',
    '// about the chime',
    'device chime : two-note-chime',
  ];
  const at = (line: number) => ({
    uri: 'file:///a',
    range: { start: { line, character: 7 }, end: { line, character: 12 } },
  });
  const locations = { 'bell-tx': at(1), chime: at(6), elsewhere: { ...at(0), uri: 'file:///b' } };
  const find = (line: number, word?: string) => partAt(locations, 'file:///a', line, word, (each) => lines[each]!);

  test('is the one named by the word, wherever that stands', () => {
    expect(find(6, 'bell-tx')).toBe('bell-tx');
    expect(find(0, 'toString')).toBeNull();
  });

  test('else the one whose statement it is in, up to its closing brace', () => {
    expect([1, 2, 3].map((line) => find(line, 'V'))).toEqual(['bell-tx', 'bell-tx', 'bell-tx']);
    expect(find(6, 'two-note-chime')).toBe('chime');
  });

  test('is none between statements and in those that declare nothing', () => {
    expect([0, 4, 5].map((line) => find(line))).toEqual([null, null, null]);
  });
});

describe('the panel’s document', () => {
  const shell = panelShell({
    source: 'https://x.test',
    style: 'https://x.test/panel.css',
    script: 'https://x.test/panel.js',
    nonce: 'n0',
    title: 'Load budget',
    workers: false,
  });

  test('allows its own sheet and script, nothing inline and nothing from elsewhere', () => {
    expect(shell).toContain(`content="default-src 'none'; style-src https://x.test; script-src 'nonce-n0'"`);
    expect(shell).not.toContain('unsafe');
    expect(shell.match(/<script/g)).toHaveLength(1);
    expect(shell).toContain('<script nonce="n0" src="https://x.test/panel.js"></script>');
    expect(shell).not.toMatch(/<style|style=|\son\w+=/);
  });

  test('is set in the theme’s colours alone', () => {
    // The pictures have colours for surfaces that set none; whatever they name is set here.
    const ownStyle = panelStyle.replaceAll(/var\(--[\w-]+, #[0-9a-f]{6}\)/g, '');
    expect(ownStyle).not.toMatch(/#[0-9a-f]{3,8}\b|rgba?\(|hsla?\(/i);
    const fallingBack = new Set([...panelStyle.matchAll(/var\(--([\w-]+), #/g)].map((match) => match[1]!));
    expect([...fallingBack].filter((name) => !themeStyle.includes(`--${name}: `))).toEqual([]);
    const used = new Set([...panelStyle.matchAll(/var\(--([\w-]+)/g)].map((match) => match[1]!));
    const own = new Set([...panelStyle.matchAll(/--([\w-]+):/g)].map((match) => match[1]!));
    expect([...used].filter((name) => !own.has(name) && !name.startsWith('vscode-'))).toEqual([]);
    expect(panelStyle).toContain('prefers-reduced-motion');
  });
});
