import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';
import { complete } from '../../src/services/completion.js';
import { completionRecord } from '../../src/services/completion-record.js';

const bell = readFileSync(new URL('../../../../examples/as-found-bell.wiring', import.meta.url), 'utf8');
const cam = readFileSync(new URL('../../../../examples/doorbell-done-right.wiring', import.meta.url), 'utf8');

/** Completes at the `|` of a text; the record known is the one that the text was before `line` was typed into it. */
function offered(text: string, known = text.replace('|', ''), bySpace = false) {
  const record = completionRecord(readRecord(parseWiring('file:///a.wiring', known)));
  const offset = text.indexOf('|');
  const position = (at: number) => ({ line: 0, character: at });
  const rangeOf = (start: number, end: number) => ({ start: position(start), end: position(end) });
  return complete(text.replace('|', ''), offset, record, { snippets: true, bySpace, rangeOf });
}

const labels = (text: string, known?: string): string[] => offered(text, known).map((item) => item.label);

describe('completion', () => {
  it('offers statements at the start of a line, also while the one above is not closed', () => {
    expect(labels(`${bell}\nsu|`)).toEqual(expect.arrayContaining(['supply', 'run', 'device type']));
    expect(labels('supply x : bell-transformer {\n|')).toEqual(expect.arrayContaining(['output', 'supply']));
    const supply = offered('|').find((item) => item.label === 'supply');
    expect(supply?.textEdit?.newText).toMatch(/^supply \$\{1:name\} : \$\{2\|.*bell-transformer.*\|\}/);
  });

  it('offers what is said once only where it is not said yet', () => {
    expect(labels(`${bell}\n|`)).not.toContain('wiring');
    expect(labels('place hall\n|')).toContain('wiring');
  });

  it('offers what is usual where the record is: sizes, lengths, today', () => {
    const european = 'wiring "Bell"\nprofile europe\nplace hall\n';
    expect(labels(`${european}run x : |`)).toEqual(expect.arrayContaining(['2 x 0.5 mm2', '3G1.5']));
    expect(labels(`${european}run x : |`)).not.toContain('18/2');
    expect(labels(`${european}run x : 2 x 0.5 mm2 from hall to hall, 9 |`)[0]).toBe('m');
    expect(labels(`${european}run x : 2 x 0.5 mm2 from hall to hall {\n    |`).slice(0, 2)).toEqual(['white', 'brown']);
    const run = offered(`${european}|`).find(({ label }) => label === 'run');
    expect(run?.textEdit?.newText).toMatch(/2 x 0\.5 mm2.*9 m/);
    const readings = offered(`${european}|`).find(({ label }) => label === 'readings');
    expect(readings?.textEdit?.newText).toMatch(/CURRENT_YEAR/);
  });

  it('offers what a part that replaces another can say, and where its own leads go', () => {
    const record = `${bell}\nsupply panel : lead-wire-transformer in basement {\n    lands |`;
    expect(labels(record)).toEqual(expect.arrayContaining(['line', 'neutral']));
    expect(labels(`${bell}\nbox b in basement { metal }\nground joist-joint to |`)).toEqual(['b']);
  });

  it('offers the types of the right kind with their ratings', () => {
    const supplies = offered(`${bell}\nsupply x : |`);
    expect(supplies.find((item) => item.label === 'bell-transformer')?.detail).toMatch(/16 V AC, 10 VA/);
    expect(supplies.map((item) => item.label)).not.toContain('push-button');
    expect(labels(`${bell}\ndevice x : pu|`)).toContain('push-button');
    const cables = offered(`${bell}\nrun x : |`);
    expect(cables.find((item) => item.label === '18/2')?.detail).toBe('18 AWG, red, white');
  });

  it('offers places after `in`, `from` and `to` of a header', () => {
    for (const header of [
      'device x : push-button in |',
      'run x : 18/2 from |',
      'run x : 18/2 from hall to |',
      'splice x in |',
    ]) {
      expect(labels(`${bell}\n${header}`), header).toEqual(['basement', 'hall', 'porch', 'yard-door']);
    }
  });

  it('offers colours that are still free, also in a run that is only being written', () => {
    expect(labels(`${bell}\nrun x : 18/3 from hall to porch {\n    |\n`).slice(0, 3)).toEqual([
      'red',
      'white',
      'green',
    ]);
    const half = bell.replace('    green  yard-return   to  hall-chime.rear\n', '    |\n');
    expect(labels(half).slice(0, 1)).toEqual(['green']);
  });

  it('offers ends: free ones at the place first, taken ones last, `capped` and `unknown` after them', () => {
    const text = bell.replace('white  yard-return  to  yard-button.b', 'white  yard-return  to  |');
    const ends = labels(text);
    expect(ends[0]).toBe('yard-button.b');
    expect(ends.indexOf('bell-tx.a')).toBeGreaterThan(ends.indexOf('yard-button.b'));
    expect(ends.slice(-2)).toEqual(['capped', 'unknown']);
    expect(ends).not.toContain('yard-return');
    const first = bell.replace('white  yard-return  to  yard-button.b', 'white  |');
    expect(labels(first)).toEqual(expect.arrayContaining(['spare', 'capped', 'yard-return']));
    expect(labels(first).indexOf('yard-return')).toBeLessThan(labels(first).indexOf('yard-button.b'));
  });

  it('replaces the whole end that is being typed', () => {
    const text = bell.replace('white  yard-return  to  yard-button.b', 'white  yard-return  to  yard-button.|b');
    const item = offered(text).find(({ label }) => label === 'yard-button.b');
    expect(item?.textEdit).toEqual({
      range: {
        start: { line: 0, character: text.indexOf('yard-button.|') },
        end: { line: 0, character: text.indexOf('yard-button.|') + 'yard-button.b'.length },
      },
      newText: 'yard-button.b',
    });
  });

  it('offers `to` between two ends, and the ends of a jumper', () => {
    expect(labels(bell.replace('white  yard-return  to  yard-button.b', 'white  yard-return  |'))).toEqual(['to']);
    expect(labels(`${bell}\njumper x : |`)).toContain('hall-chime.trans');
    const second = labels(`${bell}\njumper x : hall-chime.trans to |`);
    expect(second).toContain('hall-chime.front');
    expect(second).not.toContain('hall-chime.trans');
  });

  it('offers the facts that fit', () => {
    const supply = labels('supply x : bell-transformer {\n    |\n}');
    expect(supply).toEqual(expect.arrayContaining(['output', 'no-load', 'accepts', 'note']));
    expect(supply).not.toContain('rating');
    expect(labels('device x : video-doorbell {\n    |\n}')).toContain('ring');
    expect(labels('device x : push-button {\n    |\n}')).not.toContain('ring');
    expect(labels('device type t {\n    |\n}')).toEqual(expect.arrayContaining(['terminal', 'coil', 'contact']));
    expect(labels('device type t {\n    coil a to b { as rated, | }\n}')).toContain('rings from');
    expect(labels('place x { | }')).toEqual(expect.arrayContaining(['outdoor', 'wet']));
  });

  it('offers the units that fit, glued to their number or not', () => {
    expect(labels('supply x : bell-transformer {\n    output 16 |\n}')[0]).toBe('V AC');
    expect(labels('supply x : bell-transformer {\n    output 16 V AC, 10 |\n}')).toContain('VA');
    expect(labels('supply x : bell-transformer {\n    no-load 19.8 |\n}')).toEqual(['V']);
    expect(labels(`${bell}\nrun x : 18/2 from hall to porch, 9 |`)).toEqual(['ft', 'in', 'm']);
    expect(labels('device type t {\n    bypass a to b { 3 | }\n}')).toEqual(['ohm']);
    const [glued] = offered('supply x : bell-transformer {\n    no-load 19.8|\n}');
    expect(glued?.textEdit?.newText).toBe(' V');
  });

  const written = (text: string): string[] =>
    offered(text).map(({ textEdit }) => {
      const { range, newText } = textEdit as {
        range: { start: { character: number }; end: { character: number } };
        newText: string;
      };
      const plain = text.replace('|', '');
      return plain.slice(0, range.start.character) + newText + plain.slice(range.end.character);
    });

  it('puts a unit behind each figure of a fact, and in the place of the one that stands there', () => {
    expect(written('supply x : bell-transformer { output 16| }')[0]).toBe(
      'supply x : bell-transformer { output 16 V AC }',
    );
    expect(written('supply x : bell-transformer { output 16 V AC, 10| }')).toEqual(
      ['VA', 'A', 'mA'].map((unit) => `supply x : bell-transformer { output 16 V AC, 10 ${unit} }`),
    );
    expect(written('supply x : bell-transformer { output 16| V AC, 10 VA }')[1]).toBe(
      'supply x : bell-transformer { output 16 V DC, 10 VA }',
    );
    expect(written('splice s { holds 2..3| of 18 AWG }')).toEqual(['splice s { holds 2..3 of 18 AWG }']);
    expect(written('cable type c { conductors 18 |AWG red }')).toEqual([
      'cable type c { conductors 18 AWG red }',
      'cable type c { conductors 18 mm2 red }',
    ]);
  });

  it('puts names that start with a digit in the place of what is typed', () => {
    const type = (facts: string) => `supply type t {\n    terminal 0, 8, low\n    ${facts}\n}\n`;
    expect(written(type('winding 0| to 8'))).toEqual(['0', '8', 'low'].map((name) => type(`winding ${name} to 8`)));
    expect(written(type('winding 0 to 8 { taps 0, 8| }'))).toEqual([type('winding 0 to 8 { taps 0, 8 V }')]);
    const tapped = written(type('winding 0 to 8 { taps 0, 8 V }\n    output 8|'));
    expect(tapped).toContain(type('winding 0 to 8 { taps 0, 8 V }\n    output low'));
    expect(tapped).toContain(type('winding 0 to 8 { taps 0, 8 V }\n    output 8 V AC'));
  });

  it('offers the codes that can be accepted, and the parts they may be accepted on', () => {
    const codes = labels(`${bell}\naccept |`);
    expect(codes).toContain('chime-silenced');
    expect(codes).not.toContain('supply-shorted');
    expect(codes).not.toContain('syntax');
    expect(labels(`${cam}\naccept chime-silenced on |`)).toContain('hall-chime');
  });

  it('offers only what must come next when a space asks', () => {
    const bySpace = (text: string): string[] => offered(text, text.replace('|', ''), true).map((item) => item.label);
    expect(bySpace(`${bell}\ndevice x : push-button |`)).toEqual([]);
    expect(bySpace(`${bell}\nrun x : 18/2 from hall to porch {\n |\n}`)).toEqual([]);
    expect(bySpace(`${bell}\nrun x : 18/2 from |`)).toContain('hall');
    expect(bySpace('supply x : bell-transformer {\n    no-load 19 |\n}')).toEqual(['V']);
    expect(bySpace('device x : video-doorbell {\n    ring |\n}')).toContain('none');
    expect(bySpace('device type t {\n    coil a to b { |\n')).toEqual([]);
    expect(bySpace(`${bell}\nrun x : 18/2 from hall to porch { |`)).toEqual([]);
    expect(bySpace('device type t {\n    coil a to b { as rated, |\n')).toContain('rings from');
  });

  it('stays quiet in comments and strings', () => {
    expect(labels('// sup|')).toEqual([]);
    expect(labels('wiring "sup|')).toEqual([]);
  });
});
