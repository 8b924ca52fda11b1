// A record that is edited step by step says at every step what the same text says when it is read for the first time.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type CheckedRecord,
  checkRecord,
  parseWiring,
  type Reading,
  readRecord,
} from '../packages/language/src/index.js';
import { analyseCluster } from '../packages/record/src/analyse/analyse-cluster.js';
import { budgetOf, runChecks } from '../packages/record/src/index.js';

const fixtures = new URL('../packages/record/fixtures', import.meta.url).pathname;
const records = readdirSync(fixtures, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.wiring') && !/^(import|plan)-/.test(file))
  .map((file) => readFileSync(join(fixtures, file), 'utf8').replace(/\/\/!.*$/gm, ''))
  .filter((text) => !/^\s*(import|changes)\b/m.test(text));

/** Several houses in one record: names that both have are told apart by their house. */
function together(texts: readonly string[]): string {
  return texts
    .map((text, house) => {
      const own = [...text.matchAll(/^(?:place|supply|device|splice|run|jumper|box) (?!type\b)([a-z][\w-]*)/gm)];
      const names = new Set(own.map(([, name]) => name!));
      const renamed = text.replace(/[a-z][\w-]*/gi, (word) => (names.has(word) ? `${word}-${house}` : word));
      return house === 0 ? renamed : renamed.replace(/^(wiring|profile)\b.*$/gm, '');
    })
    .join('\n');
}

const edit = fc.oneof(
  fc.record({ how: fc.constantFrom('leave out', 'double', 'swap'), at: fc.nat(), other: fc.nat() }),
  fc.record({ how: fc.constantFrom('type', 'erase'), at: fc.nat(), other: fc.constantFrom(...'0127abmt"{}. \n') }),
);
type Edit = { readonly how: string; readonly at: number; readonly other: number | string };

function edited(text: string, { how, at, other }: Edit): string {
  if (how === 'type') return text.slice(0, at % text.length) + other + text.slice(at % text.length);
  if (how === 'erase') return text.slice(0, at % text.length) + text.slice((at % text.length) + 1);
  const lines = text.split('\n');
  const [here, there] = [at % lines.length, Number(other) % lines.length];
  if (how === 'leave out') lines.splice(here, 1);
  else if (how === 'double') lines.splice(there, 0, lines[here]!);
  else [lines[here], lines[there]] = [lines[there]!, lines[here]!];
  return lines.join('\n');
}

const URI = 'file:///edited.wiring';
let texts = 0;

/** Read and judged as if nothing had been known of it, the record in one piece. */
function afresh(text: string) {
  const reading = readRecord(parseWiring(`file:///afresh-${texts++}.wiring`, text));
  const analysis = analyseCluster(reading.installation);
  const findings = runChecks(analysis);
  return { read: told(reading), findings, budget: budgetOf(analysis, findings) };
}

function useAt(names: Reading['names'], document: Reading['document'], offset: number) {
  const use = names.at(document, offset);
  return use && [use.symbol.kind, use.symbol.name, use.symbol.owner, use.declares, use.offset, use.end];
}

/** Everything that a reading says: its findings, where each path of the record stands, what each name in the text means. */
function told({ findings, sourceMap, names, document }: Reading) {
  // Before the uses of all names have been asked for, one is found by the statement that it is in.
  const here = Array.from({ length: Math.ceil(document.text.length / 29) }, (_, index) => {
    return useAt(names, document, index * 29);
  });
  const paths = [...sourceMap.paths()].sort().map((path) => [path, sourceMap.locate(path)?.range]);
  const uses = names.usesIn(document).map(({ symbol, declares, offset, end }) => {
    const { kind, name, owner, shipped } = symbol;
    return { kind, name, owner, shipped, declares, offset, end };
  });
  expect(here).toEqual(here.map((_, index) => useAt(names, document, index * 29)));
  return { findings: JSON.parse(JSON.stringify(findings).replace(/"file:[^"]*"/g, '""')), paths, uses };
}

test('edits of records of several houses', () => {
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom(...records), { minLength: 1, maxLength: 3 }),
      fc.array(edit, { minLength: 1, maxLength: 5 }),
      (houses, edits) => {
        let text = together(houses);
        let previous: CheckedRecord | undefined;
        for (const one of [undefined, ...edits]) {
          if (one) text = edited(text, one);
          const reading = readRecord(parseWiring(URI, text));
          previous = checkRecord(reading, { previous });
          const fresh = afresh(text);
          expect(told(reading)).toEqual(fresh.read);
          const findings = runChecks(previous.analysis);
          expect(findings).toEqual(fresh.findings);
          expect(budgetOf(previous.analysis, findings)).toEqual(fresh.budget);
        }
      },
    ),
    { numRuns: 25 },
  );
}, 180_000);
