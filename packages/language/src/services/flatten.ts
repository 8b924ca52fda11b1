/** A rewire plan written out as a full record: the text of the record that it changes, edited; comments and order stay. */

import { type AstNode, AstUtils } from 'langium';
import { type Installation, pointOf, sameInstallation, unchangedNames } from '@ohmstead/record';
import type {
  Conductor,
  Device,
  End,
  Land,
  Landing,
  Lift,
  Move,
  Relocate,
  Remove,
  Replace,
  Run,
  Splice,
  Statement,
  Supply,
} from '../generated/ast.js';
import { sameColour } from '../lower/cables.js';
import { changesOf, type DocumentSource, importedUri } from '../lower/imports.js';
import { isPlanStatement } from '../lower/plan-statements.js';
import { type Stretch, stretchOf } from '../lower/sites.js';
import { type Reading, readRecord } from '../read.js';
import { parseWiring, type WiringDocument } from '../reading/document.js';
import { applyChanges, formatText, type Refusal, type TextChange } from './format.js';
import { runsLedAlong } from './flatten-runs.js';
import { readingsAfter } from './flatten-readings.js';
import { stretchOfSlice } from './statement-at.js';

/** Refused where the plan has errors, changes what an imported file declares, or could not be written out to the letter. */
export function flattenPlan(plan: WiringDocument, source: DocumentSource): string | Refusal {
  const line = changesOf(plan);
  const uri = line && importedUri(plan.uri, line.node.path);
  if (uri === undefined) return { refused: 'This record names no other that it changes: it is a full one.' };
  const reading = readRecord(plan, source);
  const [error] = reading.findings.filter(({ severity }) => severity === 'error');
  if (error) return { refused: `The plan has errors; the first is: ${error.message}` };
  const base = source.document(uri);
  if (!base) return { refused: `The record that it changes, \`${line!.node.path}\`, cannot be read.` };
  const text = changesOf(base) ? flattenPlan(base, source) : base.text;
  if (typeof text !== 'string') return text;
  const edited = new Flattening(parseWiring(uri, text), plan, reading).text();
  if (typeof edited !== 'string') return edited;
  const formatted = formatText(edited);
  if (typeof formatted !== 'string') return formatted;
  const written = readRecord(parseWiring(uri, formatted), source);
  // Read again, it has to be the circuit that the plan results in.
  const isSame = !written.hasErrors && sameInstallation(reading.installation, written.installation);
  return isSame ? formatted : { refused: 'The plan could not be written out to the letter, so nothing was written.' };
}

interface Declared {
  readonly statement: Statement;
  readonly stretch: Stretch;
}

class Flattening {
  readonly #base: WiringDocument;
  readonly #plan: WiringDocument;
  /** What the two say, read. */
  readonly #before: Installation;
  readonly #after: Installation;
  readonly #declared = new Map<string, Declared>();
  readonly #changes: TextChange[] = [];
  /** Stretches that are rewritten or gone as a whole. */
  readonly #whole: Stretch[] = [];
  /** Comments of the plan that went along with the statement below them. */
  readonly #taken = new Set<number>();
  /** Parts under another name: the plan's own lines may land on the old one still. */
  readonly #newNames = new Map<string, string>();
  readonly #renamedEnds: TextChange[];
  #refused: string | undefined;

