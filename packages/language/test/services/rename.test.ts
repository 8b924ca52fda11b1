// Another name, over files that are not open: what it changes, and what is refused because the record would mean something else.
import { expect, describe, it } from 'vitest';
import { Records } from '../../src/server/records.js';
import { applyChanges } from '../../src/services/format.js';
import { renamed } from '../../src/services/rename.js';

const inFile = (name: string) => `file:///house/${name}`;

/** Renames the name at the `|` of a file, as the server does; gives every file's text afterwards, or the reason. */
function rename(marked: Record<string, string>, newName: string): Record<string, string> | string {
  const files: Record<string, string> = {};
  let at: { uri: string; offset: number } | undefined;
  for (const [name, text] of Object.entries(marked)) {
    files[inFile(name)] = text.replace('|', '');
    if (text.includes('|')) at = { uri: inFile(name), offset: text.indexOf('|') };
  }
  const records = new Records({ read: (uri) => files[uri], list: () => Object.keys(files) });
  records.setFolders(['file:///house']);
  const reading = records.reading(at!.uri)!;
  const { symbol } = reading.names.at(reading.document, at!.offset)!;
  const declaredIn = new Set(symbol.declarations.map((site) => site.document.uri));
  const readings = records.recordsWith(declaredIn, [symbol.name, newName]);
  const result = renamed(symbol, newName, readings, {
    document: (uri) => records.document(uri),
    insideOf: (uri) => records.reachOf(uri).isInside,
  });
  if ('refused' in result) return result.refused;
  const texts: Record<string, string> = {};
  for (const name of Object.keys(marked)) {
    const document = records.document(inFile(name))!;
    const changes = result.edits
      .filter(({ uri }) => uri === inFile(name))
      .map(({ range, newText }) => ({
        start: document.offsetAt(range.start),
        end: document.offsetAt(range.end),
        newText,
      }));
    texts[name] = applyChanges(
      document.text,
      changes.sort((one, other) => one.start - other.start),
    );
  }
  return texts;
}

const stat = `device type stat {
    terminal r, w, y
    contact r to w maintained
    contact r to y maintained
    never together r-w, r-y
}
`;

describe('another name', () => {
  it('is given in every file of every record, and back again', () => {
    const files = {
      'parts.wiring': 'place hall\ndevice |chime : two-note-chime in hall\n',
      'house.wiring': 'import "parts.wiring"\njumper link : chime.trans to chime.front\n',
      'plan.wiring': 'changes "house.wiring"\nremove chime\nremove link\n',
    };
    const there = rename(files, 'hall-gong') as Record<string, string>;
    expect(there['house.wiring']).toContain('hall-gong.trans to hall-gong.front');
    expect(there['plan.wiring']).toContain('remove hall-gong');
    const marked = { ...there, 'parts.wiring': there['parts.wiring']!.replace('hall-gong', '|hall-gong') };
    const back = rename(marked, 'chime') as Record<string, string>;
    expect(back).toEqual({ ...files, 'parts.wiring': files['parts.wiring'].replace('|', '') });
  });

  it('is refused where another record has it, though that record does not use the old one', () => {
    const files = {
      'parts.wiring': 'device |chime : two-note-chime\n',
      'other.wiring': 'import "parts.wiring"\ndevice bell : buzzer\n',
    };
    expect(rename(files, 'bell')).toBe('`bell` is already the name of a device.');
  });

  it('of a terminal is refused where the names of contacts are made of it', () => {
    expect(rename({ 'a.wiring': stat.replace('terminal r', 'terminal |r') }, 'rh')).toMatch(
      /^`r` can't be called `rh`: it would then be said that /,
    );
    expect(rename({ 'a.wiring': stat.replace(/ +never.*\n/, '').replace('terminal r', 'terminal |r') }, 'rh')).toEqual({
      'a.wiring': stat.replace(/ +never.*\n/, '').replace(/\br\b/g, 'rh'),
    });
  });

  it('of a tap goes in front of its volts', () => {
    const text = (name: string, tap: string): string =>
      `supply type tapped {\n    terminal 0, ${name}, 16\n    winding 0 to 16 { taps 0, ${tap}, 16 V, 20 VA }\n}\n`;
    const marked = (name: string, tap: string) => ({ 'a.wiring': text(name, tap).replace(', ', ', |') });
    expect(rename(marked('8', '8'), 'low')).toEqual({ 'a.wiring': text('low', 'low 8') });
    expect(rename(marked('low', 'low 8'), '8')).toEqual({ 'a.wiring': text('8', '8') });
    expect(rename(marked('8', '8'), '9')).toMatch(/volts of a tap/);
    expect(rename(marked('low', 'low 8'), '9')).toMatch(/only where that is its volts/);
  });

  it('is refused where a word of the notation would stand in its stead, and of places and boxes where the other has it', () => {
    const text = (splice: string) =>
      `supply tx : bell-transformer\nsplice ${splice}\nrun r : 18/2 {\n    red tx.a to joint\n    white spare\n}\n`;
    for (const word of ['capped', 'Unknown']) {
      expect(rename({ 'a.wiring': text('|joint') }, word)).toBe(
        `\`joint\` can't be called \`${word}\`: where it is used, \`${word}\` would mean something else.`,
      );
    }
    expect(rename({ 'a.wiring': text('|joint') }, 'to')).toEqual({ 'a.wiring': text('to').replace('joint', 'to') });
    const places = 'place |hall\nbox deep in hall\nsplice x in deep\n';
    expect(rename({ 'a.wiring': places }, 'deep')).toBe('`deep` is already the name of a box.');
  });

  it('may be one that was used before it was declared', () => {
    const text = (name: string) => `device ${name} : two-note-chime\njumper link : chime.trans to chime.front\n`;
    expect(rename({ 'a.wiring': text('|gong') }, 'chime')).toEqual({ 'a.wiring': text('chime') });
  });

  it('that is none is refused, and so is that of a shipped type', () => {
    expect(rename({ 'a.wiring': 'place |hall\n' }, '1 hall')).toMatch(/is not a name/);
    expect(rename({ 'a.wiring': 'device x : |buzzer\n' }, 'hummer')).toMatch(/shipped library/);
  });
});
