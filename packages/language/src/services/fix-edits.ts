/** Turns the changes of a computed fix into edits of the text. A change that the text has no place for gives none at all. */

import { formatAmps, formatNumber, formatVoltAmperes } from '@ohmstead/circuit';
import { at, type ConductorSize, type FactName, type Installation, pointOf, type RecordChange } from '@ohmstead/record';
import type { Statement } from '../generated/ast.js';
import { type Site, type Stretch, stretchOf } from '../lower/sites.js';
import type { SourceMap } from '../lower/source-map.js';
import type { WiringDocument } from '../reading/document.js';
import type { ReadSlice } from '../reading/parser.js';
import type { PlaceInText } from './names.js';
import { stretchOfSlice } from './statement-at.js';

export interface EditedPlace extends PlaceInText {
  readonly newText: string;
}

export interface FixedRecord {
  readonly installation: Installation;
  readonly sourceMap: SourceMap;
  /** The record's own file, where new statements are put. */
  readonly document: WiringDocument;
}

export function editsOf(record: FixedRecord, changes: readonly RecordChange[]): readonly EditedPlace[] | undefined {
  const edits: EditedPlace[] = [];
  for (const change of changes) {
    const made = editsOfChange(record, change);
    if (!made) return undefined;
    edits.push(...made);
  }
  return edits;
}

function editsOfChange(record: FixedRecord, change: RecordChange): EditedPlace[] | undefined {
  const { sourceMap } = record;
  switch (change.kind) {
    case 'set-output':
      return setOutput(record, change);
    case 'set-cable':
      return setCable(sourceMap.exact(at.cable(change.run)), change.size);
    case 'add-jumper':
      return [
        newStatement(record.document, `jumper ${change.name} : ${pointOf(change.from)} to ${pointOf(change.to)}`),
      ];
    case 'remove-jumper':
      return removeStatement(sourceMap.exact(at.jumper(change.jumper)));
    case 'land':
      return setEnd(sourceMap, change, pointOf(change.on));
    case 'cap':
      return setEnd(sourceMap, change, 'capped');
    case 'set-colour': {
      const site = sourceMap.exact(at.conductor(change.run, change.conductor));
      return site && [replacement(site, change.colour)];
    }
    case 'remove-conductor': {
      const site = sourceMap.exact(at.conductor(change.run, change.conductor));
      return site && [removal(site.document, stretchOf({ document: site.document, node: site.node }))];
    }
    case 'add-conductor': {
      const site = sourceMap.exact(at.run(change.run));
      const line = `${change.colour}  ${pointOf(change.from)}  to  ${pointOf(change.to)}`;
      return site && [newFact(site, line)];
    }
    case 'set-breaker':
      return setFact(sourceMap, change.part, 'breaker', `breaker ${change.amps} A`);
    case 'set-battery':
      return setFact(sourceMap, change.part, 'battery', `battery ${change.ampereHours} Ah`);
    case 'add-ground':
      return [newStatement(record.document, `ground ${pointOf(change.from)} to ${change.box}`)];
    case 'set-lead':
      return setLead(record, change);
    case 'set-place':
      return setPlace(sourceMap, change.splice, change.place);
  }
}

function edit(document: WiringDocument, stretch: Stretch, newText: string): EditedPlace {
  return { uri: document.uri, range: document.rangeAt(stretch.offset, stretch.end), newText };
}

function replacement(site: Site, newText: string): EditedPlace {
  return edit(site.document, stretchOf(site), newText);
}

function textIn({ text }: WiringDocument, { offset, end }: Stretch): string {
  return text.slice(offset, end);
}

function eolOf({ text }: WiringDocument): string {
  return /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
}

type SetOutput = Extract<RecordChange, { kind: 'set-output' }>;

/** `output 16 V AC, 30 VA`; of a supply that is sold by its amps `output 12 V DC, 2 A`. */
export function outputFact(installation: Installation, { part, volts, voltAmperes, amps }: SetOutput): string {
  const supply = installation.supplies.find(({ name }) => name === part);
  const type = supply?.type === undefined ? undefined : installation.partTypes.get(supply.type);
  const system = (supply?.facts.outputs[0] ?? type?.facts.outputs[0])?.system;
  const power = amps === undefined ? formatVoltAmperes(voltAmperes) : formatAmps(amps);
  return `output ${formatNumber(volts, 2)} V${system ? ` ${system}` : ''}, ${power}`;
}

/** What was read off or measured on the old supply no longer holds with another output. */
const OVERTAKEN: readonly FactName[] = ['no-load', 'measured-open', 'measured-loaded'];

function setOutput({ installation, sourceMap }: FixedRecord, change: SetOutput): EditedPlace[] | undefined {
  const part = sourceMap.exact(at.part(change.part));
  if (!part) return undefined;
  const output = outputFact(installation, change);
  const stated = sourceMap.exact(at.fact(change.part, 'output'));
  const first = stated ? replacement(stated, output) : newFact(part, output);
  const overtaken = OVERTAKEN.flatMap((fact) => sourceMap.exact(at.fact(change.part, fact)) ?? []);
  return [first, ...overtaken.map((site) => removal(site.document, stretchOf(site)))];
}

function setFact(sourceMap: SourceMap, part: string, fact: FactName, words: string): EditedPlace[] | undefined {
  const stated = sourceMap.exact(at.fact(part, fact));
  if (stated) return [replacement(stated, words)];
  const site = sourceMap.exact(at.part(part));
  return site && [newFact(site, words)];
}

