// What an edit costs, and the exact findings of every open file after every step of a session, other files included.
import { mkdirSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { CheckedRecord } from '../../packages/language/src/pipeline.js';
import { piecesOf } from '../../packages/record/src/analyse/analyse.js';
import { Records } from '../../packages/language/src/server/records.js';
import { bundleServer, Client, scratchFolder } from './client.js';

const CREATED = 1;
const CHANGED = 2;
const DELETED = 3;

const places = 'place cellar\nplace hall\n';
const house = `import "shared/places.wiring"
splice joint in cellar
supply tx : bell-transformer in cellar {
    output 16 V AC, 10 VA
}
device chime : two-note-chime in hall
device button : push-button in hall
run up : 18/2 from cellar to hall, 9 m {
    red    tx.a   to  chime.trans
    white  joint  to  chime.front
}
run out : 18/2 from cellar to hall, 9 m {
    red    tx.b   to  button.a
    white  joint  to  button.b
}
`;
const shed = 'import "shared/places.wiring"\nsplice other in cellar\n';

describe('a session', () => {
  const scratch = scratchFolder();
  let client: Client;
  let houseUri: string;
  let shedUri: string;

  beforeAll(async () => {
    ({ client } = await Client.start(await bundleServer(scratch.folder), scratch.folder));
    mkdirSync(join(scratch.folder, 'shared'));
    client.write('shared/places.wiring', places);
    houseUri = client.uriOf('house.wiring');
    shedUri = client.uriOf('shed.wiring');
  });

  afterAll(async () => {
    await client.stop();
    scratch.remove();
  });

  /** `code at line` of the warnings and errors last published for a file. */
  const said = (uri: string): string[] =>
    (client.findings(uri) ?? [])
      .filter(({ severity }) => severity! <= 2)
      .map(({ code, range }) => `${code} at ${range.start.line}`);

  /** How often each file's findings were published. */
  const counts = (since: number): Record<string, number> => {
    const counted: Record<string, number> = {};
    for (const { uri } of client.published.slice(since)) {
      const name = uri.split('/').at(-1)!;
      counted[name] = (counted[name] ?? 0) + 1;
    }
    return counted;
  };

  /** Does something and holds how often each file's findings are published because of it. */
  const publishes = async (expected: Record<string, number>, step: () => unknown): Promise<void> => {
    const since = client.published.length;
    await step();
    await expect.poll(() => counts(since), { timeout: 20_000 }).toEqual(expected);
    // Nothing comes after it.
    await new Promise((resolve) => setTimeout(resolve, 150));
    expect(counts(since)).toEqual(expected);
  };
  const ofHouse = { 'house.wiring': 1 };
  const ofShed = { 'shed.wiring': 1 };
  const ofBoth = { ...ofHouse, ...ofShed };
  const ofAll = { ...ofBoth, 'places.wiring': 1 };

  const onDisk = (...changes: { uri: string; type: number }[]) =>
    client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes });

  it('has its findings right after every step', async () => {
    const placesUri = client.uriOf('shared/places.wiring');
    await publishes(ofHouse, () => client.open(houseUri, house));
    expect(said(houseUri)).toEqual([]);
    await publishes(ofShed, () => client.open(shedUri, shed));
    expect(said(shedUri)).toEqual([]);

    // An edit in a file that nobody imports concerns that file alone.
    await publishes(ofHouse, () => client.change(houseUri, house.replace('chime.front', 'chime.frnt')));
    expect(said(houseUri)).toEqual(['unknown-terminal at 9']);
    await publishes(ofHouse, () => client.change(houseUri, house));
    expect(said(houseUri)).toEqual([]);

    // Saved: what an editor shows is on the disk now, and nothing is said again.
    await publishes({}, () => onDisk({ uri: houseUri, type: CHANGED }));

    // Changed outside the editor, as by a check-out of another branch.
    client.write('shared/places.wiring', 'place cellar\nplace landing\n');
    await publishes(ofBoth, () => onDisk({ uri: placesUri, type: CHANGED }));
    expect(said(houseUri)).toEqual(['unknown-name at 5']);
    expect(said(shedUri)).toEqual([]);
    client.write('shared/places.wiring', places);
    await publishes(ofBoth, () => onDisk({ uri: placesUri, type: CHANGED }));
    expect([said(houseUri), said(shedUri)]).toEqual([[], []]);

    // Deleted.
    rmSync(join(scratch.folder, 'shared/places.wiring'));
    await publishes(ofBoth, () => onDisk({ uri: placesUri, type: DELETED }));
    expect([said(houseUri), said(shedUri)]).toEqual([['import-missing at 0'], ['import-missing at 0']]);

    // Back under another name: found by the record that asks for that name.
    const rooms = client.write('shared/rooms.wiring', places);
    await onDisk({ uri: rooms, type: CREATED });
    await publishes(ofHouse, () => client.change(houseUri, house.replace('places', 'rooms')));
    expect([said(houseUri), said(shedUri)]).toEqual([[], ['import-missing at 0']]);

    // Renamed back outside the editor: one leaves, one comes, in one notification.
    renameSync(join(scratch.folder, 'shared/rooms.wiring'), join(scratch.folder, 'shared/places.wiring'));
    await publishes(ofBoth, () => onDisk({ uri: rooms, type: DELETED }, { uri: placesUri, type: CREATED }));
    expect([said(houseUri), said(shedUri)]).toEqual([['import-missing at 0'], []]);
    await publishes(ofHouse, () => client.change(houseUri, house));
    expect(said(houseUri)).toEqual([]);

    // Open in the editor and not saved, then closed without saving.
    await publishes(ofAll, () => client.open(placesUri, 'place cellar\n'));
    expect([said(houseUri).length, said(shedUri), said(placesUri)]).toEqual([1, [], []]);
    await publishes(ofAll, () => client.close(placesUri));
    expect([said(houseUri), said(shedUri)]).toEqual([[], []]);

    // A file behind the imported one, which is not there at first.
    client.write('shared/places.wiring', 'import "attic.wiring"\nplace cellar\n');
    await publishes(ofBoth, () => onDisk({ uri: placesUri, type: CHANGED }));
    const withoutAttic = said(houseUri);
    const attic = client.write('shared/attic.wiring', 'place hall\n');
    await publishes(ofBoth, () => onDisk({ uri: attic, type: CREATED }));
    expect(said(houseUri)).toEqual([]);
    rmSync(join(scratch.folder, 'shared/attic.wiring'));
    await publishes(ofBoth, () => onDisk({ uri: attic, type: DELETED }));
    expect(said(houseUri)).toEqual(withoutAttic);
    client.write('shared/places.wiring', places);
    await publishes(ofBoth, () => onDisk({ uri: placesUri, type: CHANGED }));
    expect(said(houseUri)).toEqual([]);

    // Stashed, as several files that change, come and go in one notification; then taken out again.
    const added = client.write('shared/porch.wiring', 'place porch\n');
    client.write('shared/places.wiring', 'import "porch.wiring"\nplace cellar\n');
    await publishes(ofBoth, () => onDisk({ uri: placesUri, type: CHANGED }, { uri: added, type: CREATED }));
    const whileStashed = said(houseUri);
    expect(whileStashed).toEqual(['unknown-name at 5']);
    rmSync(join(scratch.folder, 'shared/porch.wiring'));
    client.write('shared/places.wiring', places);
    await publishes(ofBoth, () => onDisk({ uri: added, type: DELETED }, { uri: placesUri, type: CHANGED }));
    expect([said(houseUri), said(shedUri)]).toEqual([[], []]);

    // A whole folder that is moved away and back: nothing is said of the files in it.
    const folder = client.uriOf('shared');
    renameSync(join(scratch.folder, 'shared'), join(scratch.folder, 'aside'));
    await publishes(ofBoth, () => onDisk({ uri: folder, type: DELETED }));
    expect([said(houseUri), said(shedUri)]).toEqual([['import-missing at 0'], ['import-missing at 0']]);
    renameSync(join(scratch.folder, 'aside'), join(scratch.folder, 'shared'));
    await publishes(ofBoth, () => onDisk({ uri: folder, type: CREATED }));
    expect([said(houseUri), said(shedUri)]).toEqual([[], []]);
    // What is no part of a record concerns none.
    await publishes({}, () => onDisk({ uri: client.uriOf('node_modules'), type: CREATED }));

    // Closed: nothing of it is left in the list.
    await publishes(ofShed, () => client.change(shedUri, shed.replace('cellar', 'celar')));
    expect(said(shedUri)).toEqual(['unknown-name at 1']);
    await publishes(ofShed, () => client.close(shedUri));
    expect(said(shedUri)).toEqual([]);
    expect(dirname(placesUri)).toBe(`${client.uriOf('shared')}`);
  });
});

