import { describe, expect, it } from 'vitest';
import { checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

function records(files: Readonly<Record<string, string>>) {
  const documents = new Map(
    Object.entries(files).map(([path, text]) => [`file:///w/${path}`, parseWiring(`file:///w/${path}`, text)]),
  );
  const source = {
    document: (uri: string) => documents.get(uri),
    isInside: (uri: string) => uri.startsWith('file:///w/'),
  };
  return (path: string) => readRecord(documents.get(`file:///w/${path}`)!, source);
}

const codes = (reading: ReturnType<ReturnType<typeof records>>) =>
  reading.findings.map(({ code, range }) => `${range.start.line} ${code}`);

describe('imports', () => {
  it('bring types, places and parts, also through other files', () => {
    const read = records({
      'house/a.wiring': 'import "../common/b.wiring"\ndevice p : my-push in hall\njumper p.x to joint\n',
      'common/b.wiring': 'import "c.wiring"\nplace hall\nsplice joint in hall\n',
      'common/c.wiring': 'device type my-push { terminal x, y\n contact x to y momentary\n}\n',
    });
    const reading = read('house/a.wiring');
    expect(codes(reading)).toEqual([]);
    expect(reading.installation.splices.map(({ name }) => name)).toEqual(['joint']);
    expect(reading.documents.map(({ uri }) => uri.replace('file:///w/', ''))).toEqual([
      'common/c.wiring',
      'common/b.wiring',
      'house/a.wiring',
    ]);
  });

  it('that are missing are one mistake, not one for every name', () => {
    const reading = records({ 'a.wiring': 'import "b.wiring"\ndevice p : my-push in hall\njumper p.x to joint\n' })(
      'a.wiring',
    );
    expect(codes(reading)).toEqual(['0 import-missing']);
    expect(reading.installation.broken).toContain('p');
    expect(reading.missing).toEqual(['file:///w/b.wiring']);
  });

  it.each(['../../b.wiring', '/w/b.wiring', 'C:\\b.wiring', 'https://example.org/b.wiring', '../b.wiring'])(
    'must stay inside the workspace: %s',
    (path) => {
      expect(codes(records({ 'a.wiring': `import "${path}"\n` })('a.wiring'))).toEqual(['0 import-outside']);
    },
  );

  it('in a circle are an error in each file of it, and the files are read all the same', () => {
    const read = records({
      'a.wiring': 'import "b.wiring"\nsplice one\n',
      'b.wiring': 'import "c.wiring"\nsplice two\n',
      'c.wiring': 'import "a.wiring"\nsplice three\njumper one to two\n',
      'd.wiring': 'import "d.wiring"\n',
    });
    for (const path of ['a.wiring', 'b.wiring', 'c.wiring', 'd.wiring'])
      expect(codes(read(path))).toEqual(['0 import-cycle']);
    expect(read('a.wiring').findings[0]?.message).toContain('`a.wiring` → `b.wiring` → `c.wiring` → `a.wiring`');
    expect(read('a.wiring').installation.splices).toHaveLength(3);
  });

  it("keep the imported file's own mistakes to that file, and hold back what they touch", () => {
    const read = records({
      'a.wiring': 'import "b.wiring"\njumper tx.a to joint\nsplice joint\nsplice other\n',
      'b.wiring': 'supply tx : bell-transformer {\n outptu 16 V\n}\n',
    });
    expect(codes(read('a.wiring'))).toEqual([]);
    expect(read('a.wiring').installation.broken).toContain('tx');
    expect(codes(read('b.wiring'))).toEqual(['1 syntax']);
  });

  it('may not give a name twice', () => {
    const read = records({ 'a.wiring': 'import "b.wiring"\nsplice joint\n', 'b.wiring': 'splice joint\n' });
    const [finding] = read('a.wiring').findings;
    expect(finding).toMatchObject({ code: 'duplicate-name', related: [{ uri: 'file:///w/b.wiring' }] });
  });

  it('place what this record causes in another file at the import', () => {
    const house = `place hall
supply tx : bell-transformer in hall {
    output 16 V AC, 10 VA
    no-load 20 V
}
device one : video-doorbell in hall { needs supply 10 VA or more }
run r : 18/2 from hall to hall, 9 m {
    red tx.a to one.a
    white tx.b to one.b
}
`;
    const room = `import "house.wiring"
device two : video-doorbell in hall { needs supply 10 VA or more }
run s : 18/2 from hall to hall, 9 m {
    red tx.a to two.a
    white tx.b to two.b
}
`;
    const read = records({ 'house.wiring': house, 'room.wiring': room });
    const alone = checkRecord(read('house.wiring'));
    const together = checkRecord(read('room.wiring'), { imported: () => alone });
    expect(alone.findings.map(({ code }) => code)).not.toContain('supply-too-small');
    const finding = together.findings.find(({ code }) => code === 'supply-too-small');
    expect(finding?.uri).toBe('file:///w/room.wiring');
    expect(together.findings.every(({ uri }) => uri === 'file:///w/room.wiring')).toBe(true);
  });
});
