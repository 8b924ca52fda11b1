// Any plan that can be carried out can be written out: the text that comes of it is the circuit that the plan results in.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { canonicalLines, flattenPlan, parseWiring, readRecord } from '../../packages/language/src/index.js';
import { formatText } from '../../packages/language/src/services/format.js';
import { sameInstallation } from '../../packages/record/src/index.js';

const base = `// As found.
wiring "Bell" // the old title
place cellar
place hall
place porch { outdoor }

supply bell-tx : bell-transformer in cellar { output 16 V AC, 10 VA }

/* The chime was
   painted over. */
device hall-chime : two-note-chime in hall { rating 16 V AC, 10 VA, note "painted" }
device porch-button : push-button in porch
device dampener : series-resistor in hall {
    lands a on hall-chime.rear
}
splice joint in cellar // under the joist

run to-hall : 18/3 from cellar to hall, 9 m {
    red    bell-tx.a  to  hall-chime.trans
    white  joint      to  hall-chime.front
}
run to-porch : 18/2, 12 m from cellar to porch {
    red    bell-tx.b  to  porch-button.a // upper screw
    white  joint      to  porch-button.b
}
jumper slip : hall-chime.trans to hall-chime.rear
pigtail dampener.b to joint
accept drop-high on to-porch because "short visits"
`;

const statements = [
  'replace supply bell-tx { output 16 V AC, 30 VA }',
  'replace supply bell-tx with new-tx {\n    output 16 V AC, 20 VA\n    no-load 19 V\n}',
  '// Another chime.\nreplace device hall-chime { rating 16 V AC, 10 VA }',
  'replace device porch-button with porch-lit : lit-push-button',
  'replace device dampener with damper : series-resistor',
  'replace run to-porch : 16/2',
  'replace run to-porch with to-front : 18/3, 40 ft { red bell-tx.b to porch-button.a }',
  'replace run to-hall, 11 m',
  'remove dampener\nremove jumper dampener.b to joint',
  'remove slip',
  'remove jumper hall-chime.rear to hall-chime.trans',
  'lift to-porch.white from joint',
  'move to-porch.red from bell-tx.b to joint',
  'move to-hall.white from hall-chime.front to hall-chime.rear',
  'land to-hall.green joint to hall-chime.rear',
  'relocate bell-tx to porch',
  'relocate bell-tx to hall\nrelocate joint to hall',
  'relocate dampener to cellar',
  'relocate porch-button to hall',
  'device yard-button : push-button // new\n',
  'splice second in cellar\npigtail second to joint',
];

test('any plan', () => {
  let written = 0;
  fc.assert(
    fc.property(fc.shuffledSubarray(statements, { maxLength: 6 }), fc.boolean(), (chosen, crlf) => {
      const text = crlf ? base.replaceAll('\n', '\r\n') : base;
      const plan = parseWiring(
        'file:///w/plan.wiring',
        `wiring "Plan"\nchanges "base.wiring"\n\n${chosen.join('\n')}\n`,
      );
      const documents = new Map([
        ['file:///w/base.wiring', parseWiring('file:///w/base.wiring', text)],
        ['file:///w/plan.wiring', plan],
      ]);
      const source = { document: (uri: string) => documents.get(uri) };
      const reading = readRecord(plan, source);
      const flat = flattenPlan(plan, source);
      if (reading.findings.some(({ severity }) => severity === 'error')) {
        expect(flat).toMatchObject({ refused: expect.stringContaining('The plan has errors') });
        return;
      }
      expect(flat, chosen.join('\n')).toBeTypeOf('string');
      written++;
      const again = readRecord(parseWiring('file:///w/flat.wiring', flat as string));
      expect(sameInstallation(again.installation, reading.installation)).toBe(true);
      for (const comment of ['// As found.', '// the old title', 'painted over. */']) expect(flat).toContain(comment);
    }),
    { numRuns: 150 },
  );
  expect(written).toBeGreaterThan(40);
});

test('lines for git diff are the same after reordering and reformatting, and differ where the wiring does', () => {
  const lines = canonicalLines(base);
  const blocks = base.split(/\n(?=place|supply|device|splice|run|jumper|pigtail|accept)/);
  fc.assert(
    fc.property(fc.shuffledSubarray(blocks, { minLength: blocks.length, maxLength: blocks.length }), (parts) => {
      expect(canonicalLines(parts.join('\n'))).toEqual(lines);
      expect(canonicalLines(parts.join('\n\n').replace(/(?<=\S) {2,}/g, '\t'))).toEqual(lines);
    }),
    { numRuns: 30 },
  );
  expect(canonicalLines(formatText(base) as string)).toEqual(lines);
  for (const left of blocks) {
    expect(canonicalLines(blocks.filter((block) => block !== left).join('\n'))).not.toEqual(lines);
  }
  expect(canonicalLines(base.replace('12 m', '13 m')).filter((line) => !lines.includes(line))).toEqual([
    'run to-porch : 18/2, 13 m from cellar to porch',
  ]);
});
