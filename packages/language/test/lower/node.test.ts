import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openFiles, workspaceOf } from '../../src/node.js';

const folder = mkdtempSync(join(tmpdir(), 'wiring-'));
afterAll(() => rmSync(folder, { recursive: true }));

function write(path: string, content: string | Uint8Array): string {
  const file = join(folder, path);
  mkdirSync(join(file, '..'), { recursive: true });
  writeFileSync(file, content);
  return file;
}

describe('files from the disk', () => {
  it('are read with what they import, and what keeps them from being read is said', () => {
    write('house/a b.wiring', '\uFEFFimport "../types.wiring"\r\nplace hall\r\ndevice p : my-push in hall\r\n');
    write('types.wiring', 'device type my-push { terminal a, b\n contact a to b momentary\n}\n');
    write('latin.wiring', Uint8Array.of(0x70, 0xe9, 0x0a));
    const [record, missing, isFolder, latin] = openFiles(
      ['house/a b.wiring', 'no.wiring', 'house', 'latin.wiring'],
      folder,
    );
    if (!record || 'problem' in record) throw new Error('the record was not read');
    expect(record.record.reading.findings).toEqual([]);
    expect(record.record.reading.documents).toHaveLength(2);
    expect(record.record.budget().devices.map(({ name }) => name)).toEqual(['p']);
    expect(missing).toEqual({ path: 'no.wiring', problem: 'not-found', message: 'There is no file `no.wiring`.' });
    expect(isFolder).toMatchObject({ problem: 'is-directory' });
    expect(latin).toMatchObject({ problem: 'not-utf-8' });
  });

  it('stop at the workspace', () => {
    write('outside.wiring', 'place hall\n');
    write('work/.git/HEAD', '');
    const file = write('work/a.wiring', 'import "../outside.wiring"\n');
    expect(workspaceOf(file, folder)).toBe(join(folder, 'work'));
    const [result] = openFiles([file], folder);
    expect(result).toMatchObject({ record: { findings: [{ code: 'import-outside' }] } });
  });

  it('that import one another are both checked', () => {
    const text = (other: string, push: string) => `import "${other}"\ndevice ${push} : push-button\n`;
    write('one.wiring', text('two.wiring', 'first'));
    write('two.wiring', text('one.wiring', 'second'));
    const codes = openFiles(['one.wiring', 'two.wiring'], folder).map((result) =>
      'record' in result ? result.record.findings.map(({ code }) => code) : [],
    );
    expect(codes.map((one) => one.includes('import-cycle'))).toEqual([true, true]);
  });
});
