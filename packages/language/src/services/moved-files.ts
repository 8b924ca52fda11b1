/** What renaming or moving files changes in what records of a workspace name by path. */

import { URI } from 'vscode-uri';
import type { Changes, Import, Photo, Statement } from '../generated/ast.js';
import { importedUri } from '../lower/imports.js';
import { stretchOf } from '../lower/sites.js';
import type { WiringDocument } from '../reading/document.js';
import type { PlaceInText } from './names.js';
import { factsIn } from './statement-at.js';

export interface Moved {
  readonly oldUri: string;
  readonly newUri: string;
}

/** Edits of one file, at its old place, so that its imports and photos reach the same files after the move. */
export function importEdits(
  document: WiringDocument,
  moved: readonly Moved[],
): (PlaceInText & { readonly newText: string })[] {
  return document.file.statements.flatMap(pathsIn).flatMap((node) => {
    const { path } = node;
    const target = path === undefined ? undefined : importedUri(document.uri, path);
    if (target === undefined) return [];
    const [from, to] = [movedUri(document.uri, moved), movedUri(target, moved)];
    if (importedUri(from, path) === to) return [];
    const newPath = relativePath(from, to);
    if (newPath === undefined || newPath.includes('"')) return [];
    const { offset, end } = stretchOf({ document, node, property: 'path' });
    return [{ uri: document.uri, range: document.rangeAt(offset, end), newText: `"${newPath}"` }];
  });
}

/** What of a statement names another file. */
function pathsIn(statement: Statement): readonly (Import | Changes | Photo)[] {
  if (statement.$type === 'Import' || statement.$type === 'Changes') return [statement];
  return factsIn(statement).filter((fact): fact is Photo => fact.$type === 'Photo');
}

/** Where a file is afterwards; a folder takes what is in it along. */
function movedUri(uri: string, moved: readonly Moved[]): string {
  for (const { oldUri, newUri } of moved) {
    if (uri === oldUri) return newUri;
    if (uri.startsWith(`${oldUri}/`)) return newUri + uri.slice(oldUri.length);
  }
  return uri;
}

/** A path as an import has it; undefined between different places of storage. */
function relativePath(from: string, to: string): string | undefined {
  const [own, other] = [URI.parse(from), URI.parse(to)];
  if (own.scheme !== other.scheme || own.authority !== other.authority) return undefined;
  const folders = own.path.split('/').slice(0, -1);
  const parts = other.path.split('/');
  let shared = 0;
  while (shared < folders.length && shared < parts.length - 1 && folders[shared] === parts[shared]) shared++;
  return [...folders.slice(shared).map(() => '..'), ...parts.slice(shared)].join('/');
}