  constructor(base: WiringDocument, plan: WiringDocument, { plan: over, installation }: Reading) {
    this.#base = base;
    this.#plan = plan;
    this.#before = over!.base.installation;
    this.#after = installation;
    for (const one of plan.file.statements) {
      if (isPart(one) && one.newName !== undefined) this.#newNames.set(one.name, one.newName);
    }
    this.#renamedEnds = [...this.#newNames].flatMap(([was, is]) =>
      [...endsOn(plan, was)].map((end) => {
        const { offset, end: to } = stretchOf({ document: plan, node: end, property: 'part' });
        return { start: offset, end: to, newText: is };
      }),
    );
    for (const slice of base.slices) {
      const { name } = (slice.statement ?? {}) as { name?: string };
      const stretch = stretchOfSlice(slice);
      const isNamed = slice.statement && !/Place|Type|Profile/.test(slice.statement.$type);
      if (name !== undefined && isNamed && stretch) this.#declared.set(name, { statement: slice.statement!, stretch });
    }
  }

  text(): string | Refusal {
    const statements = this.#plan.file.statements;
    // What is rewritten as a whole comes first: edits inside of it are its own.
    for (const one of statements) if (one.$type === 'Remove') this.#remove(one);
    for (const one of statements) if (isPart(one)) this.#replacePart(one);
    for (const one of statements) if (one.$type === 'Replace' && !isPart(one)) this.#replaceRun(one);
    for (const one of statements) {
      if (one.$type === 'Move' || one.$type === 'Lift' || one.$type === 'Land') this.#changeConductor(one);
      else if (one.$type === 'Title') this.#retitle(this.#planText(one));
    }
    for (const one of statements) if (one.$type === 'Relocate') this.#relocate(one);
    if (statements.some(({ $type }) => $type === 'Relocate')) this.#leadAlong();
    this.#keepOldReadings();
    this.#renameEnds();
    if (this.#refused !== undefined) return { refused: this.#refused };
    const changes = inOrder(this.#changes);
    const eol = /\r\n|\n|\r/.exec(this.#base.text)?.[0] ?? '\n';
    const added = this.#ownText();
    const edited = applyChanges(this.#base.text, changes).trimEnd();
    return `${edited}${eol}${added === '' ? '' : `${eol}${added}${eol}`}`;
  }

  /** None of what was read before the work is lost, and none of it is held against wiring that is another now. */
  #keepOldReadings(): void {
    const unchanged = unchangedNames(this.#before, this.#after);
    for (const { stretch, text } of readingsAfter(this.#base, (name) => unchanged.has(name))) this.#put(stretch, text);
  }

  /** The words of the plan, with parts under their new names. */
  #planText(node: AstNode): string {
    const { offset, end } = stretchOf({ document: this.#plan, node });
    const within = this.#renamedEnds.filter((change) => offset <= change.start && change.end <= end);
    const moved = within.map((change) => ({ ...change, start: change.start - offset, end: change.end - offset }));
    return applyChanges(this.#plan.text.slice(offset, end), inOrder(moved));
  }

  #pointNow({ part, terminal }: End): string {
    return pointOf({ part: this.#newNames.get(part) ?? part, ...(terminal === undefined ? {} : { terminal }) });
  }

  #put({ offset, end }: Stretch, newText: string): void {
    if (this.#whole.some((whole) => whole.offset <= offset && end <= whole.end)) return;
    if (this.#changes.some((change) => change.start === offset && change.end === end)) return;
    this.#changes.push({ start: offset, end, newText });
  }

  #putWhole(stretch: Stretch, newText: string): void {
    this.#put(stretch, newText);
    this.#whole.push(stretch);
  }

  #find(name: string): Declared | undefined {
    const found = this.#declared.get(name);
    this.#refused ??= found ? undefined : `\`${name}\` is declared in a file that is imported: change it there.`;
    return found;
  }

  /** With its line, where nothing else stands in it. */
  #takeOut({ offset, end }: Stretch): void {
    const { text } = this.#base;
    const before = /[^\r\n]*$/.exec(text.slice(0, offset))![0];
    const after = /^[^\r\n]*/.exec(text.slice(end))![0];
    const isAlone = before.trim() === '' && after.trim() === '';
    const eol = /^(\r\n|\n|\r)?/.exec(text.slice(end + after.length))![0];
    this.#putWhole(
      isAlone ? { offset: offset - before.length, end: end + after.length + eol.length } : { offset, end },
      '',
    );
  }

  #remove(node: Remove): void {
    if (!node.jumper) {
      const found = this.#find(node.name!);
      if (found) this.#takeOut(found.stretch);
      this.#dropAccepts(node.name!);
      this.#dropGrounds(node.name!);
      return;
    }
    const wanted = [node.from!, node.to!].map(pointOf).sort().join(' ');
    const slice = this.#base.slices.find(
      ({ statement }) =>
        statement?.$type === 'Jumper' && [statement.from, statement.to].map(pointOf).sort().join(' ') === wanted,
    );
    if (slice) this.#takeOut(slice);
    else
      this.#refused ??= `The jumper from \`${pointOf(node.from!)}\` to \`${pointOf(node.to!)}\` is declared in a file that is imported.`;
  }

  /** What is bonded to a box is so no longer once the box is gone. */
  #dropGrounds(box: string): void {
    for (const slice of this.#base.slices) {
      if (slice.statement?.$type === 'Ground' && slice.statement.box === box) this.#takeOut(slice);
    }
  }

  #dropAccepts(name: string): void {
    for (const slice of this.#base.slices) {
      if (slice.statement?.$type === 'Accept' && slice.statement.on === name) this.#takeOut(slice);
    }
  }

  #replacePart(node: Replace): void {
    const found = this.#find(node.name);
    if (!found) return;
    const old = found.statement as Supply | Device;
    const name = node.newName ?? node.name;
    const restated = new Set(node.facts.flatMap((fact) => (fact.$type === 'Lands' ? [fact.terminal] : [])));
    const kept = old.facts.flatMap((fact) =>
      fact.$type === 'Lands' && !restated.has(fact.terminal)
        ? [`lands ${fact.terminal} on ${this.#pointNow(fact.on)}`]
        : [],
    );
    const written = this.#planText(node);
    const brace = written.indexOf('{');
    const inside = brace < 0 ? '' : written.slice(brace + 1, written.lastIndexOf('}'));
    const block = kept.length === 0 ? (brace < 0 ? '' : ` {${inside}}`) : ` {\n${kept.join('\n')}\n${inside.trim()}\n}`;
    const standsIn = this.#relocated(node.name) ?? old.place;
    const place = standsIn === undefined ? '' : ` in ${standsIn}`;
    const comment = this.#commentAbove(stretchOf({ document: this.#plan, node }).offset);
    this.#putWhole(
      found.stretch,
      `${comment}${node.kind.toLowerCase()} ${name} : ${node.type ?? old.type}${place}${block}`,
    );
    if (name !== node.name) this.#dropAccepts(node.name);
  }

  /** Ends that come along with a part to its new name. */
  #renameEnds(): void {
    for (const [was, is] of this.#newNames) {
      for (const end of endsOn(this.#base, was)) {
        if (!this.#isMoved(end)) this.#put(stretchOf({ document: this.#base, node: end, property: 'part' }), is);
      }
    }
  }

  /** The comment lines right above a statement of the plan. */
  #commentAbove(offset: number): string {
    const lines = /(?:^[ \t]*\/\/[^\r\n]*(?:\r\n|\n|\r))+$/m.exec(this.#plan.text.slice(0, offset));
    const above = lines && lines.index > 0 && lines.index + lines[0].length === offset ? lines[0] : '';
    if (above !== '') this.#taken.add(offset);
    return above;
  }

  /** What the plan says of a statement that it changes goes above that. */
  #explain(node: AstNode, { offset }: Stretch): void {
    if (this.#whole.some((whole) => whole.offset <= offset && offset < whole.end)) return;
    const above = this.#commentAbove(stretchOf({ document: this.#plan, node }).offset);
    if (above !== '') this.#changes.push({ start: offset, end: offset, newText: above });
  }

  /** Whether the plan lands an end elsewhere by itself. */
  #isMoved(end: End): boolean {
    const conductor = AstUtils.getContainerOfType(end, (node): node is Conductor => node.$type === 'Conductor');
    const run = AstUtils.getContainerOfType(end, (node): node is Run => node.$type === 'Run');
    return this.#plan.file.statements.some(
      (one) =>
        (one.$type === 'Move' || one.$type === 'Lift') &&
        one.run === run?.name &&
        sameColour(one.colour, conductor?.colour ?? '') &&
        pointOf(one.from) === pointOf(end),
    );
  }

  #relocated(name: string): string | undefined {
    const found = this.#plan.file.statements.find((one) => one.$type === 'Relocate' && one.name === name);
    return (found as Relocate | undefined)?.place;
  }

  #relocate(one: Relocate): void {
    const { name, place } = one;
    const found = this.#find(name);
    if (!found) return;
    this.#explain(one, found.stretch);
    const node = found.statement as Supply | Device | Splice;
    const at = (property: string): Stretch => stretchOf({ document: this.#base, node, property });
    if (node.place !== undefined) this.#put(at('place'), place);
    else {
      const { end } = at(node.$type === 'Splice' ? 'name' : 'type');
      this.#put({ offset: end, end }, ` in ${place}`);
    }
  }

  #leadAlong(): void {
    const edits = runsLedAlong(this.#base, this.#plan, this.#before, this.#after);
    for (const { name, stretch, text } of edits) if (this.#find(name)) this.#put(stretch, text);
  }

  #replaceRun(node: Replace): void {
    const found = this.#find(node.name);
    if (!found) return;
    this.#explain(node, found.stretch);
    const run = found.statement as Run;
    const at = (one: { readonly node: Run['facts'][number] | Run['extents'][number] }): Stretch =>
      stretchOf({ document: this.#base, node: one.node });
    if (node.newName !== undefined) {
      this.#put(stretchOf({ document: this.#base, node: run, property: 'name' }), node.newName);
      this.#dropAccepts(node.name);
    }
    const cable = stretchOf({ document: this.#base, node: run, property: 'cable' });
    const length = node.length && this.#planText(node.length);
    if (node.cable) this.#put(cable, this.#planText(node.cable));
    const old = run.extents.find((extent) => extent.$type === 'RunLength');
    const loops = run.facts.filter((fact) => fact.$type === 'Loop' || fact.$type === 'Note');
    if (old && length !== undefined) this.#put(at({ node: old }), length);
    else if (length !== undefined) this.#put({ offset: cable.end, end: cable.end }, `, ${length}`);
    else if (old?.loop) this.#refused ??= `\`${node.name}\` was measured as a loop: state the length of the new cable.`;
    for (const fact of loops) this.#takeOut(at({ node: fact }));
    for (const fact of node.runFacts) {
      const words = this.#planText(fact);
      const known = fact.$type === 'Conductor' ? conductorOf(run, fact.colour) : undefined;
      if (known) this.#putWhole(at({ node: known }), words);
      else this.#addFact(found.stretch, words);
    }
  }

  #changeConductor(node: Move | Lift | Land): void {
    const found = this.#find(node.run);
    if (!found) return;
    this.#explain(node, found.stretch);
    const run = found.statement as Run;
    const on = (landing: Landing | undefined): boolean =>
      landing?.end !== undefined && pointOf(landing.end) === pointOf(node.from);
    const conductor = run.facts.find(
      (fact): fact is Conductor =>
        fact.$type === 'Conductor' &&
        sameColour(fact.colour, node.colour) &&
        (node.$type === 'Land' || on(fact.from) || on(fact.to)),
    );
    if (node.$type === 'Land') {
      const words = `${node.colour} ${this.#pointNow(node.from)} to ${this.#pointNow(node.to)}`;
      if (conductor) this.#putWhole(stretchOf({ document: this.#base, node: conductor }), words);
      else this.#addFact(found.stretch, words);
      return;
    }
    const landing = on(conductor?.from) ? conductor?.from : conductor?.to;
    if (!landing) return;
    this.#put(
      stretchOf({ document: this.#base, node: landing }),
      node.$type === 'Lift' ? 'capped' : this.#pointNow(node.to),
    );
  }

  /** Before the closing brace of a statement, which gets braces where it has none. */
  #addFact({ offset, end }: Stretch, words: string): void {
    const written = this.#base.text.slice(offset, end);
    if (!written.endsWith('}')) this.#changes.push({ start: end, end, newText: ` {\n    ${words}\n}` });
    else {
      const at = offset + written.slice(0, -1).trimEnd().length;
      this.#changes.push({ start: at, end: at, newText: `\n    ${words}` });
    }
  }

  #retitle(words: string): void {
    const title = this.#base.file.statements.find((statement) => statement.$type === 'Title');
    if (title) this.#put(stretchOf({ document: this.#base, node: title }), words);
    else this.#changes.push({ start: 0, end: 0, newText: `${words}\n` });
  }

  /** The plan's comments and ordinary statements, as they stand. */
  #ownText(): string {
    const changes: TextChange[] = [];
    for (const slice of this.#plan.slices) {
      const { statement } = slice;
      const isPlan =
        statement && (isPlanStatement(statement) || statement.$type === 'Changes' || statement.$type === 'Title');
      if (!isPlan) continue;
      const rest = /^[ \t]*(\r\n|\n|\r)?/.exec(this.#plan.text.slice(slice.end))![0];
      const above = this.#taken.has(slice.offset) ? this.#commentAbove(slice.offset).length : 0;
      changes.push({ start: slice.offset - above, end: slice.end + rest.length, newText: '' });
    }
    const kept = this.#renamedEnds.filter(
      ({ start }) => !changes.some((gone) => gone.start <= start && start < gone.end),
    );
    return applyChanges(this.#plan.text.replace(/^\uFEFF/, ' '), inOrder([...changes, ...kept])).trim();
  }
}

function conductorOf({ facts }: Run, colour: string): Conductor | undefined {
  return facts.find((fact): fact is Conductor => fact.$type === 'Conductor' && sameColour(fact.colour, colour));
}

function isPart(statement: Statement): statement is Replace {
  return statement.$type === 'Replace' && statement.kind.toLowerCase() !== 'run';
}

function* endsOn({ file }: WiringDocument, part: string): Generator<End> {
  for (const statement of file.statements) {
    for (const node of AstUtils.streamAllContents(statement)) {
      if (node.$type === 'End' && (node as End).part === part) yield node as End;
    }
  }
}

function inOrder(changes: readonly TextChange[]): readonly TextChange[] {
  return [...changes].sort((one, other) => one.start - other.start || one.end - other.end);
}
