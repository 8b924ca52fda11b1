/** The commands about two records. */

import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { isRecord } from '../records.js';
import { chooseAgainst } from './choose.js';
import { ComparePanels } from './compare-panel.js';
import { writePlanOut } from './write-out.js';

export function registerComparing(
  client: BaseLanguageClient,
  extensionUri: vscode.Uri,
  log: vscode.LogOutputChannel,
): vscode.Disposable {
  const panels = new ComparePanels(client, extensionUri, log);
  return vscode.Disposable.from(
    panels.register(),
    vscode.commands.registerCommand('ohmstead.compareWith', async (chosen?: vscode.Uri) => {
      const uri = chosen ?? activeRecord()?.uri;
      if (!uri) return sayOpenOne('the record that you want to compare');
      const against = await chooseAgainst(client, uri);
      if (against) panels.show({ uri: uri.toString(), against });
    }),
    vscode.commands.registerCommand('ohmstead.writePlanOut', async () => {
      const plan = activeRecord();
      if (!plan) return sayOpenOne('the plan that you want to write out');
      await writePlanOut(client, plan);
    }),
  );
}

function activeRecord(): vscode.TextDocument | undefined {
  const active = vscode.window.activeTextEditor;
  return (isRecord(active) ? active : vscode.window.visibleTextEditors.find(isRecord))?.document;
}

function sayOpenOne(what: string): void {
  void vscode.window.showInformationMessage(`Open ${what} first: a .wiring file.`);
}