function setLead(
  { installation, sourceMap }: FixedRecord,
  { part, terminal, on }: Extract<RecordChange, { kind: 'set-lead' }>,
): EditedPlace[] | undefined {
  const words = `lands ${terminal} on ${pointOf(on)}`;
  const stated = [...installation.supplies, ...installation.devices].find(({ name }) => name === part);
  const index = stated?.lands.findIndex((lead) => lead.terminal === terminal) ?? -1;
  const site = sourceMap.exact(index < 0 ? at.part(part) : at.lands(part, index));
  return site && [index < 0 ? newFact(site, words) : replacement(site, words)];
}

/** After `in`, or after the name of a splice that says nothing of where it is. */
function setPlace(sourceMap: SourceMap, splice: string, place: string): EditedPlace[] | undefined {
  const stated = sourceMap.exact(at.fact(splice, 'place'));
  if (stated) return [replacement(stated, place)];
  const site = sourceMap.exact(at.part(splice));
  if (!site) return undefined;
  const { end } = stretchOf(site);
  return [edit(site.document, { offset: end, end }, ` in ${place}`)];
}

/** A fact at the end of a statement's braces, which are made where there are none. */
function newFact({ document, node }: Site, fact: string): EditedPlace {
  const whole = stretchOf({ document, node });
  const written = textIn(document, whole);
  const eol = eolOf(document);
  if (!written.endsWith('}'))
    return edit(document, { offset: whole.end, end: whole.end }, ` {${eol}    ${fact}${eol}}`);
  const inside = written.slice(0, -1).trimEnd();
  const end = whole.offset + inside.length;
  const separator = /[\r\n]/.test(written) ? `${eol}    ` : inside.endsWith('{') ? ' ' : ', ';
  return edit(document, { offset: end, end }, `${separator}${fact}`);
}

/** Only a cable written by its size has a size to write anew; one named by its type is another type. */
function setCable(site: Site | undefined, size: ConductorSize): EditedPlace[] | undefined {
  if (!site) return undefined;
  const written = textIn(site.document, stretchOf(site));
  const changed = withSize(written, size);
  return changed === undefined ? undefined : [replacement(site, changed)];
}

function withSize(written: string, size: ConductorSize): string | undefined {
  if (size.kind === 'awg')
    return /^\d+(?=\s?[-/\u2013]\s?\d)/.test(written) ? written.replace(/^\d+/, String(size.awg)) : undefined;
  if (size.kind === 'diameter') return replaceFirst(written, /[\d.]+(?=\s*mm(?!2|\u00b2))/i, String(size.mm));
  return replaceFirst(written, /[\d.]+(?=\s*mm(?:2|\u00b2))|(?<=^\d+g)[\d.]+/i, String(size.mm2));
}

function replaceFirst(text: string, pattern: RegExp, by: string): string | undefined {
  return pattern.test(text) ? text.replace(pattern, by) : undefined;
}

function setEnd(
  sourceMap: SourceMap,
  { run, conductor, end }: { readonly run: string; readonly conductor: number; readonly end: 'from' | 'to' },
  words: string,
): EditedPlace[] | undefined {
  const written = sourceMap.exact(at.conductorEnd(run, conductor, end));
  if (written) return [replacement(written, words)];
  const site = sourceMap.exact(at.conductor(run, conductor));
  if (!site) return undefined;
  const { document, node } = site;
  const after = stretchOf({ document, node }).end;
  return [edit(document, { offset: after, end: after }, end === 'to' ? `  to  ${words}` : `  ${words}`)];
}

/** A statement after the last one of the file. */
export function newStatement(document: WiringDocument, statement: string): EditedPlace {
  const last = document.slices.findLast((slice) => stretchOfSlice(slice) !== undefined);
  return statementAfter(document, last, statement, last?.statement?.$type === 'Jumper');
}

/** A place under the last one, or under the lines that head a record. */
export function newPlace(document: WiringDocument, name: string): EditedPlace {
  const lastOf = (...types: readonly string[]) =>
    document.slices.findLast(({ statement }) => statement !== undefined && types.includes(statement.$type));
  const place = lastOf('Place');
  return statementAfter(document, place ?? lastOf(...HEADING), `place ${name}`, place !== undefined);
}

const HEADING = ['Title', 'Profile', 'Changes', 'Import'] as const satisfies readonly Statement['$type'][];

function statementAfter(
  document: WiringDocument,
  slice: ReadSlice | undefined,
  statement: string,
  close: boolean,
): EditedPlace {
  const end = (slice && stretchOfSlice(slice)?.end) ?? document.text.length;
  const lineEnd = end + /^[^\r\n]*/.exec(document.text.slice(end))![0].length;
  const eol = eolOf(document);
  return edit(document, { offset: lineEnd, end: lineEnd }, `${close ? eol : eol + eol}${statement}`);
}

function removeStatement(site: Site | undefined): EditedPlace[] | undefined {
  return site && [removal(site.document, stretchOf({ document: site.document, node: site.node }))];
}

/** Takes something out, with its line where nothing else stands in it, else with the comma that set it off. */
function removal(document: WiringDocument, { offset, end }: Stretch): EditedPlace {
  const { text } = document;
  const before = /[^\r\n]*$/.exec(text.slice(0, offset))![0];
  const after = /^[^\r\n]*/.exec(text.slice(end))![0];
  if (before.trim() === '' && /^\s*,?\s*$/.test(after)) {
    const eol = /^(\r\n|\n|\r)?/.exec(text.slice(end + after.length))![0];
    return edit(document, { offset: offset - before.length, end: end + after.length + eol.length }, '');
  }
  const comma = /^\s*,\s*/.exec(after)?.[0];
  if (comma) return edit(document, { offset, end: end + comma.length }, '');
  const commaBefore = /,\s*$/.exec(before)?.[0] ?? '';
  return edit(document, { offset: offset - commaBefore.length, end }, '');
}
