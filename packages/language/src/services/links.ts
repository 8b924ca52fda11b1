/** What a text links to: imported files, pictures, the pages of the checks whose findings it accepts. */

import type { DocumentLink } from 'vscode-languageserver';
import type { AstNode } from 'langium';
import { importedUri } from '../lower/imports.js';
import { stretchOf } from '../lower/sites.js';
import type { WiringDocument } from '../reading/document.js';
import { factsIn } from './statement-at.js';

export interface LinkTargets {
  /** Whether there is such a file. */
  isThere(uri: string): boolean;
  /** Where the page of a check is served; undefined where there is no such check. */
  pageOf(code: string): string | undefined;
}

export function documentLinks(document: WiringDocument, { isThere, pageOf }: LinkTargets): DocumentLink[] {
  const link = (node: AstNode, property: string, target: string | undefined, tooltip: string): DocumentLink[] => {
    const { offset, end } = stretchOf({ document, node, property });
    return target === undefined ? [] : [{ range: document.rangeAt(offset, end), target, tooltip }];
  };
  const file = (path: string | undefined): string | undefined =>
    path === undefined ? undefined : importedUri(document.uri, path);
  return document.file.statements.flatMap((statement) => {
    if (statement.$type === 'Import' || statement.$type === 'Changes') {
      const target = file(statement.path);
      return target !== undefined && isThere(target) ? link(statement, 'path', target, 'Open the file') : [];
    }
    if (statement.$type === 'Accept') {
      return link(statement, 'code', pageOf(statement.code), 'What this finding is about');
    }
    return factsIn(statement).flatMap((fact) =>
      fact.$type === 'Photo' ? link(fact, 'path', file((fact as { path?: string }).path), 'Open the picture') : [],
    );
  });
}
