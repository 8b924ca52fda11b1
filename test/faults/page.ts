/** The page of worked judgements: records of things that go wrong, with what a meter should show and what the checks say. */

import type { CheckedRecord } from '../../packages/language/src/index.js';
import { type Analysis, probe, type ResolvedPart } from '../../packages/record/src/index.js';

export interface FaultRecord {
  readonly file: string;
  /** The comment above the record's title. */
  readonly story: string;
  readonly checked: CheckedRecord;
}

export function faultsPage(faults: readonly FaultRecord[]): string {
  return `# What goes wrong in bell circuits

<!-- Made from examples/faults by test/faults/faults.test.ts: npx vitest run --config test/vitest.config.ts test/faults -u -->

${faults.length} faults, each a record in \`examples/faults\`, with the volts that a meter should show between the points named, at nominal mains: with
nothing pressed, and while each push is held. They are computed from the records, not measured: a healthy house is within about a tenth
of them. Below each table stands what the checks say of the record.

Isolate the supply and prove it dead before touching a wire. The mains side of a transformer is for a licensed electrician, to local code.

${faults.map(section).join('\n')}`;
}

function section({ file, story, checked }: FaultRecord, index: number): string {
  const { analysis, findings } = checked;
  const presses = pressesOf(analysis);
  const head = [
    'across',
    'nothing pressed',
    ...presses.map((name) => `\`${name}\` ${analysis.parts.has(name) ? 'held' : 'closed'}`),
  ];
  const rows = pairsOf(analysis).map(([from, to]) => [
    `\`${from}\`, \`${to}\``,
    ...[[], ...presses.map((name) => [name])].map((closed) => reading(analysis, from, to, closed)),
  ]);
  const table = [head, head.map((_, column) => (column === 0 ? '---' : '---:')), ...rows];
  const said = findings.map(
    ({ severity, code, message }) => `- **${severity}** [\`${code}\`](src/checks/${code}.md): ${message}`,
  );
  return `## ${index + 1}. ${analysis.installation.title}

${story} (\`${file}\`)

${table.map((row) => `| ${row.join(' | ')} |`).join('\n')}

${said.join('\n')}
`;
}

/** Contacts that spring back, by name. */
function pressesOf({ momentary, circuits }: Analysis): readonly string[] {
  const present = circuits.flatMap(({ circuit }) => circuit.contacts);
  return [...momentary].filter((contact) => present.includes(contact)).sort();
}

/** The supply first, then chimes, then what is at the doors: the pairs of terminals that a technician would put a meter on. */
function pairsOf(analysis: Analysis): readonly (readonly [string, string])[] {
  const parts = [...analysis.parts.values()];
  const has = (kind: string) => (part: ResolvedPart) => part.elements.some(({ element }) => element.kind === kind);
  const supplies = parts.filter(has('winding'));
  const chimes = parts.filter(has('coil'));
  const doors = parts.filter((part) => !supplies.includes(part) && !chimes.includes(part));
  const pairs = [
    ...supplies.map((part) => landedPair(analysis, part)),
    ...chimes.flatMap((part) => part.elements.map(({ a, b }) => [a, b] as const)),
    ...doors.flatMap((part) => part.elements.slice(0, 1).map(({ a, b }) => [a, b] as const)),
  ];
  return pairs.filter((pair) => pair !== undefined);
}

/** The two screws in use, or the winding's own where fewer are. */
function landedPair(
  analysis: Analysis,
  { name, terminals, elements }: ResolvedPart,
): readonly [string, string] | undefined {
  const used = terminals.map((one) => `${name}.${one.name}`).filter((point) => analysis.landedOn(point).length > 0);
  const [from, to] = used;
  if (from !== undefined && to !== undefined) return [from, to];
  const winding = elements.find(({ element }) => element.kind === 'winding');
  return winding && [winding.a, winding.b];
}

function reading(analysis: Analysis, from: string, to: string, closed: readonly string[]): string {
  const found = probe(analysis, from, to);
  if ('kind' in found) throw new Error(`${from} and ${to} are not points of this record`);
  const rows = found.solved.filter((row) => row.closed.join() === closed.join());
  const words = rows.map(({ volts, floating }) => {
    if (floating) return 'nothing to read';
    return volts === null ? 'no steady figure' : `${volts.toFixed(1)} V`;
  });
  const different = [...new Set(words)];
  return different.length === 0 ? 'as with nothing pressed' : different.join(', at peak ');
}
