import { LIBRARY_SCHEME } from '@ohmstead/language/protocol';
import type * as vscode from 'vscode';

/** Whether an editor shows a record; the shipped library is written in the same notation and is none. */
export function isRecord(editor: vscode.TextEditor | undefined): editor is vscode.TextEditor {
  return editor?.document.languageId === 'ohmstead' && editor.document.uri.scheme !== LIBRARY_SCHEME;
}
