/** A rewire plan written out as the full record that it results in. */

import { FLATTEN_REQUEST, type FlattenAnswer, type PlanParams } from '@ohmstead/language/protocol';
import * as vscode from 'vscode';
import type { LanguageServer } from '../language-server.js';
import { nameOf } from './ask.js';

interface Way extends vscode.QuickPickItem {
  readonly write: () => Promise<vscode.Uri>;
}

/** Asks where to, and opens what was written. Says why not where the plan can't be written out. */
export async function writePlanOut(server: LanguageServer, plan: vscode.TextDocument): Promise<void> {
  const params: PlanParams = { uri: plan.uri.toString() };
  const answer = await server.request<FlattenAnswer>(FLATTEN_REQUEST, params);
  if ('refused' in answer) {
    void vscode.window.showWarningMessage(answer.refused);
    return;
  }
  const { text } = answer;
  const base = vscode.Uri.parse(answer.baseUri);
  const beside = await freeName(base, plan.uri);
  const ways: Way[] = [
    {
      label: 'A new file beside the record',
      description: nameOf(beside.toString()),
      write: () => newFile(beside, text),
    },
    {
      label: 'Over the record that it changes',
      description: nameOf(base.toString()),
      detail: 'Once the work is done. It can be undone, and is not saved before you save it.',
      write: () => inPlaceOf(base, text),
    },
    { label: 'A record without a name', description: 'to be saved later', write: () => unnamed(text) },
  ];
  const way = await vscode.window.showQuickPick(ways, { title: `Write ${nameOf(params.uri)} out as` });
  if (way) await vscode.window.showTextDocument(await way.write());
}

/** `house-plan.wiring` beside the record, whose imports hold there; a number is added where that is taken. */
async function freeName(base: vscode.Uri, plan: vscode.Uri): Promise<vscode.Uri> {
  const stem = (uri: vscode.Uri): string =>
    uri.path
      .split('/')
      .at(-1)!
      .replace(/\.wiring$/, '');
  const name = `${stem(plan)}-written-out`;
  for (let number = 1; ; number++) {
    const uri = vscode.Uri.joinPath(base, '..', `${name}${number === 1 ? '' : `-${number}`}.wiring`);
    const isTaken = await vscode.workspace.fs.stat(uri).then(
      () => true,
      () => false,
    );
    if (!isTaken) return uri;
  }
}

async function newFile(uri: vscode.Uri, text: string): Promise<vscode.Uri> {
  const edit = new vscode.WorkspaceEdit();
  edit.createFile(uri, { contents: new TextEncoder().encode(text) });
  await apply(edit, uri);
  return uri;
}

async function inPlaceOf(uri: vscode.Uri, text: string): Promise<vscode.Uri> {
  const document = await vscode.workspace.openTextDocument(uri);
  const edit = new vscode.WorkspaceEdit();
  const whole = new vscode.Range(0, 0, document.lineCount, 0);
  edit.replace(uri, document.validateRange(whole), text);
  await apply(edit, uri);
  return uri;
}

async function apply(edit: vscode.WorkspaceEdit, uri: vscode.Uri): Promise<void> {
  if (!(await vscode.workspace.applyEdit(edit))) throw new Error(`${nameOf(uri.toString())} could not be written.`);
}

async function unnamed(text: string): Promise<vscode.Uri> {
  return (await vscode.workspace.openTextDocument({ language: 'ohmstead', content: text })).uri;
}
