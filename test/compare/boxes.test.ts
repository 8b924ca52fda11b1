// Boxes in rewire plans: they are put in by their own statement and taken out by `remove`, as everything that has a name.
import {
  type CheckedRecord,
  checkRecord,
  compareChecked,
  flattenPlan,
  parseWiring,
  readRecord,
} from '@ohmstead/language';
import { workOrders } from '@ohmstead/record';
import { compareText } from '@ohmstead/views';
import { expect, test } from 'vitest';

const base = `wiring "House"
profile united-kingdom
place cellar
box old-box in cellar { volume 18 in3, metal }
supply lights : branch-circuit in old-box {
    breaker 6 A
}
supply bell-tx : bell-transformer in cellar {
    output 8 V AC, 8 VA
}
run feed : 3G1.5 from old-box to cellar, 2 m {
    brown         lights.hot      to  bell-tx.line
    blue          lights.neutral  to  bell-tx.neutral
    green/yellow  lights.ground   to  bell-tx.ground
}
ground bell-tx.ground to old-box
`;

const baseUri = 'test:/house.wiring';
const head = 'wiring "Plan"\nchanges "house.wiring"\n\n';
const emptied = `${head}remove old-box
remove feed
remove lights
box new-box in cellar { volume 20 in3, metal }
supply mains : branch-circuit in new-box {
    breaker 6 A
}
run feed-2 : 3G1.5 from new-box to cellar, 2 m {
    brown         mains.hot      to  bell-tx.line
    blue          mains.neutral  to  bell-tx.neutral
    green/yellow  mains.ground   to  bell-tx.ground
}
ground bell-tx.ground to new-box
`;

function opened(text: string) {
  const documents = new Map(
    [baseUri, 'test:/plan.wiring'].map((uri, index) => [uri, parseWiring(uri, [base, text][index]!)]),
  );
  const source = { document: (uri: string) => documents.get(uri), isInside: () => true };
  const check = (uri: string): CheckedRecord =>
    checkRecord(readRecord(documents.get(uri)!, source), { imported: (other) => check(other) });
  return {
    plan: check('test:/plan.wiring'),
    base: check(baseUri),
    flat: flattenPlan(documents.get('test:/plan.wiring')!, source),
  };
}

const errors = ({ findings }: CheckedRecord) => findings.filter(({ severity }) => severity === 'error');

test('one that still has something in it stays, and what that is is said', () => {
  const { plan, flat } = opened(`${head}remove old-box\n`);
  expect(errors(plan).map(({ code, message }) => [code, message])).toEqual([
    [
      'plan-left-hanging',
      '`old-box` is taken out and `lights` and an end of `feed` are still in it: take them out too, or leave the box.',
    ],
  ]);
  expect(flat).toHaveProperty('refused');
});

test('one that is emptied goes, with its bonds', () => {
  const { plan, base: before } = opened(emptied);
  expect(errors(plan)).toEqual([]);
  const { installation } = plan.analysis;
  expect(installation.boxes?.map(({ name }) => name)).toEqual(['new-box']);
  expect(installation.grounds).toEqual([{ end: { part: 'bell-tx', terminal: 'ground' }, box: 'new-box' }]);
  const { places, jumpers } = compareChecked(before, plan);
  // What stood in the one stands in the other, so that it is another name for the same box, but for its volume.
  expect(places).toEqual([
    {
      name: { before: 'old-box', after: 'new-box' },
      changes: ['renamed', 'restated'],
      facts: [{ fact: 'volume', before: '18 in3', after: '20 in3' }],
    },
  ]);
  expect(jumpers).toEqual([]);
});

test('bonds that are made or taken off are told of, and are steps of the work', () => {
  const { plan, base: before } = opened(`${head}box new-box in cellar { metal }\nground bell-tx.ground to new-box\n`);
  const comparison = compareChecked(before, plan);
  expect(comparison.same).toBe(false);
  expect(comparison.jumpers).toEqual([
    { kind: 'ground', change: 'added', before: null, after: { name: null, from: 'bell-tx.ground', to: 'new-box' } },
  ]);
  expect(compareText(comparison)).toMatch(/Links and leads\n +added +earth from bell-tx\.ground to new-box\n/);
  const { there, back } = workOrders(before.analysis, plan.analysis);
  expect(there.steps).toContainEqual(expect.objectContaining({ words: 'Bond `bell-tx.ground` to `new-box`.' }));
  expect(back.steps).toContainEqual(
    expect.objectContaining({ words: 'Take the earth of `bell-tx.ground` off `new-box`.' }),
  );
});

test('the plan can be written out, and reads as what it results in', () => {
  const { flat } = opened(emptied);
  expect(typeof flat).toBe('string');
  expect(flat).not.toMatch(/old-box|remove/);
  expect(flat).toContain('ground bell-tx.ground to new-box');
});

test('the work order speaks of the mains side, as the trade does there', () => {
  const { plan, base: before } = opened(`${head}replace supply bell-tx { output 8 V AC, 12 VA }\n`);
  const words = workOrders(before.analysis, plan.analysis).there.steps.map((step) => step.words);
  expect(words).toContainEqual(expect.stringContaining('The mains side of `bell-tx` is opened.'));
  expect(words.join('\n')).not.toContain('line side');
});

test('a box is no device', () => {
  const { plan } = opened(`${head}replace device old-box : buzzer\n`);
  expect(errors(plan).map(({ code }) => code)).toEqual(['plan-nothing-there']);
});
