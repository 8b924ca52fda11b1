/** What every request is answered with: the open text, its reading and the editor's own spelling of places. */

import {
  type Connection,
  MessageType,
  ShowMessageNotification,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { Reading } from '../read.js';
import type { PlaceInText } from '../services/names.js';
import type { Records } from './records.js';
import type { Settings } from './settings.js';

/** How long figures are waited for while a record's files come from the editor, in ms. */
export const PATIENCE = 1000;

export interface ClientWays {
  readonly snippets: boolean;
  /** Commands that the editor has and that answers may name. */
  readonly commands: ReadonlySet<string>;
  /** The editor's spelling of the URI of an open document. */
  uriFor(uri: string): string;
}

export interface At {
  readonly document: TextDocument;
  readonly reading: Reading;
  readonly offset: number;
}

export interface Asked {
  readonly connection: Connection;
  readonly records: Records;
  readonly settings: Settings;
  readonly ways: ClientWays;
}

interface Positioned {
  readonly textDocument: { readonly uri: string };
  readonly position: { readonly line: number; readonly character: number };
}

/** The open document and place that a request is about; undefined where the document is not open. */
export function placeAsked({ records }: Asked, { textDocument, position }: Positioned): At | undefined {
  const document = records.openDocument(textDocument.uri);
  const reading = document && records.reading(document.uri);
  return document && reading && { document, reading, offset: document.offsetAt(position) };
}

export function located({ ways }: Asked, { uri, range }: PlaceInText): PlaceInText {
  return { uri: ways.uriFor(uri), range };
}

export function workspaceEdit(
  { ways }: Asked,
  edits: readonly (PlaceInText & { readonly newText: string })[],
): WorkspaceEdit {
  const changes: Record<string, TextEdit[]> = {};
  for (const { uri, range, newText } of edits) {
    const key = ways.uriFor(uri);
    changes[key] ??= [];
    changes[key].push({ range, newText });
  }
  return { changes };
}

/** Said and not asked: an editor that can't answer questions must not end the server. */
export function showWarning(connection: Connection, message: string): void {
  void connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Warning, message });
}
