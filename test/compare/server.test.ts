// Comparisons and plans written out, asked of the language server over the real protocol.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type {
  CompareAnswer,
  ComparedWith,
  FlattenAnswer,
  PlanBaseAnswer,
} from '../../packages/language/src/protocol.js';
import { bundleServer, Client, scratchFolder } from '../server/client.js';

const types = 'device type house-push "Push" {\n    terminal a, b\n    contact a to b momentary\n    role button\n}\n';
const house = `import "types/house.wiring"
wiring "House"

// The transformer hums a little.
supply tx : bell-transformer {
    output 16 V AC, 10 VA
}
device chime : two-note-chime
device push : house-push
splice joint
run up : 18/2, 9 m {
    red    tx.a   to  chime.trans
    white  joint  to  chime.front
}
run out : 18/2, 9 m {
    red    tx.b   to  push.a
    white  joint  to  push.b
}
`;
const plan = `wiring "Plan"
changes "house.wiring"

// Quieter.
replace supply tx { output 16 V AC, 30 VA }
`;

const scratch = scratchFolder();
let client: Client;
let uris: { house: string; plan: string; types: string; settings: string };

beforeAll(async () => {
  mkdirSync(join(scratch.folder, 'types'));
  ({ client } = await Client.start(await bundleServer(scratch.folder), scratch.folder));
  client.write('types/house.wiring', types);
  client.write('house.wiring', house);
  client.write('plan.wiring', plan);
  uris = {
    house: client.uriOf('house.wiring'),
    plan: client.uriOf('plan.wiring'),
    types: client.uriOf('types/house.wiring'),
    settings: client.uriOf('.ohmstead.json'),
  };
});
afterAll(async () => {
  await client.stop();
  scratch.remove();
});

const ask = (uri: string, against: ComparedWith): Promise<CompareAnswer> =>
  client.request<CompareAnswer>('ohmstead/compare', { uri, against });

function compared(answer: CompareAnswer) {
  if (answer.kind !== 'compared') throw new Error(JSON.stringify(answer));
  return answer;
}

describe('a plan', () => {
  test('is set against the record that it changes, without either being open', async () => {
    const answer = compared(await ask(uris.plan, { kind: 'base' }));
    expect(answer.comparison.title).toEqual({ before: 'House', after: 'Plan' });
    expect(answer.comparison.parts).toMatchObject([{ name: { after: 'tx' }, changes: ['replaced'] }]);
    expect(answer.orders.there.steps.length).toBeGreaterThan(3);
    expect(answer).toMatchObject({ stale: false, broken: { before: false, after: false } });
    expect(answer.locations.before!['tx']).toMatchObject({ uri: uris.house, range: { start: { line: 4 } } });
  });

  test('knows its base, and a full record has none', async () => {
    const base = (uri: string) => client.request<PlanBaseAnswer>('ohmstead/planBase', { uri });
    expect(await base(uris.plan)).toEqual({ uri: uris.house });
    expect(await base(uris.house)).toEqual({ uri: null });
    expect(await ask(uris.house, { kind: 'base' })).toMatchObject({ kind: 'refused' });
  });

  test('is written out with the comments of both', async () => {
    const flat = (uri: string) => client.request<FlattenAnswer>('ohmstead/flatten', { uri });
    const written = await flat(uris.plan);
    expect(written).toMatchObject({ baseUri: uris.house });
    expect(written).toHaveProperty(
      'text',
      expect.stringMatching(/^import "types.*wiring "Plan"\n\n\/\/ The transformer.*30 VA/s),
    );
    expect(written).toHaveProperty('text', expect.stringContaining('// Quieter.'));
    expect(await flat(uris.house)).toEqual({ refused: expect.stringContaining('it is a full one') });
  });
});

describe('a record at an earlier time', () => {
  test('is read from the texts of that time alone, which are asked for as they are wanted', async () => {
    const texts: Record<string, string | null> = {};
    const then: Record<string, string> = {
      [uris.house]: house.replace('9 m', '60 m'),
      [uris.types]: types.replace('role button', 'rating 30 V, 1 A\n    role button'),
      [uris.settings]: '{ "levels": { "short-record": "warning" } }',
    };
    let answer = await ask(uris.house, { kind: 'earlier', texts });
    const asked: string[][] = [];
    while (answer.kind === 'needs' && asked.length < 5) {
      asked.push([...answer.uris].sort());
      for (const uri of answer.uris) texts[uri] = then[uri] ?? null;
      answer = await ask(uris.house, { kind: 'earlier', texts });
    }
    expect(asked).toEqual([[uris.house, uris.settings].sort(), [uris.types]]);
    const { comparison, locations } = compared(answer);
    expect(comparison.runs).toMatchObject([{ name: { after: 'up' }, lengthMetres: { before: 60, after: 9 } }]);
    expect(comparison.parts).toMatchObject([{ name: { after: 'push' } }]);
    expect(locations.before).toEqual({});
    expect(locations.after).toHaveProperty('up');
  });

  test('that was not there then is said', async () => {
    const texts = { [uris.house]: null, [uris.settings]: null };
    expect(await ask(uris.house, { kind: 'earlier', texts })).toEqual({
      kind: 'refused',
      message: 'It was not there then.',
    });
  });
});

describe('two records', () => {
  test('of which one is being written keep the last that could be read', async () => {
    client.write('other.wiring', house.replace('16 V AC, 10 VA', '16 V AC, 20 VA'));
    const other = { kind: 'record', uri: client.uriOf('other.wiring') } as const;
    await client.open(uris.house, house);
    await client.until(uris.house, (_, version) => version === 1);
    const good = compared(await ask(uris.house, other));
    expect(good.comparison.parts).toMatchObject([{ facts: [{ before: '16 V AC, 20 VA', after: '16 V AC, 10 VA' }] }]);
    await client.change(uris.house, house.replace('output 16 V AC', 'output'));
    const stale = compared(await ask(uris.house, other));
    expect(stale).toMatchObject({ stale: true, broken: { before: false, after: false } });
    expect(stale.comparison.parts).toEqual(good.comparison.parts);
  });

  test('of which one is not there are refused', async () => {
    const other = { kind: 'record', uri: client.uriOf('nowhere.wiring') } as const;
    expect(await ask(uris.house, other)).toEqual({ kind: 'refused', message: 'The other record cannot be read.' });
  });
});
