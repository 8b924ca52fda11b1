/** The command of the fault finder. */

import * as vscode from 'vscode';
import type { PanelServices } from '../panel/webview.js';
import { isRecord } from '../records.js';
import { ExplainPanels } from './explain-panel.js';

export function registerFaultFinder(services: PanelServices): vscode.Disposable {
  const panels = new ExplainPanels(services);
  return vscode.Disposable.from(
    panels.register(),
    // A code lens gives the record's address; the palette gives none.
    vscode.commands.registerCommand('ohmstead.findFault', (given?: unknown) => {
      const active = vscode.window.activeTextEditor;
      const editor = isRecord(active) ? active : vscode.window.visibleTextEditors.find(isRecord);
      const uri = typeof given === 'string' ? vscode.Uri.parse(given) : editor?.document.uri;
      if (uri) panels.show(uri);
      else void vscode.window.showInformationMessage('Open a .wiring record first: the fault finder opens beside it.');
    }),
  );
}
