/** Which statement of a read document an offset lies in, and what in it has no name of its own: conductors, cables, codes. */

import type { AstNode } from 'langium';
import type { Conductor, Run, Statement } from '../generated/ast.js';
import { type Stretch, stretchOf } from '../lower/sites.js';
import type { WiringDocument } from '../reading/document.js';
import type { ReadSlice } from '../reading/parser.js';

export function stretchOfSlice({ offset, end }: ReadSlice): Stretch | undefined {
  return end > offset ? { offset, end } : undefined;
}

export function statementAt(document: WiringDocument, offset: number): Statement | undefined {
  for (const slice of document.slices) {
    const stretch = stretchOfSlice(slice);
    if (stretch && stretch.offset <= offset && offset <= stretch.end) return slice.statement;
  }
  return undefined;
}

/** What stands in a statement's braces. */
export function factsIn(statement: Statement): readonly AstNode[] {
  if (statement.$type === 'Readings') return statement.readings;
  const facts: readonly AstNode[] = 'facts' in statement ? statement.facts : [];
  return 'runFacts' in statement ? [...facts, ...statement.runFacts] : facts;
}

/** What an offset points at that the index of names does not know. */
export type Pointed =
  | { readonly kind: 'conductor'; readonly run: string; readonly conductor: Conductor; readonly stretch: Stretch }
  | { readonly kind: 'cable'; readonly run: string; readonly stretch: Stretch }
  | { readonly kind: 'code'; readonly code: string; readonly stretch: Stretch }
  | { readonly kind: 'import'; readonly path: string; readonly stretch: Stretch };

export function pointedAt(document: WiringDocument, offset: number): Pointed | undefined {
  const statement = statementAt(document, offset);
  switch (statement?.$type) {
    case 'Run':
      return inRun(document, statement, offset);
    case 'Accept': {
      const stretch = stretchOf({ document, node: statement, property: 'code' });
      return within(stretch, offset) ? { kind: 'code', code: statement.code, stretch } : undefined;
    }
    case 'Import':
    case 'Changes': {
      const stretch = stretchOf({ document, node: statement, property: 'path' });
      return within(stretch, offset) ? { kind: 'import', path: statement.path, stretch } : undefined;
    }
    default:
      return undefined;
  }
}

function inRun(document: WiringDocument, run: Run, offset: number): Pointed | undefined {
  const cable = stretchOf({ document, node: run, property: 'cable' });
  if (run.cable && within(cable, offset)) return { kind: 'cable', run: run.name, stretch: cable };
  for (const fact of run.facts) {
    if (fact.$type !== 'Conductor') continue;
    const stretch = stretchOf({ document, node: fact, property: 'colour' });
    if (within(stretch, offset)) return { kind: 'conductor', run: run.name, conductor: fact, stretch };
  }
  return undefined;
}

function within(stretch: Stretch, offset: number): boolean {
  return stretch.offset <= offset && offset <= stretch.end;
}
