// Rewire plans in the editor: names that cross to the record underneath, completion, hover, fixes written as plan statements.
import { planSnippets } from '../../src/services/statement-snippets.js';
import { describe, expect, it } from 'vitest';
import { type CheckedRecord, checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';
import { complete } from '../../src/services/completion.js';
import { completionRecord } from '../../src/services/completion-record.js';
import { lensWords, supplyLenses } from '../../src/services/code-lenses.js';
import { hoverAt } from '../../src/services/hover.js';
import { definitionsAt, referencesTo } from '../../src/services/names.js';
import { planEditsOf } from '../../src/services/plan-edits.js';
import { renamed } from '../../src/services/rename.js';
import { pointedAt } from '../../src/services/statement-at.js';
import { documentSymbols } from '../../src/services/symbols.js';
import { outlineOfText } from '../../src/services/workspace-symbols.js';

const base = `wiring "Bell"
supply bell-tx : bell-transformer {
    output 16 V AC, 10 VA
    no-load 19.8 V
}
device hall-chime : two-note-chime {
    rating 16 V AC, 10 VA
}
device porch-button : push-button
splice joint
run to-hall : 18/2, 9 m {
    red    bell-tx.a  to  hall-chime.trans
    white  joint      to  hall-chime.front
}
run to-porch : 18/3, 12 m {
    red    bell-tx.b  to  porch-button.a
    white  joint      to  porch-button.b
}
place attic
place hall
`;

function opened(plan: string) {
  const documents = new Map(
    Object.entries({ 'base.wiring': base, 'plan.wiring': `changes "base.wiring"\n${plan}` }).map(([name, text]) => [
      `file:///w/${name}`,
      parseWiring(`file:///w/${name}`, text),
    ]),
  );
  const source = { document: (uri: string) => documents.get(uri) };
  const check = (uri: string): CheckedRecord | undefined => {
    const document = documents.get(uri);
    return document && checkRecord(readRecord(document, source), { imported: check });
  };
  return check('file:///w/plan.wiring')!;
}

const at = (record: CheckedRecord, words: string) => record.reading.document.text.indexOf(words);

function offered(statement: string): string[] {
  const { reading } = opened('');
  const text = `changes "base.wiring"\n${statement}`;
  const rangeOf = () => ({ start: { line: 0, character: 0 }, end: { line: 0, character: 0 } });
  const items = complete(text, text.length, completionRecord(reading), { snippets: false, bySpace: false, rangeOf });
  return items.map(({ label }) => label);
}

describe('a name in a plan', () => {
  const plan =
    'replace device porch-button with porch-cam : video-doorbell { ring none }\nmove to-hall.red from bell-tx.a to bell-tx.b\n';

  it.each([
    ['porch-button', 8],
    ['to-hall', 10],
    ['bell-tx', 1],
  ])('is defined in the record underneath: %s', (name, line) => {
    const record = opened(plan);
    const { names, document } = record.reading;
    const found = definitionsAt(names, document, at(record, name) + 1);
    expect(found.map(({ uri, range }) => [uri, range.start.line])).toEqual([['file:///w/base.wiring', line]]);
  });

  it('is renamed in both files', () => {
    const { reading } = opened(plan);
    const use = reading.names.find('part', 'bell-tx')!;
    expect(referencesTo(use, [reading], true).filter(({ uri }) => uri.endsWith('plan.wiring'))).toHaveLength(2);
    const document = (uri: string) => reading.documents.find((one) => one.uri === uri);
    const renaming = renamed(use, 'cellar-tx', [reading], { document, insideOf: () => () => true });
    expect('edits' in renaming && renaming.edits).toHaveLength(5);
  });

  it('is told about as the result has it, or as gone', () => {
    const record = opened(plan);
    const hover = (words: string) => hoverAt(record.reading, record, at(record, words) + 1, () => undefined)?.markdown;
    expect(hover('porch-cam')).toContain('video-doorbell');
    expect(hover('porch-button')).toContain('it is not in the circuit that results');
    expect(pointedAt(record.reading.document, at(record, 'base.wiring'))).toMatchObject({ kind: 'import' });
  });
});

describe('completion in a plan', () => {
  it.each<[string, readonly string[]]>([
    ['replace ', ['supply', 'device', 'run']],
    ['replace device ', ['hall-chime', 'porch-button']],
    ['replace run to-hall : ', ['18/2']],
    ['remove ', ['jumper', 'bell-tx', 'hall-chime', 'joint', 'porch-button', 'to-hall', 'to-porch']],
    ['move ', ['to-hall.red', 'to-porch.white']],
    ['move to-porch.', ['to-porch.red', 'to-porch.white']],
    ['land to-porch.', ['to-porch.green']],
    ['relocate ', ['bell-tx', 'hall-chime', 'joint', 'porch-button']],
    ['relocate bell-tx ', ['to']],
    ['relocate bell-tx to ', ['attic', 'hall']],
    ['lift to-porch.white ', ['from']],
    ['lift to-porch.white from ', ['joint', 'porch-button.b']],
  ])('after `%s`', (statement, labels) => {
    expect(offered(statement)).toEqual(expect.arrayContaining([...labels]));
    expect(offered(statement)).not.toContain('because');
  });

  it('offers whole statements at the start of a line, with the names of the record that is changed', () => {
    expect(offered('')).toEqual(
      expect.arrayContaining(['replace supply', 'replace device', 'replace run', 'move', 'lift', 'device', 'box']),
    );
    const known = { supplyTypes: [], deviceTypes: ['video-doorbell'], places: [], metric: false };
    const { installation } = readRecord(parseWiring('file:///w/base.wiring', base));
    expect(planSnippets(known, installation).map(({ snippet }) => snippet)).toEqual([
      // biome-ignore-start lint/suspicious/noTemplateCurlyInString: places in a snippet have this form
      'replace supply ${1|bell-tx|} { output ${2:16} V AC, ${3:30} VA }',
      'replace device ${1|hall-chime,porch-button|} with ${2:name} : ${3|video-doorbell|}',
      'replace run ${1|to-hall,to-porch|} : ${2:16/2}',
      'relocate ${1|bell-tx,hall-chime,joint,porch-button|} to ${2:place}',
      // biome-ignore-end lint/suspicious/noTemplateCurlyInString: places in a snippet have this form
    ]);
  });

  it('offers terminals of the result to land on', () => {
    expect(offered('move to-hall.red from bell-tx.a to ')).toEqual(
      expect.arrayContaining(['hall-chime.rear', 'joint']),
    );
  });
});

describe('a fix in a plan', () => {
  it('is a statement of the plan, and the record underneath stays as it was found', () => {
    const plan =
      'replace device porch-button with porch-cam : video-doorbell { needs supply 20 VA or more, ring none }\n';
    const record = opened(plan);
    const finding = record.findings.find(({ code }) => code === 'supply-too-small')!;
    expect(finding.uri).toBe('file:///w/plan.wiring');
    const [first] = record.fixesOf(finding);
    expect(first?.edits.map(({ uri }) => uri)).toEqual(['file:///w/plan.wiring']);
    expect(first?.edits[0]?.newText).toContain('replace supply bell-tx { output 16 V AC, 20 VA }');
  });

  it('names amps where the supply is sold by them', () => {
    const { reading } = opened('');
    const change = { kind: 'set-output', part: 'bell-tx', volts: 12, voltAmperes: 18, amps: 1.5 } as const;
    expect(planEditsOf(reading, [change])?.[0]?.newText).toContain('replace supply bell-tx { output 12 V AC, 1.5 A }');
  });

  it('takes a jumper of the record underneath out by its ends', () => {
    const record = opened('jumper slip : hall-chime.trans to hall-chime.front\n');
    const finding = record.findings.find(({ code }) => code === 'supply-shorted')!;
    expect(record.fixesOf(finding)[0]?.edits[0]?.newText).toBe('');
  });
});

it('statements of a plan in a record that changes none are one mistake each', () => {
  const { findings } = readRecord(parseWiring('file:///w/alone.wiring', `${base}remove porch-button\n`));
  expect(findings.map(({ code }) => code)).toEqual(['syntax']);
  expect(findings[0]?.message).toContain('changes');
});

describe('the outline of a plan', () => {
  const plan = `replace supply bell-tx { output 16 V AC, 30 VA }
replace device porch-button with porch-cam : video-doorbell { ring none }
replace run to-hall : 16/2 { red bell-tx.a to hall-chime.trans }
remove joint
remove jumper hall-chime.trans to hall-chime.front
relocate hall-chime to attic
move to-porch.red from porch-button.a to porch-cam.a
lift to-porch.white from porch-button.b
`;

  it('has what is done, under the names of what it is done to', () => {
    const { document } = opened(plan).reading;
    const symbols = documentSymbols(document);
    expect(symbols.map(({ name, detail }) => `${name}: ${detail}`)).toEqual([
      'bell-tx: another supply',
      'porch-cam: in place of porch-button',
      'to-hall: another run',
      'joint: removed',
      'jumper hall-chime.trans to hall-chime.front: removed',
      'hall-chime: to attic',
      'to-porch.red: move from porch-button.a to porch-cam.a',
      'to-porch.white: lift from porch-button.b',
    ]);
    expect(symbols[2]!.children?.map(({ name }) => name)).toEqual(['red']);
    const line = (index: number) => document.text.split('\n')[symbols[index]!.selectionRange.start.line]!;
    expect(line(1).slice(symbols[1]!.selectionRange.start.character)).toMatch(/^porch-cam :/);
  });

  it('is found from the whole workspace by the names that it gives', () => {
    expect(outlineOfText(plan).map(({ name, detail }) => [name, detail])).toEqual([['porch-cam', 'video-doorbell']]);
  });

  it('has what is drawn above a supply that it replaces', () => {
    const record = opened(plan.split('\n')[0]!);
    const [lens] = supplyLenses(record.reading.document);
    expect([lens!.name, lens!.range.start]).toEqual(['bell-tx', { line: 1, character: 15 }]);
    expect(lensWords(record, 'bell-tx')).toMatch(/^[\d.]+ VA of 30 VA, worst while porch-button is held$/);
  });
});
