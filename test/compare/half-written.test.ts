// A plan as it is being typed: whatever stands there so far is answered, and compared with what it changes.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type CheckedRecord,
  checkRecord,
  flattenPlan,
  parseWiring,
  readRecord,
} from '../../packages/language/src/index.js';
import { compareRecords, workOrders } from '../../packages/record/src/index.js';

const base = `wiring "Bell"
supply bell-tx : bell-transformer { output 16 V AC, 10 VA }
device hall-chime : two-note-chime
device porch-button : push-button
splice joint
run to-hall : 18/3, 9 m {
    red    bell-tx.a  to  hall-chime.trans
    white  joint      to  hall-chime.front
}
run to-porch : 18/2, 12 m {
    red    bell-tx.b  to  porch-button.a
    white  joint      to  porch-button.b
}
`;
const plan = `wiring "Doorbell"
changes "base.wiring"
replace supply bell-tx { output 16 V AC, 30 VA }
replace device porch-button with porch-cam : video-doorbell { ring none }
replace run to-porch : 16/2, 40 ft { red bell-tx.b to porch-cam.a }
move to-hall.white from joint to bell-tx.b
land to-hall.green joint to hall-chime.rear
lift to-hall.red from bell-tx.a
remove jumper hall-chime.trans to hall-chime.front
jumper bypass : hall-chime.trans to hall-chime.front
remove joint
`;

function open(text: string): { now: CheckedRecord; before: CheckedRecord | undefined } {
  const documents = new Map(
    Object.entries({ 'base.wiring': base, 'plan.wiring': text }).map(([name, content]) => [
      `file:///w/${name}`,
      parseWiring(`file:///w/${name}`, content),
    ]),
  );
  const source = { document: (uri: string) => documents.get(uri) };
  const check = (uri: string): CheckedRecord | undefined => {
    const document = documents.get(uri);
    return document && checkRecord(readRecord(document, source), { imported: check });
  };
  flattenPlan(documents.get('file:///w/plan.wiring')!, source);
  return { now: check('file:///w/plan.wiring')!, before: check('file:///w/base.wiring') };
}

const side = ({ analysis }: CheckedRecord) => ({ analysis, findings: [] });

function answers(text: string): void {
  const { now, before } = open(text);
  for (const finding of now.findings) {
    expect(finding.message).not.toMatch(/NaN|undefined|\[object/);
    now.fixesOf(finding);
  }
  compareRecords(side(before!), side(now));
  for (const { words } of workOrders(before!.analysis, now.analysis).there.steps) {
    expect(words).not.toMatch(/NaN|undefined|\[object/);
  }
}

test('a plan cut off anywhere, or with a stretch left out', () => {
  fc.assert(
    fc.property(fc.nat({ max: plan.length }), fc.nat({ max: 40 }), fc.boolean(), (at, length, cut) => {
      answers(cut ? plan.slice(0, at) : plan.slice(0, at) + plan.slice(at + length));
    }),
    { numRuns: 120 },
  );
});

test('a plan with its lines doubled and in another order', () => {
  const lines = plan.trimEnd().split('\n');
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...lines), { maxLength: 14 }), (chosen) => {
      answers(`changes "base.wiring"\n${chosen.join('\n')}\n`);
    }),
    { numRuns: 60 },
  );
});