describe('an edit', () => {
  const street = (houses: number): string =>
    Array.from({ length: houses }, (_, index) =>
      house
        .replace(/import .*\n/, '')
        .replace(/(?<![-\w])(joint|tx|chime|button|up|out)\b/g, `h${index}-$1`)
        .replaceAll('9 m', `${9 + index} m`),
    ).join('\n');
  const uri = 'file:///house/street.wiring';
  const other = 'file:///house/other.wiring';

  /** Circuits whose solutions were worked out anew between two checks. */
  const solvedAnew = (before: CheckedRecord, now: CheckedRecord): number => {
    const kept = new Set(before.analysis.circuits.map((circuit) => circuit.solved('nominal')));
    return now.analysis.circuits.filter((circuit) => !kept.has(circuit.solved('nominal'))).length;
  };

  /** What hangs together and was analysed and judged anew between two checks. */
  const judgedAnew = (before: CheckedRecord, now: CheckedRecord): number => {
    const kept = new Set(piecesOf(before.analysis));
    return piecesOf(now.analysis).filter((piece) => !kept.has(piece)).length;
  };

  it('reads its own file alone, one statement of it, and solves and judges the circuit that it touches', () => {
    const disk: Record<string, string> = { 'file:///house/shared/places.wiring': places };
    let reads = 0;
    const records = new Records({
      read: (file) => {
        reads++;
        return disk[file];
      },
      list: () => Object.keys(disk),
    });
    records.setFolders(['file:///house']);
    const text = `import "shared/places.wiring"\n${street(12)}`;
    records.opened(TextDocument.create(other, 'ohmstead', 1, shed));
    records.opened(TextDocument.create(uri, 'ohmstead', 1, text));
    const [before, beside] = [records.check(uri)!.record, records.check(other)!.record];
    expect(before.analysis.circuits.filter(({ supplies }) => supplies.length > 0)).toHaveLength(12);
    const readsBefore = reads;

    const edited = text.replace('14 m', '144 m');
    records.opened(TextDocument.create(uri, 'ohmstead', 2, edited));
    expect(records.concernedBy([uri])).toEqual([uri]);
    const now = records.check(uri)!.record;
    expect(records.check(other)!.record).toBe(beside);
    expect(reads).toBe(readsBefore);
    const known = new Set(before.reading.document.file.statements);
    expect(now.reading.document.file.statements.filter((statement) => !known.has(statement))).toHaveLength(1);
    expect(piecesOf(now.analysis)).toHaveLength(12);
    expect([solvedAnew(before, now), judgedAnew(before, now)]).toEqual([1, 1]);

    // Words that no figure depends on cost no solution at all.
    records.opened(TextDocument.create(uri, 'ohmstead', 3, edited.replace('import', '// Words.\nimport')));
    const commented = records.check(uri)!.record;
    expect([solvedAnew(now, commented), judgedAnew(now, commented)]).toEqual([0, 0]);
    // Nor does a statement that is not understood, but for the circuit that it may be about.
    records.opened(TextDocument.create(uri, 'ohmstead', 4, edited.replace('h3-chime.front', 'h3-chime.frint')));
    const mistaken = records.check(uri)!.record;
    expect(mistaken.findings.map(({ code }) => code)).toContain('unknown-terminal');
    expect(judgedAnew(commented, mistaken)).toBe(1);
  });

  it('in a file that others import reads that file alone and checks each of them once', () => {
    const shared = 'file:///house/shared/places.wiring';
    const records = new Records({ read: () => undefined, list: () => [] });
    records.setFolders(['file:///house']);
    records.opened(TextDocument.create(shared, 'ohmstead', 1, places));
    const users = ['file:///house/a.wiring', 'file:///house/b.wiring'];
    for (const user of users) records.opened(TextDocument.create(user, 'ohmstead', 1, house));
    const before = users.map((user) => records.check(user)!.record);
    records.opened(TextDocument.create(shared, 'ohmstead', 2, `${places}place attic\n`));
    expect(records.concernedBy([shared]).sort()).toEqual([...users, shared].sort());
    users.forEach((user, index) => {
      const now = records.check(user)!.record;
      expect(now).not.toBe(before[index]);
      expect(now.reading.document).toBe(before[index]!.reading.document);
      expect([solvedAnew(before[index]!, now), judgedAnew(before[index]!, now)]).toEqual([0, 0]);
    });
  });
});
