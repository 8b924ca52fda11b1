/** The commands about two records. */

import * as vscode from 'vscode';
import type { PanelServices } from '../panel/webview.js';
import { isRecord } from '../records.js';
import { chooseAgainst } from './choose.js';
import { ComparePanels } from './compare-panel.js';
import { writePlanOut } from './write-out.js';

export function registerComparing(services: PanelServices): vscode.Disposable {
  const { server } = services;
  const panels = new ComparePanels(services);
  return vscode.Disposable.from(
    panels.register(),
    vscode.commands.registerCommand('ohmstead.compareWith', async (chosen?: vscode.Uri) => {
      const uri = chosen ?? activeRecord()?.uri;
      if (!uri) return sayOpenOne('the record that you want to compare');
      const against = await chooseAgainst(server, uri);
      if (against) panels.show({ uri: uri.toString(), against });
    }),
    vscode.commands.registerCommand('ohmstead.writePlanOut', async () => {
      const plan = activeRecord();
      if (!plan) return sayOpenOne('the plan that you want to write out');
      await writePlanOut(server, plan);
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
