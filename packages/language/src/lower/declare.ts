/** First pass: which names a record's files declare, before anything refers to them. */

import type { Statement } from '../generated/ast.js';
import type { WiringDocument } from '../reading/document.js';
import type { ReadSlice } from '../reading/parser.js';
import type { LoweringContext } from './context.js';
import type { NameKind, NameSpace } from './names.js';

/** A statement that stands, with the file it is in. */
export interface Standing {
  readonly document: WiringDocument;
  readonly slice: ReadSlice;
  readonly statement: Statement;
}

/** Declares what the files say, in order, and answers with the statements that are to be lowered. */
export function declareNames(
  context: LoweringContext,
  documents: readonly WiringDocument[],
  shipped: boolean,
): Standing[] {
  const standing: Standing[] = [];
  for (const document of documents) {
    const once = new Set<string>();
    for (const slice of document.slices) {
      context.enter(document, slice);
      reportSyntax(context, slice);
      const { statement } = slice;
      if (!statement) continue;
      if (declare(context, statement, shipped) && isFirst(context, statement, once))
        standing.push({ document, slice, statement });
    }
  }
  return standing;
}

function reportSyntax(context: LoweringContext, slice: ReadSlice): void {
  const { problem } = slice;
  if (!problem) return;
  const { facts, offset, end, write } = problem;
  if (mayImport(slice)) context.importsAreMissing = true;
  // Whatever its name was to be, it is not unknown.
  if (declaresParts(slice) && (slice.statement as { name?: string } | undefined)?.name === undefined)
    context.importsAreMissing = true;
  context.reportAt('syntax', facts, offset, end, write === undefined ? {} : { instead: [write] });
}

function declaresParts({ tokens }: ReadSlice): boolean {
  return ['supply', 'device', 'splice'].includes(tokens[0]?.image.toLowerCase() ?? '');
}

function mayImport({ tokens, problem, statement }: ReadSlice): boolean {
  if (statement?.$type === 'Import') return statement.path === undefined;
  const isNear = problem?.facts.what === 'not-a-statement' && problem.facts.nearest.includes('import');
  return isNear || tokens[0]?.image.toLowerCase() === 'import';
}

/** False where the name is taken: the second statement is left out, and its circuits are held back. */
function declare(context: LoweringContext, statement: Statement, shipped: boolean): boolean {
  const [space, kind] = spaceOf(statement) ?? [];
  const property = statement.$type === 'Replace' ? 'newName' : 'name';
  const name = (statement as { name?: string; newName?: string })[property];
  if (!space || !kind || name === undefined) return true;
  const site = context.site(statement, property);
  const known = context.names.declare(space, kind, name, site, shipped);
  if (!known || (known.shipped && !shipped)) return true;
  const message = `\`${name}\` is declared here first.`;
  const related = known.declarations.slice(0, 1).map((first) => ({ site: first, message }));
  context.report('duplicate-name', { name, kind: known.kind }, site, { related });
  return false;
}

function spaceOf(statement: Statement): readonly [NameSpace, NameKind] | undefined {
  switch (statement.$type) {
    case 'Supply':
      return ['part', 'supply'];
    case 'Device':
      return ['part', 'device'];
    case 'Splice':
      return ['part', 'splice'];
    case 'Run':
      return ['part', 'run'];
    case 'Jumper':
      return ['part', 'jumper'];
    case 'Box':
      return ['part', 'box'];
    case 'Replace':
      return statement.newName === undefined ? undefined : ['part', statement.kind];
    case 'Place':
      return ['place', 'place'];
    case 'CableType':
      return ['type', 'cable type'];
    case 'PartType':
      return ['type', statement.of.toLowerCase() === 'supply' ? 'supply type' : 'device type'];
    default:
      return undefined;
  }
}

/** A file has one title and one profile. */
function isFirst(context: LoweringContext, statement: Statement, once: Set<string>): boolean {
  if (statement.$type !== 'Title' && statement.$type !== 'Profile' && statement.$type !== 'Changes') return true;
  const word = statement.$type === 'Title' ? 'wiring' : statement.$type.toLowerCase();
  if (once.has(word)) {
    const facts = { what: 'repeated-fact', fact: word, of: 'this record' } as const;
    context.report('syntax', facts, context.site(statement));
    return false;
  }
  once.add(word);
  return true;
}
